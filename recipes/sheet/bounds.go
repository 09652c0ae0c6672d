package sheet

import (
	"math"

	"labsite/recipes/formula"
)

// span is what a formula may come to over the ranges of a page's given values: no less than
// low, no more than high. It may be wider than it need be and is never narrower.
type span struct{ low, high float64 }

var anything = span{math.Inf(-1), math.Inf(1)}

// without tells whether a value lies outside the span.
func (s span) without(x float64) bool { return s.low > x || s.high < x }

// bounder works spans out, once for each figure.
type bounder struct {
	sheet *Sheet
	known map[int]span // by slot
}

func (s *Sheet) bounder() *bounder {
	b := &bounder{s, map[int]span{}}
	for _, g := range s.Given {
		own := span{g.Own, g.Own}
		switch {
		case g.Settable() && g.From == nil && len(g.Choices) == 0: // yes or no
			own = span{0, 1}
		case g.From != nil:
			own = span{g.From.Base, g.To.Base}
		case len(g.Choices) > 0:
			own = span{math.Inf(1), math.Inf(-1)}
			for _, c := range g.Choices {
				own = own.with(c.Base)
			}
		}
		b.known[g.Slot] = own
	}
	for _, f := range s.Sorted {
		if f.Node != nil {
			b.known[f.Slot] = b.of(f.Node)
		}
	}
	return b
}

func (s span) with(x float64) span { return span{math.Min(s.low, x), math.Max(s.high, x)} }

func (s span) or(t span) span { return s.with(t.low).with(t.high) }

// safe takes a span whose ends are no numbers for anything at all.
func safe(low, high float64) span {
	if math.IsNaN(low) || math.IsNaN(high) {
		return anything
	}
	return span{low, high}
}

// of is what a tree may come to. Each operation rounds, so that its span is a hair wider.
func (b *bounder) of(n *formula.Node) span {
	s := b.exactly(n)
	switch n.Op {
	case formula.Num, formula.Var, formula.If, formula.Let, formula.Guard, formula.Min, formula.Max, formula.Clamp, formula.Neg, formula.Abs,
		formula.Lookup, formula.Not, formula.And, formula.Or:
		return s
	}
	return span{s.low - math.Abs(s.low)*1e-12, s.high + math.Abs(s.high)*1e-12}
}

func (b *bounder) exactly(n *formula.Node) span {
	arg := func(i int) span { return b.of(n.Args[i]) }
	switch n.Op {
	case formula.Num:
		return span{n.Value, n.Value}
	case formula.Var:
		if s, ok := b.known[n.Slot]; ok {
			return s
		}
		return anything
	case formula.Let:
		b.known[n.Slot] = arg(0)
		return arg(1)
	case formula.If:
		b.of(n.Args[0])
		return arg(1).or(arg(2))
	case formula.Guard:
		b.of(n.Args[0])
		return arg(1)
	case formula.Neg:
		x := arg(0)
		return span{-x.high, -x.low}
	case formula.Add:
		x, y := arg(0), arg(1)
		return safe(x.low+y.low, x.high+y.high)
	case formula.Sub:
		x, y := arg(0), arg(1)
		return safe(x.low-y.high, x.high-y.low)
	case formula.Mul:
		return product(arg(0), arg(1))
	case formula.Div:
		x, y := arg(0), arg(1)
		if !y.without(0) {
			return anything
		}
		return product(x, span{1 / y.high, 1 / y.low})
	case formula.Abs:
		x := arg(0)
		switch {
		case x.low >= 0:
			return x
		case x.high <= 0:
			return span{-x.high, -x.low}
		}
		return span{0, math.Max(-x.low, x.high)}
	case formula.Min, formula.Max:
		s := arg(0)
		for i := 1; i < len(n.Args); i++ {
			x := arg(i)
			if n.Op == formula.Min {
				s = span{math.Min(s.low, x.low), math.Min(s.high, x.high)}
			} else {
				s = span{math.Max(s.low, x.low), math.Max(s.high, x.high)}
			}
		}
		return s
	case formula.Mean:
		s := arg(0)
		for i := 1; i < len(n.Args); i++ {
			x := arg(i)
			s = safe(s.low+x.low, s.high+x.high)
		}
		k := float64(len(n.Args))
		return span{s.low / k, s.high / k}
	case formula.Clamp:
		x, low, high := arg(0), arg(1), arg(2)
		s := span{math.Max(x.low, low.low), math.Max(x.high, low.high)}
		return span{math.Min(s.low, high.low), math.Min(s.high, high.high)}
	case formula.Sqrt:
		return rising(arg(0), 0, math.Sqrt)
	case formula.Exp:
		return rising(arg(0), math.Inf(-1), math.Exp)
	case formula.Exp2, formula.RatioOf:
		return rising(arg(0), math.Inf(-1), math.Exp2)
	case formula.Log:
		return rising(arg(0), 0, math.Log)
	case formula.Log2, formula.StopsOf:
		return rising(arg(0), 0, math.Log2)
	case formula.Log10:
		return rising(arg(0), 0, math.Log10)
	case formula.Kelvin:
		x := arg(0)
		return span{x.low + 273.15, x.high + 273.15}
	case formula.Floor, formula.Ceil:
		x := arg(0)
		return span{math.Floor(x.low) - 1e-6, math.Ceil(x.high) + 1e-6}
	case formula.Round, formula.RoundUp, formula.RoundDown:
		return b.rounded(n, arg(0), arg(1))
	case formula.Pow:
		x, y := arg(0), arg(1)
		if x.low <= 0 {
			if y.low == y.high && y.low == math.Trunc(y.low) && y.low > 0 && math.Mod(y.low, 2) == 0 {
				return span{0, math.Inf(1)}
			}
			return anything
		}
		s := span{math.Inf(1), math.Inf(-1)}
		for _, p := range []float64{x.low, x.high} {
			for _, q := range []float64{y.low, y.high} {
				s = s.with(math.Pow(p, q))
			}
		}
		return safe(s.low, s.high)
	case formula.DilutionOf:
		x, y := arg(0), arg(1)
		if x.low >= 0 && y.low >= 0 && x.low+y.low > 0 {
			// a/(a+b) rises with a and falls with b
			return safe(x.low/(x.low+y.high), x.high/(x.high+y.low))
		}
		return anything
	case formula.Lookup, formula.Interpolate, formula.InterpolateLog:
		for i := range n.Args {
			arg(i)
		}
		s := span{math.Inf(1), math.Inf(-1)}
		for _, x := range n.Data.Result.Cells {
			s = s.with(x)
		}
		return s
	case formula.Eq, formula.Ne, formula.Lt, formula.Le, formula.Gt, formula.Ge, formula.And, formula.Or, formula.Not:
		for i := range n.Args {
			arg(i)
		}
		return span{0, 1}
	}
	return anything
}

// rounded is a span rounded to steps: no value moves further than one, and one that is a step
// or more does not come to nothing.
func (b *bounder) rounded(n *formula.Node, x, step span) span {
	if step.low <= 0 || math.IsInf(step.high, 1) {
		return anything
	}
	s := safe(x.low-step.high, x.high+step.high)
	if n.Value == 0 && step.low == step.high {
		if x.low >= step.high { // the steps count from nothing
			s.low = math.Max(s.low, step.high)
		}
		if n.Op == formula.RoundUp && x.low > step.high*1e-6 {
			s.low = math.Max(s.low, step.high)
		}
	}
	return s
}

func product(x, y span) span {
	s := span{math.Inf(1), math.Inf(-1)}
	for _, p := range []float64{x.low, x.high} {
		for _, q := range []float64{y.low, y.high} {
			if p == 0 || q == 0 {
				s = s.with(0) // nothing of anything
				continue
			}
			s = s.with(p * q)
		}
	}
	return safe(s.low, s.high)
}

// rising is a span under a function that rises from the value least on.
func rising(x span, least float64, f func(float64) float64) span {
	return safe(f(math.Max(x.low, least)), f(math.Max(x.high, least)))
}
