package sheet

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// Span is what values a part of a formula can have: a few, or all from Low to High. It never
// leaves a value out; it may hold more.
type Span struct {
	few       []float64 // nil where there are more than a few
	Low, High float64
}

var everything = Span{Low: math.Inf(-1), High: math.Inf(1)}

const mostFew = 512

func few(values ...float64) Span {
	s := Span{few: values, Low: math.Inf(1), High: math.Inf(-1)}
	for _, v := range values {
		if math.IsNaN(v) {
			return everything
		}
		s.Low, s.High = min(s.Low, v), max(s.High, v)
	}
	return s
}

// between takes a span whose ends are no numbers for everything.
func between(low, high float64) Span {
	if math.IsNaN(low) || math.IsNaN(high) {
		return everything
	}
	return Span{Low: low, High: high}
}

// Holds tells whether the value may occur, in the sense of quantity.Equal.
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

// without tells whether a value lies outside the span.
func (s Span) without(v float64) bool { return s.Low > v || s.High < v }

func (s Span) or(o Span) Span {
	if s.few != nil && o.few != nil && len(s.few)+len(o.few) <= mostFew {
		return few(append(append([]float64{}, s.few...), o.few...)...)
	}
	return Span{Low: min(s.Low, o.Low), High: max(s.High, o.High)}
}

// beside is what the smaller or the larger of two values can be.
func (s Span) beside(op formula.Op, o Span) Span {
	if op == formula.Min {
		return Span{Low: min(s.Low, o.Low), High: min(s.High, o.High)}
	}
	return Span{Low: max(s.Low, o.Low), High: max(s.High, o.High)}
}

// within keeps of the few values those that the other span holds.
func (s Span) within(o Span) Span {
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
	return few(kept...)
}

// Reach finds what values parts of a sheet's formulas can have, from what its given values
// can be set to.
type Reach struct {
	bySlot map[int]func() Span
	known  map[int]Span
	open   map[int]bool
}

// NewReach is that of a sheet that has resolved without an error.
func NewReach(s *Sheet) *Reach {
	r := &Reach{bySlot: map[int]func() Span{}, known: map[int]Span{}, open: map[int]bool{}}
	for _, g := range s.Given {
		r.bySlot[g.Slot] = func() Span { return settable(g) }
	}
	r.add(s, 0)
	return r
}

// add takes in the figures of a sheet whose values begin at base, and the pages it draws
// on.
func (r *Reach) add(s *Sheet, base int) {
	for _, f := range s.Figures {
		if f.Node != nil {
			r.bySlot[base+f.Slot] = func() Span { return r.Of(f.Node, base) }
		}
	}
	for _, u := range s.Uses {
		if u.Sheet == nil {
			continue
		}
		inner := base + u.Base
		for _, g := range u.Sheet.Given {
			r.bySlot[inner+g.Slot] = func() Span { return few(g.Own) }
		}
		for _, set := range u.At {
			if set.Node != nil && set.Given != nil {
				g, n := set.Given, set.Node
				// what the given does not take refuses the case before anything else
				r.bySlot[inner+g.Slot] = func() Span { return settable(g).within(r.Of(n, base)) }
			}
		}
		r.add(u.Sheet, inner)
	}
}

// settable is what a given can be set to.
func settable(g *Given) Span {
	switch {
	case g.Kind == quantity.Yes:
		return few(0, 1)
	case len(g.Choices) > 0:
		values := []float64{}
		for _, c := range g.Choices {
			values = append(values, c.Base)
		}
		return few(values...)
	case g.From != nil && g.To != nil:
		return Span{Low: g.From.Base, High: g.To.Base}
	}
	return few(g.Own)
}

// slot is what a name can have.
func (r *Reach) slot(i int) Span {
	if s, ok := r.known[i]; ok {
		return s
	}
	find := r.bySlot[i]
	if find == nil || r.open[i] {
		return everything
	}
	r.open[i] = true
	s := find()
	r.open[i] = false
	r.known[i] = s
	return s
}

// Bind says what a let puts into its slot, for what stands below it.
func (r *Reach) Bind(n *formula.Node, base int) {
	if i := base + n.Slot; r.bySlot[i] == nil {
		r.bySlot[i] = func() Span { return r.Of(n.Args[0], base) }
	}
}

// Of is what values a tree can have, of a sheet whose values begin at base.
func (r *Reach) Of(n *formula.Node, base int) Span {
	s := r.exactly(n, base)
	switch n.Op {
	case formula.Num, formula.Var, formula.If, formula.Let, formula.Guard, formula.Min, formula.Max, formula.Clamp, formula.Neg, formula.Abs:
		return s
	}
	if s.few != nil {
		return s
	}
	// each operation rounds, so that its ends are a hair wider
	return Span{Low: s.Low - math.Abs(s.Low)*1e-12, High: s.High + math.Abs(s.High)*1e-12}
}

func (r *Reach) exactly(n *formula.Node, base int) Span {
	arg := func(i int) Span { return r.Of(n.Args[i], base) }
	switch n.Op {
	case formula.Num:
		return few(n.Value)
	case formula.Var:
		return r.slot(base + n.Slot)
	case formula.Let:
		r.known[base+n.Slot] = arg(0)
		return arg(1)
	case formula.If:
		return arg(1).or(arg(2))
	case formula.Guard:
		return arg(1)
	case formula.Add, formula.Sub, formula.Mul, formula.Div:
		return combine(n.Op, arg(0), arg(1))
	case formula.Neg:
		return combine(formula.Sub, few(0), arg(0))
	case formula.Abs:
		x := arg(0)
		switch {
		case x.Low >= 0:
			return x
		case x.High <= 0:
			return Span{Low: -x.High, High: -x.Low}
		}
		return Span{High: max(-x.Low, x.High)}
	case formula.Mean:
		low, high := 0.0, 0.0
		for i := range n.Args {
			x := arg(i)
			low, high = low+x.Low, high+x.High
		}
		k := float64(len(n.Args))
		return between(low/k, high/k)
	case formula.Min, formula.Max:
		s := arg(0)
		for i := range n.Args[1:] {
			s = s.beside(n.Op, arg(i+1))
		}
		return s
	case formula.Clamp:
		return arg(0).beside(formula.Max, arg(1)).beside(formula.Min, arg(2))
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
		return combine(formula.Add, arg(0), few(formula.ZeroCelsius))
	case formula.Floor, formula.Ceil: // a value that is nearly whole is taken for whole
		x := arg(0)
		return between(math.Floor(x.Low)-1e-6, math.Ceil(x.High)+1e-6)
	case formula.Round, formula.RoundUp, formula.RoundDown:
		return rounded(n, arg(0), arg(1))
	case formula.Pow:
		return power(arg(0), arg(1))
	case formula.DilutionOf:
		x, y := arg(0), arg(1)
		if x.Low >= 0 && y.Low >= 0 && x.Low+y.Low > 0 {
			// a/(a+b) rises with a and falls with b
			return between(x.Low/(x.Low+y.High), x.High/(x.High+y.Low))
		}
	case formula.Lookup:
		if cells := n.Data.Result.Cells; len(cells) <= mostFew {
			return few(cells...)
		}
	case formula.Interpolate, formula.InterpolateLog:
		s := few(n.Data.Result.Cells...)
		return Span{Low: s.Low, High: s.High}
	case formula.Eq, formula.Ne, formula.Lt, formula.Le, formula.Gt, formula.Ge, formula.And, formula.Or, formula.Not:
		return few(0, 1)
	}
	return everything
}

// rounded is a span rounded to steps: no value moves further than one, and one that is a step
// or more does not come to nothing.
func rounded(n *formula.Node, x, step Span) Span {
	size := max(math.Abs(step.Low), math.Abs(step.High))
	s := between(x.Low-size, x.High+size)
	if n.Value != 0 || step.Low <= 0 || step.Low != step.High { // the steps count from elsewhere, or are of many sizes
		return s
	}
	if x.Low >= size || n.Op == formula.RoundUp && x.Low > size*1e-6 {
		s.Low = max(s.Low, size)
	}
	return s
}

func power(x, y Span) Span {
	if x.Low <= 0 {
		if y.Low == y.High && y.Low > 0 && math.Mod(y.Low, 2) == 0 {
			return Span{High: math.Inf(1)}
		}
		return everything
	}
	s := few(math.Pow(x.Low, y.Low), math.Pow(x.Low, y.High), math.Pow(x.High, y.Low), math.Pow(x.High, y.High))
	return between(s.Low, s.High)
}

// rising is a span under a function that rises from the value least on.
func rising(x Span, least float64, f func(float64) float64) Span {
	return between(f(max(x.Low, least)), f(max(x.High, least)))
}

// combine works an operation out over what both sides can have.
func combine(op formula.Op, a, b Span) Span {
	work := func(x, y float64) float64 {
		switch {
		case op == formula.Add:
			return x + y
		case op == formula.Sub:
			return x - y
		case op == formula.Div:
			return x / y
		case x == 0 || y == 0:
			return 0 // nothing of anything, however large
		}
		return x * y
	}
	if a.few != nil && b.few != nil && len(a.few)*len(b.few) <= mostFew {
		out := []float64{}
		for _, x := range a.few {
			for _, y := range b.few {
				if v := work(x, y); !math.IsNaN(v) && !math.IsInf(v, 0) {
					out = append(out, v)
				}
			}
		}
		return few(out...)
	}
	if op == formula.Div && !b.without(0) {
		return everything
	}
	s := few(work(a.Low, b.Low), work(a.Low, b.High), work(a.High, b.Low), work(a.High, b.High))
	return between(s.Low, s.High)
}
