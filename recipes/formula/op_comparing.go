package formula

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Equals compares within the tolerance of quantity.Equal.
var Equals = &Operation{
	Signs: []string{"=="}, Form: "a == b", Gives: "yes where they are equal, but for noise in the last digits",
	Example:  Example{"0.1 + 0.2 == 0.3", "yes"},
	Decides:  Compares,
	operands: anything(2), kinds: equality,
	work: func(n *Node, f *Frame) float64 { return yes(quantity.Equal(n.Args[0].Eval(f), n.Args[1].Eval(f))) },
	span: compared(quantity.Equal), slopes: flat, Jumps: true,
	script: text("{help}({1},{2})"), helper: equalHelper,
}

var (
	equalHelper   = &Helper{"e", "equal"}
	lessHelper    = &Helper{"l", "(a, b, turned) => turned ? less(b, a) : less(a, b)"}
	notMoreHelper = &Helper{"m", "(a, b, turned) => turned ? lessOrEqual(b, a) : lessOrEqual(a, b)"}
)

// Comparisons need the same kind on both sides. A script that swaps the two still works out
// the left one first.
var comparing = []*Operation{
	Equals,
	{
		Signs: []string{"!="}, Form: "a != b", Gives: "yes where they are not equal",
		Example:  Example{"15 ml != 1.5 cl", "no"},
		Decides:  Compares,
		operands: anything(2), kinds: equality,
		work: func(n *Node, f *Frame) float64 { return yes(!quantity.Equal(n.Args[0].Eval(f), n.Args[1].Eval(f))) },
		span: compared(func(a, b float64) bool { return !quantity.Equal(a, b) }), slopes: flat, Jumps: true,
		script: text("!{help}({1},{2})"), helper: equalHelper,
	},
	{
		Signs: []string{"<"}, Form: "a < b", Gives: "yes where a is less and not equal",
		Example:  Example{"0.1 + 0.2 < 0.3", "no"},
		Decides:  Compares,
		operands: anything(2), kinds: order,
		work: func(n *Node, f *Frame) float64 { return yes(quantity.Less(n.Args[0].Eval(f), n.Args[1].Eval(f))) },
		span: compared(quantity.Less), slopes: flat, Jumps: true,
		script: text("{help}({1},{2})"), helper: lessHelper,
	},
	{
		Signs: []string{"<="}, Form: "a <= b", Gives: "yes where a is less or equal",
		Example:  Example{"0.1 + 0.2 <= 0.3", "yes"},
		Decides:  Compares,
		operands: anything(2), kinds: order,
		work: func(n *Node, f *Frame) float64 {
			return yes(quantity.LessOrEqual(n.Args[0].Eval(f), n.Args[1].Eval(f)))
		},
		span: compared(quantity.LessOrEqual), slopes: flat, Jumps: true,
		script: text("{help}({1},{2})"), helper: notMoreHelper,
	},
	{
		Signs: []string{">"}, Form: "a > b", Gives: "yes where a is more and not equal",
		Example:  Example{"0.1 + 0.2 > 0.3", "no"},
		Decides:  Compares,
		operands: anything(2), kinds: order,
		work: func(n *Node, f *Frame) float64 {
			a, b := n.Args[0].Eval(f), n.Args[1].Eval(f)
			return yes(quantity.Less(b, a))
		},
		span: compared(func(a, b float64) bool { return quantity.Less(b, a) }), slopes: flat, Jumps: true,
		script: text("{help}({1},{2},1)"), helper: lessHelper,
	},
	{
		Signs: []string{">="}, Form: "a >= b", Gives: "yes where a is more or equal",
		Example:  Example{"68 °F >= 20 °C", "yes"},
		Decides:  Compares,
		operands: anything(2), kinds: order,
		work: func(n *Node, f *Frame) float64 {
			a, b := n.Args[0].Eval(f), n.Args[1].Eval(f)
			return yes(quantity.LessOrEqual(b, a))
		},
		span: compared(func(a, b float64) bool { return quantity.LessOrEqual(b, a) }), slopes: flat, Jumps: true,
		script: text("{help}({1},{2},1)"), helper: notMoreHelper,
	},
}

// equality takes texts and yes or no as well.
func equality(in *inference, n *Node) *Node {
	a, b := n.Args[0], n.Args[1]
	if a.Kind.Sort == quantity.Word || b.Kind.Sort == quantity.Word {
		return in.compareTexts(n, a, b)
	}
	return in.sameKind(n, a, b)
}

func order(in *inference, n *Node) *Node {
	a, b := n.Args[0], n.Args[1]
	if a.Kind.Sort == quantity.Word || b.Kind.Sort == quantity.Word {
		return in.fail(source.TextCompared(n.Op.Signs[0]), n.Start, n.End)
	}
	if a.Kind == b.Kind && a.Kind == quantity.Yes {
		return in.fail(source.WantsKind(n.Op.Signs[0], "a number or a quantity", a.KindName()), n.Start, n.End)
	}
	return in.sameKind(n, a, b)
}

func (in *inference) sameKind(n, a, b *Node) *Node {
	if a.Kind != b.Kind {
		return in.sidesDiffer(n.Op.Signs[0], a, b, n.Start, n.End)
	}
	n.Kind = quantity.Yes
	return n
}
