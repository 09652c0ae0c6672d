package script

import (
	"fmt"
	"strconv"
	"strings"

	"labsite/recipes/formula"
)

// helperNames are what a page's script takes from the runtime: f holds a number to being
// finite, e l m compare, r u d round to a step, g c round to whole numbers, o is a dilution, x i j search
// data, q refuses.
var helperNames = []string{"f", "e", "l", "m", "r", "u", "d", "g", "c", "o", "x", "i", "j", "q"}

func (e *emitter) help(name string) string {
	e.helpers[name] = true
	return name
}

// root is a whole formula. A braced object is no body of an arrow function, and no
// expression here begins with a brace.
func (e *emitter) root(n *formula.Node) string { return e.value(n) }

// value is an expression that gives the node's value or throws its fault, just where
// formula.Node.Eval would meet it.
func (e *emitter) value(n *formula.Node) string {
	switch n.Op {
	case formula.Num:
		if n.Value < 0 {
			return "(" + number(n.Value) + ")"
		}
		return number(n.Value)
	case formula.Var:
		return e.slot(n)
	case formula.Let:
		e.reach.Bind(n, e.base)
		return "(" + e.slot(n) + "=+" + e.value(n.Args[0]) + "," + e.value(n.Args[1]) + ")"
	case formula.If:
		return "(" + e.condition(n.Args[0]) + "?" + e.value(n.Args[1]) + ":" + e.value(n.Args[2]) + ")"
	case formula.And:
		return "(" + e.condition(n.Args[0]) + "&&" + e.value(n.Args[1]) + ")"
	case formula.Or:
		return "(" + e.condition(n.Args[0]) + "||" + e.value(n.Args[1]) + ")"
	case formula.Guard:
		return "(" + e.condition(n.Args[0]) + "||" + e.help("q") + "(" + quoted(n.Reason) + ")," + e.value(n.Args[1]) + ")"
	case formula.Not:
		return "!" + e.condition(n.Args[0])
	case formula.Eq:
		return e.call("e", n.Args[0], n.Args[1])
	case formula.Ne:
		return "!" + e.call("e", n.Args[0], n.Args[1])
	case formula.Lt:
		return e.call("l", n.Args[0], n.Args[1])
	case formula.Le:
		return e.call("m", n.Args[0], n.Args[1])
	case formula.Gt:
		return e.turned("l", n)
	case formula.Ge:
		return e.turned("m", n)
	case formula.Clamp:
		return "Math.min(Math.max(" + e.value(n.Args[0]) + "," + e.value(n.Args[1]) + ")," + e.value(n.Args[2]) + ")"
	case formula.Lookup:
		return e.help("x") + "(" + e.search(n) + ")"
	case formula.Interpolate:
		return e.help("i") + "(" + e.search(n) + ")"
	case formula.InterpolateLog:
		return e.help("j") + "(" + e.search(n) + ")"
	}
	return e.help("f") + "(" + e.plain(n) + ")"
}

// plain is an arithmetic node without the test whether its own result is finite.
func (e *emitter) plain(n *formula.Node) string {
	// where nothing else can go wrong, what is not finite stays so up to the test above
	part := e.value
	if pure(n) {
		part = e.open
	}
	list := func() string {
		var parts []string
		for _, a := range n.Args {
			parts = append(parts, e.value(a))
		}
		return strings.Join(parts, ",")
	}
	switch n.Op {
	case formula.Neg:
		return "(-" + part(n.Args[0]) + ")"
	case formula.Add:
		return "(" + part(n.Args[0]) + "+" + part(n.Args[1]) + ")"
	case formula.Sub:
		return "(" + part(n.Args[0]) + "-" + part(n.Args[1]) + ")"
	case formula.Mul:
		return "(" + part(n.Args[0]) + "*" + part(n.Args[1]) + ")"
	case formula.Div:
		return "(" + part(n.Args[0]) + "/" + e.value(n.Args[1]) + ")"
	case formula.Kelvin:
		return "(" + part(n.Args[0]) + "+" + number(formula.ZeroCelsius) + ")"
	case formula.Pow:
		return "Math.pow(" + list() + ")"
	case formula.Abs:
		return "Math.abs(" + part(n.Args[0]) + ")"
	case formula.Min:
		return "Math.min(" + list() + ")"
	case formula.Max:
		return "Math.max(" + list() + ")"
	case formula.Mean:
		return "((" + e.sum(n.Args) + ")/" + strconv.Itoa(len(n.Args)) + ")"
	case formula.Sqrt:
		return "Math.sqrt(" + part(n.Args[0]) + ")"
	case formula.Exp:
		return "Math.exp(" + list() + ")"
	case formula.Exp2, formula.RatioOf:
		return "Math.pow(2," + list() + ")"
	case formula.Log:
		return "Math.log(" + part(n.Args[0]) + ")"
	case formula.Log2, formula.StopsOf:
		return "Math.log2(" + part(n.Args[0]) + ")"
	case formula.Log10:
		return "Math.log10(" + part(n.Args[0]) + ")"
	case formula.Floor:
		return e.help("g") + "(" + list() + ")"
	case formula.Ceil:
		return e.help("c") + "(" + list() + ")"
	case formula.Round:
		return e.rounded("r", n, list())
	case formula.RoundUp:
		return e.rounded("u", n, list())
	case formula.RoundDown:
		return e.rounded("d", n, list())
	case formula.DilutionOf:
		return e.help("o") + "(" + list() + ")"
	}
	e.fail("no such operation as %d", n.Op)
	return ""
}

func (e *emitter) sum(args []*formula.Node) string {
	var parts []string
	for _, a := range args {
		parts = append(parts, e.value(a))
	}
	return strings.Join(parts, "+")
}

// open is a part of a plain expression: arithmetic goes on untested.
func (e *emitter) open(n *formula.Node) string {
	switch n.Op {
	case formula.Neg, formula.Add, formula.Sub, formula.Mul, formula.Div, formula.Kelvin, formula.Abs:
		return e.plain(n)
	}
	return e.value(n)
}

// pure tells whether a tree can fail only by a result that is not finite.
func pure(n *formula.Node) bool {
	ok := true
	n.Walk(func(n *formula.Node) bool {
		switch n.Op {
		case formula.Lookup, formula.Interpolate, formula.InterpolateLog, formula.Guard:
			ok = false
		}
		return ok
	})
	return ok
}

// condition is an expression that is true where the node is not 0. A name without a
// value counts as true there, as it does in Go.
func (e *emitter) condition(n *formula.Node) string {
	switch n.Op {
	case formula.Var:
		return "(" + e.slot(n) + "!=0)"
	case formula.And:
		return "(" + e.condition(n.Args[0]) + "&&" + e.condition(n.Args[1]) + ")"
	case formula.Or:
		return "(" + e.condition(n.Args[0]) + "||" + e.condition(n.Args[1]) + ")"
	case formula.If:
		return "(" + e.condition(n.Args[0]) + "?" + e.condition(n.Args[1]) + ":" + e.condition(n.Args[2]) + ")"
	case formula.Let:
		e.reach.Bind(n, e.base)
		return "(" + e.slot(n) + "=+" + e.value(n.Args[0]) + "," + e.condition(n.Args[1]) + ")"
	case formula.Guard:
		return "(" + e.condition(n.Args[0]) + "||" + e.help("q") + "(" + quoted(n.Reason) + ")," + e.condition(n.Args[1]) + ")"
	case formula.Lookup:
		return "(" + e.value(n) + "!=0)"
	}
	return e.value(n)
}

func (e *emitter) slot(n *formula.Node) string {
	return fmt.Sprintf("s[%d]", e.base+n.Slot)
}

func (e *emitter) call(helper string, a, b *formula.Node) string {
	return e.help(helper) + "(" + e.value(a) + "," + e.value(b) + ")"
}

// turned compares the other way round; the left side is still worked out first.
func (e *emitter) turned(helper string, n *formula.Node) string {
	return e.help(helper) + "(" + e.value(n.Args[0]) + "," + e.value(n.Args[1]) + ",1)"
}

func (e *emitter) rounded(helper string, n *formula.Node, list string) string {
	if n.Value != 0 {
		list += "," + number(n.Value)
	}
	return e.help(helper) + "(" + list + ")"
}
