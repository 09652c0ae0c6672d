package script

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// span is what values a part of a formula can have: a few, or all from low to high.
type span struct {
	few       []float64 // nil where there are more than a few
	low, high float64
}

var everything = span{low: math.Inf(-1), high: math.Inf(1)}

const mostFew = 512

func few(values ...float64) span {
	s := span{few: values, low: math.Inf(1), high: math.Inf(-1)}
	for _, v := range values {
		if math.IsNaN(v) {
			return everything
		}
		s.low, s.high = min(s.low, v), max(s.high, v)
	}
	return s
}

// holds tells whether the value may occur, in the sense of quantity.Equal.
func (s span) holds(v float64) bool {
	if s.few == nil {
		return quantity.LessOrEqual(s.low, v) && quantity.LessOrEqual(v, s.high)
	}
	for _, x := range s.few {
		if quantity.Equal(x, v) {
			return true
		}
	}
	return false
}

func (s span) or(o span) span {
	if s.few != nil && o.few != nil && len(s.few)+len(o.few) <= mostFew {
		return few(append(append([]float64{}, s.few...), o.few...)...)
	}
	return span{low: min(s.low, o.low), high: max(s.high, o.high)}
}

// reach finds what values parts of a page's formulas can have, from what its given
// values can be set to. It never leaves a value out; it may hold more.
type reach struct {
	bySlot map[int]func() span
	known  map[int]span
	open   map[int]bool
}

func newReach(s *sheet.Sheet) *reach {
	r := &reach{bySlot: map[int]func() span{}, known: map[int]span{}, open: map[int]bool{}}
	for _, g := range s.Given {
		r.bySlot[g.Slot] = func() span { return settable(g) }
	}
	r.add(s, 0)
	return r
}

// add takes in the figures of a sheet whose values begin at base, and the pages it draws
// on.
func (r *reach) add(s *sheet.Sheet, base int) {
	for _, f := range s.Figures {
		if f.Node != nil {
			r.bySlot[base+f.Slot] = func() span { return r.of(f.Node, base) }
		}
	}
	for _, u := range s.Uses {
		if u.Sheet == nil {
			continue
		}
		inner := base + u.Base
		for _, g := range u.Sheet.Given {
			r.bySlot[inner+g.Slot] = func() span { return few(g.Own) }
		}
		for _, set := range u.At {
			if set.Node != nil && set.Given != nil {
				g, n := set.Given, set.Node
				// what the given does not take refuses the case before any search
				r.bySlot[inner+g.Slot] = func() span { return settable(g).within(r.of(n, base)) }
			}
		}
		r.add(u.Sheet, inner)
	}
}

// beside is what the smaller or the larger of two values can be.
func (s span) beside(op formula.Op, o span) span {
	if op == formula.Min {
		return span{low: min(s.low, o.low), high: min(s.high, o.high)}
	}
	return span{low: max(s.low, o.low), high: max(s.high, o.high)}
}

// within keeps of the few values those that the other span holds.
func (s span) within(o span) span {
	if s.few == nil {
		if o.few == nil {
			return span{low: max(s.low, o.low), high: min(s.high, o.high)}
		}
		s, o = o, s
	}
	kept := []float64{}
	for _, v := range s.few {
		if o.holds(v) {
			kept = append(kept, v)
		}
	}
	return few(kept...)
}

// settable is what a given can be set to.
func settable(g *sheet.Given) span {
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
		return span{low: g.From.Base, high: g.To.Base}
	}
	return few(g.Own)
}

// slot is what a name can have.
func (r *reach) slot(i int) span {
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

// bind says what a let puts into its slot, for searches below it.
func (r *reach) bind(n *formula.Node, base int) {
	if i := base + n.Slot; r.bySlot[i] == nil {
		r.bySlot[i] = func() span { return r.of(n.Args[0], base) }
	}
}

// of is what values a tree can have.
func (r *reach) of(n *formula.Node, base int) span {
	arg := func(i int) span { return r.of(n.Args[i], base) }
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
	case formula.Mean:
		s := arg(0)
		for i := range n.Args[1:] {
			o := arg(i + 1)
			s = span{low: min(s.low, o.low), high: max(s.high, o.high)}
		}
		return s
	case formula.Min, formula.Max:
		s := arg(0)
		for i := range n.Args[1:] {
			s = s.beside(n.Op, arg(i+1))
		}
		return s
	case formula.Clamp:
		return arg(0).beside(formula.Max, arg(1)).beside(formula.Min, arg(2))
	case formula.Round, formula.RoundUp, formula.RoundDown:
		x, step := arg(0), arg(1)
		size := max(math.Abs(step.low), math.Abs(step.high))
		if math.IsInf(x.low, 0) || math.IsInf(x.high, 0) || math.IsInf(size, 0) {
			return everything
		}
		return span{low: x.low - size, high: x.high + size}
	}
	return everything
}

// combine works an operation out over what both sides can have.
func combine(op formula.Op, a, b span) span {
	work := func(x, y float64) float64 {
		switch op {
		case formula.Add:
			return x + y
		case formula.Sub:
			return x - y
		case formula.Mul:
			return x * y
		}
		return x / y
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
	if op == formula.Div && b.low <= 0 && b.high >= 0 {
		return everything
	}
	corners := few(work(a.low, b.low), work(a.low, b.high), work(a.high, b.low), work(a.high, b.high))
	corners.few = nil
	// the ends were rounded; a neighbour more does no harm
	slack := 1e-12 * max(math.Abs(corners.low), math.Abs(corners.high))
	if math.IsInf(slack, 0) {
		return everything
	}
	return span{low: corners.low - slack, high: corners.high + slack}
}
