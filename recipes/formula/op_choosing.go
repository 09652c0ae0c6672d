package formula

import (
	"math"

	"labsite/recipes/source"
)

// Functions whose result is one of their operands, or lies between them.
var choosing = []*Operation{
	{
		Name: "abs", Form: "abs(x)", Gives: "x without its sign",
		Example: Example{"abs(-3 ml)", "3 ml"},
		Tested:  true, Carries: true, Exact: true,
		operands: quantities(1, 1), kinds: signed,
		work: func(n *Node, f *Frame) float64 { return n.finite(f, math.Abs(n.Args[0].Eval(f))) },
		span: spanned(func(x Span) Span {
			switch {
			case x.Low >= 0:
				return x
			case x.High <= 0:
				return Span{Low: -x.High, High: -x.Low}
			}
			return Span{High: max(-x.Low, x.High)}
		}),
		NoMore: func(n *Node) []*Node { return []*Node{n.Args[0], negated(n.Args[0])} },
		slopes: func(n *Node) []*Node {
			return []*Node{chosen(made(">=", n.Args[0], literal(0)), literal(1), literal(-1))}
		},
		script: text("Math.abs({1 untested})"),
	},
	{
		Name: "min", Form: "min(a, b, …)", Gives: "the smallest of two or more of one kind",
		Example: Example{"min(3 ml, 1 l, 2 ml)", "2 ml"},
		Tested:  true, Exact: true,
		operands: quantities(2, -1), kinds: oneKind,
		work: func(n *Node, f *Frame) float64 {
			r := n.Args[0].Eval(f)
			for _, a := range n.Args[1:] {
				r = math.Min(r, a.Eval(f))
			}
			return n.finite(f, r)
		},
		span:   allSpans(Span.smaller),
		slopes: extremes("<="),
		NoLess: func(n *Node) []*Node { return n.Args },
		script: text("Math.min({all})"),
	},
	{
		Name: "max", Form: "max(a, b, …)", Gives: "the largest of two or more of one kind",
		Example: Example{"max(3 ml, 1 l, 2 ml)", "1 l"},
		Tested:  true, Exact: true,
		operands: quantities(2, -1), kinds: oneKind,
		work: func(n *Node, f *Frame) float64 {
			r := n.Args[0].Eval(f)
			for _, a := range n.Args[1:] {
				r = math.Max(r, a.Eval(f))
			}
			return n.finite(f, r)
		},
		span:   allSpans(Span.larger),
		slopes: extremes(">="),
		NoMore: func(n *Node) []*Node { return n.Args },
		script: text("Math.max({all})"),
	},
	{
		Name: "mean", Form: "mean(a, b, …)", Gives: "the mean of two or more of one kind, temperatures and dates among them",
		Example:  Example{"mean(18 °C, 22 °C, 26 °C)", "22 °C"},
		Tested:   true,
		operands: quantities(2, -1), kinds: func(in *inference, n *Node) *Node { return onDay(oneKind(in, n)) },
		work: func(n *Node, f *Frame) float64 {
			sum := n.Args[0].Eval(f)
			for _, a := range n.Args[1:] {
				sum += a.Eval(f)
			}
			return n.finite(f, sum/float64(len(n.Args)))
		},
		span: func(s Spans, n *Node) Span {
			low, high, count := 0.0, 0.0, float64(len(n.Args))
			for _, a := range n.Args {
				x := s.Of(a)
				low, high = low+x.Low, high+x.High
			}
			return Between(low/count, high/count)
		},
		slopes: func(n *Node) []*Node { return steady(shares(len(n.Args))...)(n) },
		linear: func(n *Node, c func(i int) (float64, bool)) (Line, bool) { return summed(shares(len(n.Args))...)(n, c) },
		script: func(w Writer, n *Node, _ func(*Node) string) string {
			return "((" + values(w, n, "+") + ")/" + w.Number(float64(len(n.Args))) + ")"
		},
	},
	{
		Name: "clamp", Form: "clamp(x, low, high)", Gives: "x, but no less than low and no more than high",
		Example:  Example{"clamp(26 °C, 18 °C, 24 °C)", "24 °C"},
		Exact:    true,
		operands: quantities(3, 3), kinds: oneKind,
		work: func(n *Node, f *Frame) float64 {
			x, low := n.Args[0].Eval(f), n.Args[1].Eval(f)
			return math.Min(math.Max(x, low), n.Args[2].Eval(f))
		},
		span: func(s Spans, n *Node) Span {
			return s.Of(n.Args[0]).larger(s.Of(n.Args[1])).smaller(s.Of(n.Args[2]))
		},
		slopes: func(n *Node) []*Node {
			x, low, high := n.Args[0], n.Args[1], n.Args[2]
			one, none := literal(1), literal(0)
			return []*Node{
				chosen(made("and", made(">=", x, low), made("<=", x, high)), one, none),
				chosen(made("and", made("<", x, low), made("<=", low, high)), one, none),
				chosen(made("or", made(">", x, high), made(">", low, high)), one, none),
			}
		},
		script: text("Math.min(Math.max({1},{2}),{3})"),
	},
}

// oneKind needs operands of the same kind, which is also that of the result.
func oneKind(in *inference, n *Node) *Node {
	first := n.Args[0]
	for _, a := range n.Args[1:] {
		if a.Kind != first.Kind {
			if p, from, to, ok := in.decimalComma(n.Start); ok {
				return in.fail(p, from, to)
			}
			return in.sidesDiffer(n.Op.Form, first, a, a.Start, a.End)
		}
	}
	n.Kind = first.Kind
	return n
}

// allSpans joins the spans of all operands.
func allSpans(join func(a, b Span) Span) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span {
		out := s.Of(n.Args[0])
		for _, a := range n.Args[1:] {
			out = join(out, s.Of(a))
		}
		return out
	}
}

// sidesDiffer reports two sides of two kinds, and the kind that is missing between them.
func (in *inference) sidesDiffer(what string, a, b *Node, start, end int) *Node {
	return in.fail(source.KindsSides(what, in.full(a), a.KindName(), in.full(b), b.KindName(), in.factor(a.Kind, b.Kind)), start, end)
}
