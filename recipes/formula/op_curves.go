package formula

import (
	"math"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Roots, powers of e, 2 and 10, and logarithms.
var curves = []*Operation{
	{
		Name: "sqrt", Form: "sqrt(x)", Gives: "the square root, of a number or of a kind that has one",
		Example: Example{"sqrt(9 m2)", "3 m"},
		Tested:  true,
		Pole: &Pole{Operands: []int{0}, Below: true, Spared: func(s Spans, n *Node) bool {
			return s.Of(n.Args[0]).Low >= 0
		}},
		operands: quantities(1, 1), kinds: root,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Sqrt(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(0, math.Sqrt) }),
		slopes: curved(func(n, x *Node) *Node { return made("/", literal(0.5), n) }),
		script: text("Math.sqrt({1 untested})"),
	},
	{
		Name: "exp", Form: "exp(x)", Gives: "e to the power x",
		Example:  Example{"exp(0)", "1"},
		Tested:   true,
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Exp(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(math.Inf(-1), math.Exp) }),
		slopes: curved(func(n, x *Node) *Node { return n }),
		script: text("Math.exp({1})"),
	},
	{
		Name: "exp2", Form: "exp2(x)", Gives: "2 to the power x",
		Example:  Example{"exp2(10)", "1024"},
		Tested:   true,
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Exp2(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(math.Inf(-1), math.Exp2) }),
		slopes: curved(func(n, x *Node) *Node { return made("*", literal(math.Ln2), n) }),
		script: text("Math.pow(2,{1})"),
	},
	{
		Name: "log", Form: "log(x)", Gives: "the natural logarithm",
		Example:  Example{"log(exp(2))", "2"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{0}, Below: true},
		Undoes:   "exp",
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Log(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(0, math.Log) }),
		slopes: curved(func(n, x *Node) *Node { return made("/", literal(1), x) }),
		script: text("Math.log({1 untested})"),
	},
	{
		Name: "log2", Form: "log2(x)", Gives: "the logarithm to the base 2",
		Example:  Example{"log2(8)", "3"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{0}, Below: true},
		Undoes:   "exp2",
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Log2(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(0, math.Log2) }),
		slopes: curved(func(n, x *Node) *Node { return made("/", literal(1/math.Ln2), x) }),
		script: text("Math.log2({1 untested})"),
	},
	{
		Name: "log10", Form: "log10(x)", Gives: "the logarithm to the base 10",
		Example:  Example{"log10(1000)", "3"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{0}, Below: true},
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Log10(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(0, math.Log10) }),
		slopes: curved(func(n, x *Node) *Node { return made("/", literal(1/math.Ln10), x) }),
		script: text("Math.log10({1 untested})"),
	},
}

func root(in *inference, n *Node) *Node {
	kind, ok := n.Args[0].Kind.Root()
	if !ok {
		return in.fail(source.NoRoot(n.Args[0].KindName()), n.Args[0].Start, n.Args[0].End)
	}
	n.Kind = kind
	return n
}

// plainNumber needs numbers and gives one.
func plainNumber(in *inference, n *Node) *Node {
	for _, a := range n.Args {
		if a.Kind != quantity.Number {
			return in.fail(source.WantsKind(n.Op.Form, quantity.Number.Name(), a.KindName()), a.Start, a.End)
		}
	}
	n.Kind = quantity.Number
	return n
}
