package formula

// Guard refuses the case, as its Reason says, where its first operand does not hold; otherwise
// it has the value of the second. No formula contains one as written: the valid ranges of bench
// formulas make them.
var Guard = &Operation{
	Form: "outside its valid range", Gives: "a refusal; a bench formula's ranges make it",
	Refuses: true, Exact: true,
	WorksOut: func(n *Node, f *Frame, i int) bool { return i == 0 || n.Args[0].holds(f) },
	kinds: func(_ *inference, n *Node) *Node {
		n.Kind, n.Words = n.Args[1].Kind, n.Args[1].Words
		return n
	},
	work: func(n *Node, f *Frame) float64 {
		if n.Args[0].Eval(f) == 0 {
			return f.fail(OutOfRange, n)
		}
		return n.Args[1].Eval(f)
	},
	span:   func(s Spans, n *Node) Span { return s.Of(n.Args[1]) },
	slopes: func(*Node) []*Node { return []*Node{nil, literal(1)} },
	linear: summed(0, 1),
	script: func(w Writer, n *Node, result func(*Node) string) string {
		return "(" + w.Condition(n.Args[0]) + "||" + w.Help(n.Op.helper) + "(" + w.Quoted(n.Reason) + ")," + result(n.Args[1]) + ")"
	},
	helper: &Helper{"q", "refuse"},
	asked:  Through,
	own:    func(n *Node) Ownership { return ownedTogether(n.Args[1:]) },
}

var guarding = []*Operation{Guard}
