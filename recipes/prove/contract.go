package prove

import (
	"math"

	"labsite/recipes/formula"
)

// contract cuts off a box what the assumptions rule out: if a linear expression is at least zero,
// each given value in it has a bound. It reports whether anything was cut off.
func (r *Reach) contract(b *box) (less bool) {
	for _, f := range r.assumed {
		if f.stand.less && f.stand.more {
			continue
		}
		d, slack := f.d, f.slack
		for _, t := range d.terms {
			alone := r.alone(t)
			if alone < 0 || r.lines.what[alone].slot < 0 {
				continue
			}
			slot := r.lines.what[alone].slot
			for i, g := range b.given {
				if g.Slot != slot || b.axes[i].Values() != nil {
					continue
				}
				rest := &line{known: true}
				rest.add(d, 1)
				rest.add(&line{terms: []term{t}, known: true}, -1)
				beside := r.spanOf(rest)
				bound := formula.Everything
				if !f.stand.less { // times x is no less than -slack - beside
					bound.Low = -slack - beside.High
				}
				if !f.stand.more {
					bound.High = slack - beside.Low
				}
				s := b.axes[i].Within(scaled(bound, 1/t.times))
				if s.Empty() || s.Low > b.axes[i].Low || s.High < b.axes[i].High {
					b.axes[i], less = s, true
					if s.Empty() {
						return true
					}
				}
			}
		}
	}
	return less
}

// scaled is a span times a constant, rounded outward.
func scaled(s formula.Span, times float64) formula.Span {
	if math.IsInf(times, 0) {
		return formula.Everything
	}
	return s.Times(formula.Few(times))
}

// sizeOf adds up how large the terms of a sum can be, by which its rounding is judged.
func (r *Reach) sizeOf(l *line) float64 {
	size := math.Abs(l.constant)
	for _, t := range l.terms {
		s := r.spanOfProduct(t.id)
		size += math.Abs(t.times) * largestOf(s)
	}
	return size
}

func largestOf(s formula.Span) float64 { return max(math.Abs(s.Low), math.Abs(s.High)) }

// followed is the formula that a name stands for, if that is one of the same sheet.
func (r *Reach) followed(n *formula.Node, base int) *formula.Node {
	for n.Op == formula.Var {
		at := base + n.Slot
		if at >= len(r.names) || r.names[at].is != isFormula || r.names[at].base != base {
			return n
		}
		n = r.names[at].node
	}
	return n
}
