package formula

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// What formulas are made of besides operators and functions.
var (
	// Num is a value in base units: a literal.
	Num = &Operation{
		Signs: []string{"true", "false"}, Form: "500 ml", Gives: "the value as it is written",
		Example: Example{"500 ml", "500 ml"},
		Exact:   true,
		work:    func(n *Node, _ *Frame) float64 { return n.Value },
		span:    func(_ Spans, n *Node) Span { return Few(n.Value) },
		slopes:  flat,
		script: func(w Writer, n *Node, _ func(*Node) string) string {
			if n.Value < 0 {
				return "(" + w.Number(n.Value) + ")"
			}
			return w.Number(n.Value)
		},
		own: func(*Node) Ownership { return Neutral },
	}

	// Var is the value of a given, a figure or a let, by its slot.
	Var = &Operation{
		Form: "tank", Gives: "the value of a given, a figure or a let",
		Example: Example{"let x = 2 l; x", "2 l"},
		Exact:   true,
		work: func(n *Node, f *Frame) float64 {
			v := f.V[n.Slot]
			if v != v && IsAbsent(v) {
				return f.fail(Missing, n)
			}
			return v
		},
		span:   func(s Spans, n *Node) Span { return s.Slot(n.Slot) },
		slopes: flat, // a name has its slope from what it stands for
		script: func(w Writer, n *Node, _ func(*Node) string) string { return w.Read(n) },
		asked:  AgainstZero,
		own:    func(n *Node) Ownership { return n.Own },
	}

	// Let puts its first operand into a slot, then has the value of the second.
	Let = &Operation{
		Signs: []string{"let"}, Form: "let x = a; b", Gives: "b, in which x stands for a",
		Example: Example{"let x = 2 l; x / 4", "500 ml"},
		Exact:   true,
		Decides: HandsOn,
		kinds: func(_ *inference, n *Node) *Node {
			n.Kind, n.Words = n.Args[1].Kind, n.Args[1].Words
			return n
		},
		work: func(n *Node, f *Frame) float64 {
			f.V[n.Slot] = n.Args[0].Eval(f)
			return n.Args[1].Eval(f)
		},
		span: func(s Spans, n *Node) Span {
			s.Bind(n.Slot, s.Of(n.Args[0]))
			return s.Of(n.Args[1])
		},
		slopes: func(*Node) []*Node { return []*Node{nil, literal(1)} },
		linear: summed(0, 1),
		script: func(w Writer, n *Node, result func(*Node) string) string {
			w.Bind(n)
			return "(" + w.Slot(n) + "=+" + w.Value(n.Args[0]) + "," + result(n.Args[1]) + ")"
		},
		asked: Through,
		own:   func(n *Node) Ownership { return ownedTogether(n.Args[1:]) },
	}

	// If is one of its last two operands, as the first says; the other is not worked out.
	If = &Operation{
		Signs: []string{"if", "else"}, Form: "condition ? a : b", Gives: "a where the condition holds, else b; also if condition { a } else { b }",
		Example: Example{"1 < 2 ? 5 ml : 6 ml", "5 ml"},
		Exact:   true,
		Decides: HandsOn, WorksOut: func(n *Node, f *Frame, i int) bool { return i == 0 || (i == 1) == n.Args[0].holds(f) },
		kinds: branches,
		work: func(n *Node, f *Frame) float64 {
			if n.Args[0].Eval(f) != 0 {
				return n.Args[1].Eval(f)
			}
			return n.Args[2].Eval(f)
		},
		span: func(s Spans, n *Node) Span {
			switch cond := s.Of(n.Args[0]); {
			case cond.Empty():
				return Few()
			case !cond.mayHold():
				return s.Of(n.Args[2])
			case !cond.Holds(0):
				return s.Of(n.Args[1])
			}
			return s.Of(n.Args[1]).or(s.Of(n.Args[2]))
		},
		slopes: func(n *Node) []*Node {
			return []*Node{nil, chosen(n.Args[0], literal(1), literal(0)), chosen(n.Args[0], literal(0), literal(1))}
		},
		Jumps:  true,
		script: text("({1 asked}?{2 result}:{3 result})"),
		asked:  Through,
		own:    func(n *Node) Ownership { return ownedTogether(n.Args[1:]) },
	}
)

var structure = []*Operation{Num, Var, Let, If, Renumber}

// holds evaluates a condition.
func (n *Node) holds(f *Frame) bool {
	f.Reset()
	return n.Eval(f) != 0
}

// branches needs both to be of the same kind.
func branches(in *inference, n *Node) *Node {
	cond, a, b := n.Args[0], n.Args[1], n.Args[2]
	okCond := in.want(cond, quantity.Yes, "a condition")
	if a.Kind.Sort == quantity.Unknown || b.Kind.Sort == quantity.Unknown || !okCond {
		return in.hole(n.Start, n.End)
	}
	if a.Kind != b.Kind {
		return in.fail(source.KindsSides("the two branches", in.full(a), a.KindName(), in.full(b), b.KindName(), in.factor(a.Kind, b.Kind)), n.Start, n.End)
	}
	n.Kind = a.Kind
	if a.Kind == quantity.Text {
		n.Words, _ = joinedWords(a.Words, b.Words)
		n.Args = []*Node{cond, a, renumbered(b, n.Words)}
	}
	return n
}
