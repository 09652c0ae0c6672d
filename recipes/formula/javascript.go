package formula

import (
	"slices"
	"strconv"
	"strings"
)

// Writer writes the parts of a tree as JavaScript expressions; package script has it. An
// expression gives a node's value, or throws its fault, exactly where Eval would meet it.
type Writer interface {
	// Value is a node whose result is tested; yes and no may be 1 and 0 or true and
	// false.
	Value(n *Node) string
	// Untested is operand i of a node, not tested for being finite where the node can
	// fail in no other way: the node's own test finds it.
	Untested(n *Node, i int) string
	// Condition is true if the node is not 0.
	Condition(n *Node) string
	// Slot is the place of a name's value, and Bind tells what a let puts there.
	Slot(n *Node) string
	Bind(n *Node)
	// Read is a name's value, which may be missing.
	Read(n *Node) string
	// Search is the arguments of a helper that searches data: the search, then the keys.
	Search(n *Node) string
	// Help is the helper's name in this script.
	Help(h *Helper) string
	// List is a list of numbers, written once for the whole script.
	List(values []float64) string
	// Number and Quoted are literals.
	Number(v float64) string
	Quoted(text string) string
}

// Helper is a function that scripts call for an operation.
type Helper struct {
	// Name is short, since each page's script names it.
	Name string
	// Text is an expression that gives the function. It may use what the runtime defines
	// before it: see recipes/script/runtime.
	Text string
}

// Helpers lists the helpers of all operations, each once.
func Helpers() []*Helper {
	var out []*Helper
	seen := map[*Helper]bool{}
	for _, o := range slices.Concat(operations, []*Operation{incline, inclineLog}) {
		for _, h := range []*Helper{o.live, o.helper} {
			if h != nil && !seen[h] {
				seen[h] = true
				out = append(out, h)
			}
		}
	}
	return out
}

// Script writes a node as JavaScript. result writes the operand that becomes the result,
// as a value or as a condition, whichever is asked for.
type Script func(w Writer, n *Node, result func(*Node) string) string

// Asked says how a node's expression is tested as a condition.
type Asked uint8

const (
	// AsItIs counts as true if it is neither 0 nor false.
	AsItIs Asked = iota
	// AgainstZero is compared with 0, so that a name without a value counts as true, as
	// it does in Eval.
	AgainstZero
	// Through asks the operand that becomes the result instead.
	Through
)

// Script writes a node without testing whether its result is finite.
func (n *Node) Script(w Writer) string { return n.Op.script(w, n, w.Value) }

// ScriptCondition writes a node as a condition.
func (n *Node) ScriptCondition(w Writer) string {
	switch n.Op.asked {
	case Through:
		return n.Op.script(w, n, w.Condition)
	case AgainstZero:
		return "(" + w.Value(n) + "!=0)"
	}
	return w.Value(n)
}

// text is a Script from a pattern. The parts in braces depend on the node: {1} is the first
// operand's value, {1 untested} the same as Untested has it, {1 asked} a condition, {1 result} the
// operand that becomes the result; {all} are all values with commas between, {search} is a search
// with its keys, {help} the operation's helper.
func text(pattern string) Script {
	type part struct {
		plain, how string
		operand    int
	}
	var parts []part
	for pattern != "" {
		plain, rest, found := strings.Cut(pattern, "{")
		parts = append(parts, part{plain: plain})
		if !found {
			break
		}
		inner, after, _ := strings.Cut(rest, "}")
		number, how, _ := strings.Cut(inner, " ")
		p := part{how: how}
		if i, err := strconv.Atoi(number); err == nil {
			p.operand = i - 1
			if how == "" {
				p.how = "value"
			}
		} else {
			p.how = number
		}
		parts, pattern = append(parts, p), after
	}
	return func(w Writer, n *Node, result func(*Node) string) string {
		var b strings.Builder
		for _, p := range parts {
			switch p.how {
			case "":
				b.WriteString(p.plain)
			case "value":
				b.WriteString(w.Value(n.Args[p.operand]))
			case "untested":
				b.WriteString(w.Untested(n, p.operand))
			case "asked":
				b.WriteString(w.Condition(n.Args[p.operand]))
			case "result":
				b.WriteString(result(n.Args[p.operand]))
			case "all":
				b.WriteString(values(w, n, ","))
			case "search":
				b.WriteString(w.Search(n))
			case "help":
				b.WriteString(w.Help(n.Op.helper))
			}
		}
		return b.String()
	}
}

// values are the operands' values with something between.
func values(w Writer, n *Node, between string) string {
	parts := make([]string, len(n.Args))
	for i, a := range n.Args {
		parts[i] = w.Value(a)
	}
	return strings.Join(parts, between)
}
