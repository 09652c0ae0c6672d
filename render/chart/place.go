package chart

import (
	"cmp"
	"math"
	"slices"
)

// spot is a point in the drawing; x runs to the right and y down.
type spot struct{ x, y float64 }

// box is an upright rectangle.
type box struct{ left, top, right, bottom float64 }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

func (b box) holds(o box) bool {
	return b.left <= o.left && o.right <= b.right && b.top <= o.top && o.bottom <= b.bottom
}

func (b box) grown(by float64) box {
	return box{b.left - by, b.top - by, b.right + by, b.bottom + by}
}

func about(at spot, half float64) box {
	return box{at.x - half, at.y - half, at.x + half, at.y + half}
}

// stroke is a straight piece of something drawn.
type stroke struct{ from, to spot }

// crosses reports whether a stroke passes through a box, by Liang and Barsky's method of clipping a line to
// a rectangle.
func (s stroke) crosses(b box) bool {
	first, last := 0.0, 1.0
	dx, dy := s.to.x-s.from.x, s.to.y-s.from.y
	for _, e := range [4][2]float64{
		{-dx, s.from.x - b.left}, {dx, b.right - s.from.x},
		{-dy, s.from.y - b.top}, {dy, b.bottom - s.from.y},
	} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return false
			}
			continue
		}
		if t := q / p; p < 0 {
			first = max(first, t)
		} else {
			last = min(last, t)
		}
	}
	return first <= last
}

// obstacles are what a label should keep clear of.
type obstacles struct {
	room    box      // a label lies within this
	texts   []box    // a label never lies on one of these
	marks   []box    // nor on one of these
	dots    []box    // and on as few of these
	strokes []stroke // and of these as possible
}

// find looks for a place for a label beside a spot: clear of the spot itself, over few dots and strokes,
// near, and rather to the right and above, in that order of importance. ok is false if no place within
// reach is free of texts and marks.
func (o *obstacles) find(at spot, width, height, clear, reach float64) (best box, ok bool) {
	const across = 3
	least := math.Inf(1)
	for _, gap := range spread(clear, reach) {
		for _, left := range []float64{at.x + gap, at.x + gap*0.6, at.x - width/2, at.x - width - gap*0.6, at.x - width - gap} {
			for _, top := range []float64{at.y - height - gap, at.y - height - gap*0.6, at.y - height/2, at.y + gap*0.6, at.y + gap} {
				b := box{left, top, left + width, top + height}
				away := math.Hypot(max(b.left-at.x, 0, at.x-b.right), max(b.top-at.y, 0, at.y-b.bottom))
				if away < clear {
					continue
				}
				cost := away / reach
				if b.right < at.x {
					cost += 0.15
				}
				if b.top > at.y {
					cost += 0.1
				}
				if cost >= least {
					continue
				}
				bar := int((least - cost) / across)
				if least == math.Inf(1) {
					bar = math.MaxInt - 1
				}
				n := o.crossings(b.grown(2.5), bar+1)
				if c := cost + across*float64(n); n <= bar && c < least {
					best, least, ok = b, c, true
				}
			}
		}
	}
	return best, ok
}

// spread lists distances from near to far.
func spread(from, to float64) (all []float64) {
	for g := from; g <= to; g += max(3, (to-from)/8) {
		all = append(all, g)
	}
	return all
}

// crossings counts the dots in a box and the strokes through it, up to bar; it is bar if the box is no
// place for a label at all.
func (o *obstacles) crossings(b box, bar int) int {
	meets := func(other box) bool { return b.meets(other) }
	if !o.room.holds(b) || slices.ContainsFunc(o.texts, meets) || slices.ContainsFunc(o.marks, meets) {
		return bar
	}
	n := 0
	for _, dot := range o.dots {
		if b.meets(dot) {
			if n++; n >= bar {
				return bar
			}
		}
	}
	for _, s := range o.strokes {
		if s.crosses(b) {
			if n++; n >= bar {
				break
			}
		}
	}
	return n
}

// stack places labels of given heights, centred as near as possible to where they are wanted, in their
// order, so that none overlap and all lie between top and bottom if they fit. It returns the centres.
// Neighbours that touch form a heap, which lies where its members are wanted on average.
func stack(wanted, heights []float64, top, bottom float64) []float64 {
	type heap struct {
		members        []int
		height, centre float64
	}
	order := make([]int, len(wanted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wanted[a], wanted[b]) })
	var heaps []heap
	settle := func(h *heap) {
		sum, above := 0.0, 0.0
		for _, m := range h.members {
			sum += wanted[m] - above - heights[m]/2
			above += heights[m]
		}
		h.height = above
		start := sum / float64(len(h.members))
		start = max(top, min(start, bottom-h.height))
		h.centre = start + h.height/2
	}
	for _, i := range order {
		h := heap{members: []int{i}}
		settle(&h)
		for len(heaps) > 0 {
			last := heaps[len(heaps)-1]
			if last.centre+last.height/2 <= h.centre-h.height/2+1e-9 {
				break
			}
			h.members = append(slices.Clone(last.members), h.members...)
			heaps = heaps[:len(heaps)-1]
			settle(&h)
		}
		heaps = append(heaps, h)
	}
	centres := make([]float64, len(wanted))
	for _, h := range heaps {
		y := h.centre - h.height/2
		for _, m := range h.members {
			centres[m] = y + heights[m]/2
			y += heights[m]
		}
	}
	return centres
}
