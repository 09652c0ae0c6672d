package prove

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/page"
)

// box is a part of all settings: for each given value that can be set, a span.
type box struct {
	given []*page.Given
	axes  []formula.Span
	// weights are how much the difference last enclosed changes along each axis; nil if not known.
	weights []float64
}

func (b *box) weigh(i int, by float64) {
	if b.weights == nil {
		b.weights = make([]float64, len(b.axes))
	}
	b.weights[i] = max(b.weights[i], by)
}

// mostValues is the length up to which a range of whole numbers is listed number by number.
const mostValues = 512

// whole is the box of all settings.
func whole(s *page.Sheet) *box {
	b := &box{}
	for _, a := range axes(s) {
		span := settable(a.given)
		if a.given.Whole && a.given.From != nil && a.high-a.low < mostValues {
			span = formula.Few(page.Steps(a.low, a.high, 1)...)
		}
		b.given, b.axes = append(b.given, a.given), append(b.axes, span)
	}
	return b
}

func (b *box) spans() map[*page.Given]formula.Span {
	out := make(map[*page.Given]formula.Span, len(b.axes))
	for i, g := range b.given {
		out[g] = b.axes[i]
	}
	return out
}

// middle is the setting in the middle of the box, itself as a box.
func (b *box) middle() *box {
	out := &box{given: b.given, axes: make([]formula.Span, len(b.axes))}
	for i, s := range b.axes {
		v := s.Low + (s.High-s.Low)/2
		if few := s.Values(); few != nil {
			v = few[len(few)/2]
		} else if b.given[i].Whole {
			v = math.Round(v)
		}
		out.axes[i] = formula.Few(v)
	}
	return out
}

// fixed lists the choices and whole numbers that have one value left in the box, by slot.
func (b *box) fixed() map[int]float64 {
	out := map[int]float64{}
	for i, s := range b.axes {
		if s.Values() != nil && s.Low == s.High {
			out[b.given[i].Slot] = s.Low
		}
	}
	return out
}

// narrowest is the share of its range at which an axis is no longer split.
const narrowest = 1e-7

// split halves the box along one of the axes in among: the widest as a share of its whole range,
// with choices before ranges and the axes in own before others, or, where weights are known, the
// one that matters most. ok is false if nothing is left to split.
func (b *box) split(all *box, among, own uint64) (left, right *box, ok bool) {
	best, widest := -1, 0.0
	largest := 0.0
	for i, w := range b.weights {
		if i >= 64 || among&(1<<i) != 0 {
			largest = max(largest, w)
		}
	}
	if largest == 0 {
		b.weights = nil
	}
	for i, s := range b.axes {
		if i < 64 && among&(1<<i) == 0 || s.Low == s.High {
			continue
		}
		width := 0.0
		if few := s.Values(); few != nil {
			width = float64(len(few)) / float64(len(all.axes[i].Values()))
			if len(all.axes[i].Values()) <= 16 {
				width += 1
			}
		} else {
			width = (s.High - s.Low) / (all.axes[i].High - all.axes[i].Low)
		}
		if width <= narrowest {
			continue
		}
		if own&(1<<i) != 0 && i < 64 {
			width *= 4
		}
		if b.weights != nil && s.Values() == nil {
			width = b.weights[i] / largest
		}
		if width > widest || best < 0 {
			best, widest = i, width
		}
	}
	if best < 0 {
		return nil, nil, false
	}
	left, right = b.copy(), b.copy()
	s := b.axes[best]
	if few := s.Values(); few != nil {
		half := len(few) / 2
		left.axes[best], right.axes[best] = formula.Few(few[:half]...), formula.Few(few[half:]...)
		return left, right, true
	}
	middle := s.Low + (s.High-s.Low)/2
	left.axes[best], right.axes[best] = formula.Between(s.Low, middle), formula.Between(middle, s.High)
	return left, right, true
}

func (b *box) copy() *box {
	out := &box{given: b.given, axes: make([]formula.Span, len(b.axes))}
	copy(out.axes, b.axes)
	return out
}
