package formula

import (
	"math"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// ZeroCelsius is 0 °C in kelvin: the SI Brochure, 9th edition, section 2.3.1 (from memory).
const ZeroCelsius = 273.15

// Functions between kinds that have rules of their own and plain numbers.
var conversions = []*Operation{
	{
		Name: "kelvin", Form: "kelvin(t)", Gives: "the absolute temperature as a number",
		Example: Example{"kelvin(20 °C)", "293.15"},
		Tested:  true, Carries: true,
		operands: quantities(1, 1), kinds: fromTo(quantity.Scale, quantity.Number),
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, n.Args[0].Eval(f)+ZeroCelsius) },
		span:   spanned(func(t Span) Span { return t.plus(Few(ZeroCelsius)) }),
		slopes: steady(1),
		linear: func(*Node, func(i int) (float64, bool)) (Line, bool) {
			return Line{Times: []float64{1}, Plus: Few(ZeroCelsius)}, true
		},
		script: func(w Writer, n *Node, _ func(*Node) string) string {
			return "(" + w.Untested(n, 0) + "+" + w.Number(ZeroCelsius) + ")"
		},
	},
	{
		Name: "stops", Form: "stops(ratio)", Gives: "the stops that an exposure ratio makes",
		Example:  Example{"stops(1/4)", "-2 stop"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{0}, Below: true},
		Undoes:   "ratio",
		operands: quantities(1, 1), kinds: fromTo(quantity.Number, quantity.Stops),
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Log2(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(0, math.Log2) }),
		slopes: curved(func(n, x *Node) *Node { return made("/", literal(1/math.Ln2), x) }),
		script: text("Math.log2({1 untested})"),
	},
	{
		Name: "ratio", Form: "ratio(stops)", Gives: "the exposure ratio that some stops make",
		Example:  Example{"ratio(2 stop)", "4"},
		Tested:   true,
		operands: quantities(1, 1), kinds: fromTo(quantity.Stops, quantity.Number),
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, math.Exp2(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(math.Inf(-1), math.Exp2) }),
		slopes: curved(func(n, x *Node) *Node { return made("*", literal(math.Ln2), n) }),
		script: text("Math.pow(2,{1})"),
	},
	{
		Name: "dilution", Form: "dilution(parts, added)", Gives: "the share of some parts with others added to them",
		Example:  Example{"dilution(1, 99)", "0.01"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{0, 1}},
		operands: quantities(2, 2), kinds: plainNumber,
		work: func(n *Node, f *Frame) float64 {
			parts, added := n.Args[0].Eval(f), n.Args[1].Eval(f)
			return n.finite(f, parts/(parts+added))
		},
		span: spanned2(func(x, y Span) Span {
			if x.Low >= 0 && y.Low >= 0 && x.Low+y.Low > 0 {
				// a/(a+b) rises with a and falls with b
				return Between(x.Low/(x.Low+y.High), x.High/(x.High+y.Low))
			}
			return x.over(x.plus(y))
		}),
		slopes: func(n *Node) []*Node {
			a, b := n.Args[0], n.Args[1]
			square := made("*", made("+", a, b), made("+", a, b))
			return []*Node{made("/", b, square), made("/", negated(a), square)}
		},
		script: text("{help}({all})"), helper: &Helper{"o", "(a, b) => a / (a + b)"},
	},
}

func fromTo(from, to quantity.Kind) func(*inference, *Node) *Node {
	return func(in *inference, n *Node) *Node {
		if n.Args[0].Kind != from {
			return in.fail(source.WantsKind(n.Op.Form, from.Name(), n.Args[0].KindName()), n.Args[0].Start, n.Args[0].End)
		}
		n.Kind = to
		return n
	}
}
