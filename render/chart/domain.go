package chart

import (
	"cmp"
	"math"
	"slices"
)

// extent is the least and the greatest of some numbers.
type extent struct {
	low, high float64
	any       bool
}

func (e *extent) take(v float64) {
	if !usable(v) {
		return
	}
	if !e.any {
		e.low, e.high, e.any = v, v, true
	}
	e.low, e.high = min(e.low, v), max(e.high, v)
}

// domains finds the ranges that the axes show.
func (c Chart) domains() (x, y extent) {
	for _, l := range c.Lines {
		for _, p := range l.Points {
			x.take(p.X) // also where there is no figure, which is shown as a gap
			if p.usable() {
				y.take(p.Y)
			}
		}
	}
	lined := x.any
	for _, m := range c.Marks {
		for _, p := range m.Points {
			if p.usable() {
				x.take(p.X)
				y.take(p.Y)
			}
		}
	}
	for _, l := range c.Limits {
		y.take(l.Y)
	}
	if c.Own != nil && c.Own.usable() {
		x.take(c.Own.X)
		y.take(c.Own.Y)
	}
	return c.X.domain(x, !lined), c.Y.domain(y, true)
}

// domain widens what the points need to what the axis must show, and adds a margin at the ends if air is
// true and the axis leaves the range open.
func (a Axis) domain(e extent, air bool) extent {
	if usable(a.Low) && usable(a.High) && a.Low < a.High {
		air = air && e.any && (e.low < a.Low || e.high > a.High)
		e.take(a.Low)
		e.take(a.High)
	}
	if !e.any {
		e = extent{0, 1, true}
	}
	span := e.high - e.low
	if span <= 1e-9*max(math.Abs(e.low), math.Abs(e.high)) || span < 1e-90 {
		half := math.Abs(e.low) * 0.05
		switch {
		case a.Kind == Date:
			half = max(3, math.Abs(e.low)*1e-6)
		case a.Kind == Stops:
			half = max(1, half)
		case half < 1e-80:
			half = 1
		}
		return extent{e.low - half, e.high + half, true}
	}
	if air {
		positive := e.low >= 0 // the margin must not reach below zero
		e.low, e.high = e.low-span*0.06, e.high+span*0.06
		if positive {
			e.low = max(0, e.low)
		}
	}
	return e
}

// ordered returns the points of a line from left to right, without those whose X is no usable number:
// they cannot be shown even as a gap.
func ordered(points []Point) []Point {
	kept := make([]Point, 0, len(points))
	for _, p := range points {
		if usable(p.X) {
			kept = append(kept, p)
		}
	}
	slices.SortStableFunc(kept, func(a, b Point) int { return cmp.Compare(a.X, b.X) })
	return kept
}

// runs splits ordered points at those that cannot be drawn.
func runs(points []Point) [][]Point {
	var all [][]Point
	begun := false
	for _, p := range points {
		if !p.usable() {
			begun = false
			continue
		}
		if !begun {
			all = append(all, nil)
			begun = true
		}
		all[len(all)-1] = append(all[len(all)-1], p)
	}
	return all
}

// gap is a range of X without a figure.
type gap struct{ from, to float64 }

// gaps lists the ranges where ordered points cannot be drawn, each from the last point before it that can
// be drawn to the first after it.
func gaps(points []Point) []gap {
	var all []gap
	for i, p := range points {
		if p.usable() {
			continue
		}
		if i > 0 && !points[i-1].usable() {
			all[len(all)-1].to = p.X
		} else {
			all = append(all, gap{p.X, p.X})
			if i > 0 {
				all[len(all)-1].from = points[i-1].X
			}
		}
		if i+1 < len(points) && points[i+1].usable() {
			all[len(all)-1].to = points[i+1].X
		}
	}
	return all
}

// shared lists the gaps that all lines have in common.
func (c Chart) shared() []gap {
	var all []gap
	for i, l := range c.Lines {
		own := gaps(ordered(l.Points))
		if i == 0 {
			all = own
			continue
		}
		var both []gap
		for _, a := range all {
			for _, b := range own {
				if g := (gap{max(a.from, b.from), min(a.to, b.to)}); g.from < g.to {
					both = append(both, g)
				}
			}
		}
		all = both
	}
	return all
}

// flagged is a point out of limits. Its number stands beside it and before its reason in the list.
type flagged struct {
	series, index int
	point         Point
	why           string
}

// flaggedPoints lists them from left to right.
func (c Chart) flaggedPoints() []flagged {
	var all []flagged
	for s, m := range c.Marks {
		for i, p := range m.Points {
			if why := m.flag(i); why != "" && p.usable() {
				all = append(all, flagged{s, i, p, why})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b flagged) int { return cmp.Compare(a.point.X, b.point.X) })
	return all
}
