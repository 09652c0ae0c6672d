package formula

import (
	"math"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Negate is a minus before its one operand.
var Negate = &Operation{
	Form: "-a", Gives: "a with the other sign",
	Example: Example{"-2 ** 2", "-4"},
	Tested:  true, Carries: true, Exact: true,
	operands: quantities(1, 1), kinds: signed,
	work:   func(n *Node, f *Frame) float64 { return n.finite(f, -n.Args[0].Eval(f)) },
	span:   spanned(func(a Span) Span { return Few(0).minus(a) }),
	slopes: steady(-1),
	linear: summed(-1),
	script: text("(-{1 untested})"),
}

var arithmetic = []*Operation{
	Negate,
	{
		Signs: []string{"+"}, Form: "a + b", Gives: "their sum; to a temperature a difference is added, to a date a time",
		Example: Example{"5 ml + 1 cl", "15 ml"},
		Tested:  true, Carries: true,
		operands: quantities(2, 2), kinds: sum,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, n.Args[0].Eval(f)+n.Args[1].Eval(f)) },
		span:   spanned2(Span.plus),
		slopes: steady(1, 1),
		linear: summed(1, 1),
		script: text("({1 untested}+{2 untested})"),
	},
	{
		Signs: []string{"-"}, Form: "a - b", Gives: "their difference; two temperatures give one in kelvin, two dates a time",
		Example: Example{"68 °F - 18 °C", "2 K"},
		Tested:  true, Carries: true,
		operands: quantities(2, 2), kinds: difference,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, n.Args[0].Eval(f)-n.Args[1].Eval(f)) },
		span:   spanned2(Span.minus),
		slopes: steady(1, -1),
		linear: summed(1, -1),
		script: text("({1 untested}-{2 untested})"),
	},
	{
		Signs: []string{"*"}, Form: "a * b", Gives: "their product, of the two kinds multiplied",
		Example: Example{"50 g/l * 2 l", "100 g"},
		Tested:  true, Carries: true,
		operands: quantities(2, 2), kinds: product(quantity.Kind.Times),
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, n.Args[0].Eval(f)*n.Args[1].Eval(f)) },
		span:   spanned2(Span.times),
		slopes: func(n *Node) []*Node { return []*Node{n.Args[1], n.Args[0]} },
		Power:  wholePowers(1, 1),
		linear: func(_ *Node, constant func(i int) (float64, bool)) (Line, bool) {
			if c, ok := constant(1); ok {
				return Line{Times: []float64{c, 0}}, true
			}
			c, ok := constant(0)
			return Line{Times: []float64{0, c}}, ok
		},
		script: text("({1 untested}*{2 untested})"),
	},
	{
		Signs: []string{"/"}, Form: "a / b", Gives: "their quotient, of the two kinds divided",
		Example: Example{"500 ml / 2 min", "250 ml/min"},
		Tested:  true, Carries: true,
		Pole:     &Pole{Operands: []int{1}},
		operands: quantities(2, 2), kinds: product(quantity.Kind.Over),
		work: func(n *Node, f *Frame) float64 { return n.finite(f, n.Args[0].Eval(f)/n.Args[1].Eval(f)) },
		span: spanned2(Span.over),
		slopes: func(n *Node) []*Node {
			a, b := n.Args[0], n.Args[1]
			return []*Node{made("/", literal(1), b), made("/", made("/", negated(a), b), b)}
		},
		linear: func(_ *Node, constant func(i int) (float64, bool)) (Line, bool) {
			c, ok := constant(1)
			return Line{Times: []float64{1 / c, 0}}, ok && c != 0
		},
		Power: wholePowers(1, -1),
		// an infinite divisor would make the quotient 0, which is finite
		script: text("({1 untested}/{2})"),
	},
	{
		Signs: []string{"**", "^"}, Form: "a ** b", Gives: "a to the power b, a whole number in place where a has a kind",
		Example: Example{"3 m ** 2", "9 m2"},
		Tested:  true,
		Pole: &Pole{Operands: []int{0}, Spared: func(s Spans, n *Node) bool {
			return s.Of(n.Args[1]).Low >= 0
		}},
		operands: quantities(2, 2), kinds: power,
		work: func(n *Node, f *Frame) float64 { return n.finite(f, math.Pow(n.Args[0].Eval(f), n.Args[1].Eval(f))) },
		span: spanned2(powers),
		slopes: func(n *Node) []*Node {
			a, b := n.Args[0], n.Args[1]
			byBase := made("*", b, made("**", a, made("-", b, literal(1))))
			if b.Op == Num || b.Op == Negate && b.Args[0].Op == Num {
				return []*Node{byBase, nil}
			}
			return []*Node{byBase, made("*", n, called("log", a))}
		},
		Above: func(n *Node) []Above {
			a, b := n.Args[0], n.Args[1]
			return []Above{
				{a, []*Node{made(">=", a, literal(1)), made(">=", b, literal(1))}},
				// exp(x) is no less than 1 + x
				{made("+", literal(1), made("*", b, called("log", a))), []*Node{made(">", a, literal(0))}},
			}
		},
		Power: func(i int, constant func(i int) (float64, bool)) (int, bool) {
			n, ok := constant(1)
			if i == 1 {
				return 0, ok
			}
			return int(n), ok && n == math.Trunc(n) && math.Abs(n) <= 4
		},
		script: text("Math.pow({all})"),
	},
}

func signed(in *inference, n *Node) *Node {
	switch n.Args[0].Kind {
	case quantity.Scale:
		return in.fail(source.PointNegated(), n.Start, n.End)
	case quantity.Date:
		return in.fail(source.DateNegatedValue(), n.Start, n.End)
	}
	n.Kind = n.Args[0].Kind
	return n
}

// sum and difference have rules of their own for points, which are temperatures on a scale
// and dates.
func sum(in *inference, n *Node) *Node {
	a, b := n.Args[0], n.Args[1]
	switch {
	case a.Kind.IsPoint() && a.Kind == b.Kind:
		if a.Kind == quantity.Date {
			return in.fail(source.DatesAdded(), n.Start, n.End)
		}
		return in.fail(source.PointsAdded(in.full(b)), n.Start, n.End)
	case a.Kind.IsPoint() && b.Kind == a.Kind.Difference():
		n.Kind = a.Kind
	case b.Kind.IsPoint() && a.Kind == b.Kind.Difference():
		n.Kind = b.Kind
	case a.Kind == b.Kind:
		n.Kind = a.Kind
	default:
		return in.sidesDiffer(n.Op.Signs[0], a, b, n.Start, n.End)
	}
	return onDay(n)
}

func difference(in *inference, n *Node) *Node {
	a, b := n.Args[0], n.Args[1]
	switch {
	case a.Kind.IsPoint() && a.Kind == b.Kind:
		n.Kind = a.Kind.Difference()
	case a.Kind.IsPoint() && b.Kind == a.Kind.Difference():
		n.Kind = a.Kind
	case b.Kind.IsPoint() && a.Kind == b.Kind.Difference():
		if b.Kind == quantity.Date {
			return in.fail(source.DateFromTime(), n.Start, n.End)
		}
		return in.fail(source.PointFromDifference(), n.Start, n.End)
	case a.Kind == b.Kind:
		n.Kind = a.Kind
	default:
		return in.sidesDiffer(n.Op.Signs[0], a, b, n.Start, n.End)
	}
	return onDay(n)
}

// onDay turns the moment that a node comes to into its date, where the node is a date.
func onDay(n *Node) *Node {
	if n.Kind != quantity.Date {
		return n
	}
	return &Node{Op: OnDay, Kind: quantity.Date, Args: []*Node{n}, Start: n.Start, End: n.End}
}

// pointMultiplied reports a product, a quotient or a power of a point.
func (in *inference) pointMultiplied(kind quantity.Kind, n *Node) *Node {
	if kind == quantity.Date {
		return in.fail(source.DateMultiplied(), n.Start, n.End)
	}
	return in.fail(source.PointMultiplied(), n.Start, n.End)
}

// product infers a product or a quotient by the kind that two kinds give.
func product(joined func(a, b quantity.Kind) (quantity.Kind, bool)) func(*inference, *Node) *Node {
	return func(in *inference, n *Node) *Node {
		a, b := n.Args[0], n.Args[1]
		for _, x := range n.Args {
			if x.Kind.IsPoint() {
				return in.pointMultiplied(x.Kind, n)
			}
		}
		var ok bool
		if n.Kind, ok = joined(a.Kind, b.Kind); ok {
			return n
		}
		switch {
		case a.Kind.Stop != 0 && b.Kind.Stop != 0:
			return in.fail(source.StopsMultiplied(), n.Start, n.End)
		case a.Kind.Money != 0 && b.Kind.Money != 0:
			return in.fail(source.CurrenciesMixed(a.Kind.Currency, b.Kind.Currency), n.Start, n.End)
		}
		return in.fail(source.PowerTooHigh(), n.Start, n.End)
	}
}

// power needs a plain exponent, and a whole number as a literal where the base has
// a kind.
func power(in *inference, n *Node) *Node {
	a, b := n.Args[0], n.Args[1]
	if a.Kind.IsPoint() {
		return in.pointMultiplied(a.Kind, n)
	}
	if b.Kind != quantity.Number {
		return in.fail(source.WantsKind("an exponent", quantity.Number.Name(), b.KindName()), b.Start, b.End)
	}
	if a.Kind == quantity.Number {
		n.Kind = quantity.Number
		return n
	}
	exponent, written := b.Value, b.Op == Num && b.Unit == nil
	if b.Op == Negate && b.Args[0].Op == Num && b.Args[0].Unit == nil {
		exponent, written = -b.Args[0].Value, true
	}
	if !written || exponent != math.Trunc(exponent) {
		return in.fail(source.PowerWhole(a.KindName()), b.Start, b.End)
	}
	kind, ok := a.Kind.Power(int(max(-99, min(99, exponent))))
	if !ok {
		if a.Kind.Stop != 0 {
			return in.fail(source.StopsMultiplied(), n.Start, n.End)
		}
		return in.fail(source.PowerTooHigh(), n.Start, n.End)
	}
	n.Kind = kind
	return n
}

// powers is the span of a power: of a base above zero by its corners, of any other by the whole
// exponent that it needs.
func powers(x, y Span) Span {
	if x.Empty() || y.Empty() {
		return Few()
	}
	if x.Low > 0 {
		return hull(math.Pow(x.Low, y.Low), math.Pow(x.Low, y.High), math.Pow(x.High, y.Low), math.Pow(x.High, y.High))
	}
	n := y.Low
	switch whole := y.Low == y.High && n == math.Trunc(n); {
	case whole && n < 0:
		return Few(1).over(powers(x, Few(-n)))
	case whole && math.Mod(n, 2) != 0:
		return Between(math.Pow(x.Low, n), math.Pow(x.High, n))
	case whole && x.High >= 0:
		return Between(0, max(math.Pow(x.Low, n), math.Pow(x.High, n)))
	case whole:
		return Between(math.Pow(x.High, n), math.Pow(x.Low, n))
	case y.Low > 0 && (x.Low >= 0 || y.Low == y.High) && x.High >= 0:
		// a negative base has no such power; several exponents may include a whole one
		return Between(0, max(math.Pow(x.High, y.Low), math.Pow(x.High, y.High)))
	}
	return Everything
}

// wholePowers are those of operands that are multiplied or divided.
func wholePowers(of ...int) func(int, func(int) (float64, bool)) (int, bool) {
	return func(i int, _ func(int) (float64, bool)) (int, bool) { return of[i], true }
}
