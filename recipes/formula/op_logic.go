package formula

import "labsite/recipes/quantity"

// Not is the opposite of a condition.
var Not = &Operation{
	Signs: []string{"not"}, Form: "not a", Gives: "yes where a is no",
	Example:  Example{"not 1 > 2", "yes"},
	Decides:  Denies,
	operands: truths(1), kinds: truth,
	work: func(n *Node, f *Frame) float64 { return yes(n.Args[0].Eval(f) == 0) },
	span: func(s Spans, n *Node) Span {
		x := s.Of(n.Args[0])
		return maybe(x.mayHold(), x.Holds(0))
	},
	slopes: flat, Jumps: true,
	script: text("!{1 asked}"),
}

// And is yes where both its operands are.
var And = logic[0]

// And and or stop early: the second operand is not worked out if the first decides.
var logic = []*Operation{
	{
		Signs: []string{"and"}, Form: "a and b", Gives: "yes where both are",
		Example:  Example{"1 < 2 and 3 < 2", "no"},
		Decides:  WantsAll,
		WorksOut: func(n *Node, f *Frame, i int) bool { return i == 0 || n.Args[0].holds(f) },
		operands: truths(2), kinds: truth,
		work: func(n *Node, f *Frame) float64 {
			if n.Args[0].Eval(f) == 0 {
				return 0
			}
			return n.Args[1].Eval(f)
		},
		span: func(s Spans, n *Node) Span {
			a, b := s.Of(n.Args[0]), s.Of(n.Args[1])
			return maybe(a.Holds(0) || b.Holds(0), a.mayHold() && b.mayHold())
		},
		slopes: flat, Jumps: true,
		script: text("({1 asked}&&{2 result})"),
		asked:  Through,
	},
	{
		Signs: []string{"or"}, Form: "a or b", Gives: "yes where one of them is",
		Example:  Example{"1 < 2 or 3 < 2", "yes"},
		Decides:  WantsOne,
		WorksOut: func(n *Node, f *Frame, i int) bool { return i == 0 || !n.Args[0].holds(f) },
		operands: truths(2), kinds: truth,
		work: func(n *Node, f *Frame) float64 {
			if n.Args[0].Eval(f) != 0 {
				return 1
			}
			return n.Args[1].Eval(f)
		},
		span: func(s Spans, n *Node) Span {
			a, b := s.Of(n.Args[0]), s.Of(n.Args[1])
			return maybe(a.Holds(0) && b.Holds(0), a.mayHold() || b.mayHold())
		},
		slopes: flat, Jumps: true,
		script: text("({1 asked}||{2 result})"),
		asked:  Through,
	},
	Not,
}

func truth(_ *inference, n *Node) *Node {
	n.Kind = quantity.Yes
	return n
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
