package formula

import (
	"math"

	"labsite/recipes/quantity"
)

// Span is the values that a part of a formula can come to: a few, or all from Low to High.
// It never leaves a value out; it may hold more.
type Span struct {
	few       []float64 // nil if there are more than a few
	Low, High float64
}

// Spans finds the spans of the parts of a page's formulas.
type Spans interface {
	// Of is the span of a node.
	Of(n *Node) Span
	// Slot is the span of a name's values, and Bind says it for a let.
	Slot(slot int) Span
	Bind(slot int, s Span)
}

// Span is what the node can come to, where nothing fails. Rounding is outward. Spans that are
// empty or unbounded, and division by zero, follow IEEE 1788: values for which an operation is
// not defined add nothing to its span.
func (n *Node) Span(s Spans) Span {
	x := n.Op.span(s, n)
	if n.Op.Exact || x.few != nil {
		return x
	}
	return x.outward()
}

// outward makes room for the rounding of an operation, here and in a browser, whose functions
// may differ in the last digits. An end of zero stays: it is exact, unless it underflowed.
func (s Span) outward() Span {
	if s.few != nil || s.Empty() {
		return s
	}
	return Span{Low: s.Low - math.Abs(s.Low)*1e-12, High: s.High + math.Abs(s.High)*1e-12}
}

// Everything is the span of a value about which nothing is known.
var Everything = Span{Low: math.Inf(-1), High: math.Inf(1)}

const mostFew = 512

// Few is the span of some values.
func Few(values ...float64) Span {
	s := Span{few: values, Low: math.Inf(1), High: math.Inf(-1)}
	for _, v := range values {
		if math.IsNaN(v) {
			return Everything
		}
		s.Low, s.High = min(s.Low, v), max(s.High, v)
	}
	return s
}

// Between is the span of all values between two; ends that are not numbers give Everything.
func Between(low, high float64) Span {
	if math.IsNaN(low) || math.IsNaN(high) {
		return Everything
	}
	return Span{Low: low, High: high}
}

// Holds reports whether the value may occur, in the sense of quantity.Equal.
func (s Span) Holds(v float64) bool {
	if s.few == nil {
		return quantity.LessOrEqual(s.Low, v) && quantity.LessOrEqual(v, s.High)
	}
	for _, x := range s.few {
		if quantity.Equal(x, v) {
			return true
		}
	}
	return false
}

// Within keeps the values that the other span holds as well.
func (s Span) Within(o Span) Span {
	if s.few == nil {
		if o.few == nil {
			return Span{Low: max(s.Low, o.Low), High: min(s.High, o.High)}
		}
		s, o = o, s
	}
	kept := []float64{}
	for _, v := range s.few {
		if o.Holds(v) {
			kept = append(kept, v)
		}
	}
	return Few(kept...)
}

// Empty reports whether no value is possible.
func (s Span) Empty() bool { return s.Low > s.High }

// Values lists the values if they are a few, and is nil otherwise.
func (s Span) Values() []float64 { return s.few }

// mayHold reports whether a condition may hold.
func (s Span) mayHold() bool {
	if s.few == nil {
		return true
	}
	for _, v := range s.few {
		if v != 0 {
			return true
		}
	}
	return false
}

// Always reports whether a condition holds, whatever is set.
func (s Span) Always() bool { return !s.Empty() && !s.Holds(0) }

// Never reports whether a condition fails, whatever is set.
func (s Span) Never() bool { return !s.mayHold() }

// maybe is the span of a condition that may be no, or yes.
func maybe(no, yes bool) Span {
	switch {
	case no && yes:
		return Few(0, 1)
	case yes:
		return Few(1)
	case no:
		return Few(0)
	}
	return Few()
}

// each is a span of a few values under a function.
func (s Span) each(f func(float64) float64) Span {
	out := make([]float64, len(s.few))
	for i, v := range s.few {
		out[i] = f(v)
	}
	return Few(out...)
}

// hull is the span from the smallest of some values to the largest.
func hull(values ...float64) Span {
	s := Span{Low: math.Inf(1), High: math.Inf(-1)}
	for _, v := range values {
		if math.IsNaN(v) {
			return Everything
		}
		s.Low, s.High = math.Min(s.Low, v), math.Max(s.High, v)
	}
	return s
}

// compared is the span of a comparison, which the ends of both sides decide.
func compared(holds func(a, b float64) bool) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span {
		return Compare(s.Of(n.Args[0]), s.Of(n.Args[1]), holds)
	}
}

// Compare is what a comparison of two spans can come to.
func Compare(a, b Span, holds func(a, b float64) bool) Span {
	if a.few != nil && b.few != nil && pairable(a, b) {
		no, yes := false, false
		for _, x := range a.few {
			for _, y := range b.few {
				if holds(x, y) {
					yes = true
				} else {
					no = true
				}
			}
		}
		return maybe(no, yes)
	}
	first, last := holds(a.Low, b.High), holds(a.High, b.Low)
	if first != last || math.IsInf(a.Low, 0) || math.IsInf(a.High, 0) || math.IsInf(b.Low, 0) || math.IsInf(b.High, 0) {
		return Few(0, 1)
	}
	if meet := a.Low <= b.High && b.Low <= a.High; meet {
		// equal and unequal pairs lie between, unless all are equal within the tolerance
		if same := quantity.Equal(a.Low, b.High) && quantity.Equal(a.High, b.Low); !same {
			return Few(0, 1)
		}
	}
	return maybe(!first, first)
}

// without reports whether a value lies outside.
func (s Span) without(v float64) bool { return s.Low > v || s.High < v }

// or is what one of two values can be.
func (s Span) or(o Span) Span {
	switch {
	case s.Empty():
		return o
	case o.Empty():
		return s
	}
	if s.few != nil && o.few != nil && len(s.few)+len(o.few) <= mostFew {
		return Few(append(append([]float64{}, s.few...), o.few...)...)
	}
	return Span{Low: min(s.Low, o.Low), High: max(s.High, o.High)}
}

// smaller is what the smaller of two values can be, larger what the larger can.
func (s Span) smaller(o Span) Span {
	return Span{Low: min(s.Low, o.Low), High: min(s.High, o.High)}
}

func (s Span) larger(o Span) Span {
	return Span{Low: max(s.Low, o.Low), High: max(s.High, o.High)}
}

// Plus, Minus and Times are the spans of sums, differences and products, rounded outward.
func (s Span) Plus(o Span) Span { return s.plus(o).outward() }

// Minus is the span of a difference.
func (s Span) Minus(o Span) Span { return s.minus(o).outward() }

// Times is the span of a product.
func (s Span) Times(o Span) Span { return s.times(o).outward() }

// Over is the span of a quotient.
func (s Span) Over(o Span) Span { return s.over(o).outward() }

// Raised is the span of a whole power above zero.
func (s Span) Raised(n int) Span { return powers(s, Few(float64(n))).outward() }

// Is reports whether only this value is possible.
func (s Span) Is(v float64) bool { return s.Low == v && s.High == v }

func (s Span) plus(o Span) Span {
	return combine(s, o, func(x, y float64) float64 { return x + y })
}

func (s Span) minus(o Span) Span {
	return combine(s, o, func(x, y float64) float64 { return x - y })
}

func (s Span) times(o Span) Span {
	return combine(s, o, func(x, y float64) float64 {
		if x == 0 || y == 0 {
			return 0 // also where the other end is infinite
		}
		return x * y
	})
}

// over divides. Nothing is divided by zero itself; near zero a quotient grows without bound, to
// the side of the divisor's sign.
func (s Span) over(o Span) Span {
	divide := func(x, y float64) float64 { return x / y }
	if o.without(0) || pairable(s, o) {
		return combine(s, o, divide)
	}
	switch {
	case o.Low == 0 && o.High == 0:
		return Few()
	case o.Low < 0 && o.High > 0 || s.Low < 0 && s.High > 0:
		return Everything
	case s.Low == 0 && s.High == 0:
		return Few(0)
	}
	inverse := Span{Low: math.Inf(-1), High: 1 / o.Low}
	if o.Low == 0 {
		inverse = Span{Low: 1 / o.High, High: math.Inf(1)}
	}
	return s.times(inverse.outward())
}

// pairable reports whether two spans are so few values that each can be tried with each.
func pairable(a, b Span) bool {
	return a.few != nil && b.few != nil && len(a.few)*len(b.few) <= mostFew
}

// combine is the span of a function that only rises or only falls with each operand.
func combine(a, b Span, work func(x, y float64) float64) Span {
	if pairable(a, b) {
		out := []float64{}
		for _, x := range a.few {
			for _, y := range b.few {
				if v := work(x, y); !math.IsNaN(v) && !math.IsInf(v, 0) {
					out = append(out, v)
				}
			}
		}
		return Few(out...)
	}
	if a.Empty() || b.Empty() {
		return Few()
	}
	return hull(work(a.Low, b.Low), work(a.Low, b.High), work(a.High, b.Low), work(a.High, b.High))
}

// rising is the span of a function that rises from the value least on, over an operand's.
func (s Span) rising(least float64, f func(float64) float64) Span {
	if s.High < least {
		return Few() // it has no value there
	}
	return Between(f(max(s.Low, least)), f(max(s.High, least)))
}

// spanned is a span function of one operand's.
func spanned(f func(Span) Span) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span { return f(s.Of(n.Args[0])) }
}

// spanned2 is the same for two operands.
func spanned2(f func(a, b Span) Span) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span { return f(s.Of(n.Args[0]), s.Of(n.Args[1])) }
}
