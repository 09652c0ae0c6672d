package prove

import (
	"math"
	"slices"

	"labsite/recipes/formula"
)

// meanValue encloses a sum by the mean value theorem: its value in the middle of the box, plus
// its slopes over the box times the distance from the middle. Terms that jump are enclosed as
// they are.
func (r *Reach) meanValue(d *line, b *box) formula.Span {
	smooth, rest := &line{constant: d.constant, size: d.size, known: true}, &line{known: true}
	slopes := make([]formula.Span, len(b.axes))
	for i := range slopes {
		slopes[i] = formula.Few(0)
	}
	for _, t := range d.terms {
		own, ok := r.slopesOfProduct(t.id, b)
		if !ok {
			rest.add(&line{terms: []term{t}, known: true}, 1)
			continue
		}
		smooth.add(&line{terms: []term{t}, known: true}, 1)
		for i := range slopes {
			slopes[i] = slopes[i].Plus(own[i].Times(formula.Few(t.times)))
		}
	}
	beside := r.spanOf(rest)
	middle := b.middle()
	r.Within(middle.spans())
	at := r.spanOf(smooth)
	r.Within(b.spans())
	for i, s := range slopes {
		if width := b.axes[i].High - b.axes[i].Low; width > 0 && !math.IsInf(s.Low, 0) && !math.IsInf(s.High, 0) {
			b.weigh(i, math.Max(math.Abs(s.Low), math.Abs(s.High))*width)
		}
		at = at.Plus(s.Times(b.axes[i].Minus(middle.axes[i])))
	}
	return at.Plus(beside)
}

// slopesOfProduct finds the slopes of a product: of each factor, times all the others.
func (r *Reach) slopesOfProduct(id int, b *box) ([]formula.Span, bool) {
	factors := r.lines.products[id]
	out := make([]formula.Span, len(b.axes))
	for k := range out {
		out[k] = formula.Few(0)
	}
	for i, f := range factors {
		own, ok := r.slopesOfAtom(r.lines.what[f.atom], b)
		if !ok {
			return nil, false
		}
		rest := slices.Clone(factors)
		if rest[i].power--; rest[i].power == 0 {
			rest = slices.Delete(rest, i, i+1)
		}
		times := formula.Few(float64(f.power))
		if len(rest) > 0 {
			times = times.Times(r.spanOfProduct(r.lines.product(rest)))
		}
		for k := range out {
			out[k] = out[k].Plus(own[k].Times(times))
		}
	}
	return out, true
}

func (r *Reach) slopesOfAtom(a atom, b *box) ([]formula.Span, bool) {
	switch {
	case a.slot >= 0:
		return r.slopesOfSlot(a.slot, b)
	case a.node != nil:
		return r.slopesOf(a.node, a.base, b)
	case a.sum != nil:
		out := make([]formula.Span, len(b.axes))
		for i := range out {
			out[i] = formula.Few(0)
		}
		for _, t := range a.sum.terms {
			own, ok := r.slopesOfProduct(t.id, b)
			if !ok {
				return nil, false
			}
			for i := range out {
				out[i] = out[i].Plus(own[i].Times(formula.Few(t.times)))
			}
		}
		return out, true
	}
	return nil, false
}

// slopesOfSlot finds the slopes of what stands in a slot along each axis of a box.
func (r *Reach) slopesOfSlot(slot int, b *box) ([]formula.Span, bool) {
	if slot >= len(r.names) {
		return nil, false
	}
	out := make([]formula.Span, len(b.axes))
	switch n := r.names[slot]; n.is {
	case isFormula:
		return r.slopesOf(n.node, n.base, b)
	case isWindow:
		return r.slopesOfSlot(n.slot, b)
	case isGiven:
		if n.node != nil {
			return r.slopesOf(n.node, n.base, b)
		}
		for i := range out {
			out[i] = formula.Few(0)
			if b.given[i] == n.given {
				out[i] = formula.Few(1)
			}
		}
		return out, true
	}
	return nil, false
}

// slopesOf finds the slopes of a tree: the sum over its operands of its slope by the operand times
// the operand's own slope. ok is false if it may jump within the box, or a slope is not known.
func (r *Reach) slopesOf(n *formula.Node, base int, b *box) ([]formula.Span, bool) {
	if n.Op == formula.Var {
		return r.slopesOfSlot(base+n.Slot, b)
	}
	if n.Op == formula.Let {
		r.Bind(n, base)
	}
	partial, known := r.slopes[n]
	if !known {
		var ok bool
		if partial, ok = n.Slopes(); !ok {
			return nil, false
		}
		r.slopes[n] = partial
	}
	out := make([]formula.Span, len(b.axes))
	for i := range out {
		out[i] = formula.Few(0)
	}
	for i, a := range n.Args {
		if partial[i] == nil && !n.Op.Jumps {
			continue
		}
		if partial[i] != nil && r.Of(partial[i], base).Is(0) {
			continue // a branch that is not taken
		}
		own, ok := r.slopesOf(a, base, b)
		if !ok {
			return nil, false
		}
		still := true
		for _, s := range own {
			still = still && s.Is(0)
		}
		if still {
			continue
		}
		if n.Op.Jumps && !r.decided(n, i, base) {
			return nil, false
		}
		if partial[i] == nil {
			continue
		}
		by := r.Of(partial[i], base)
		for k := range out {
			out[k] = out[k].Plus(by.Times(own[k]))
		}
	}
	return out, true
}

// decided reports whether an operation that may jump does not jump within the box: its result is
// constant, or it is known which branch is taken.
func (r *Reach) decided(n *formula.Node, i int, base int) bool {
	if n.Op.Decides == formula.HandsOn {
		if c := r.Of(n.Args[0], base); c.Always() || c.Never() {
			return true
		}
		if i > 0 {
			return false
		}
	}
	s := r.Of(n, base)
	return s.Low == s.High
}
