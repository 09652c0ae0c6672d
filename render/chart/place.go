package chart

import (
	"cmp"
	"math"
	"slices"
)

// spot is a place in the drawing; x runs to the right and y down.
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

// crosses says whether a stroke passes through the box (Liang and Barsky's way
// of cutting a line by a rectangle).
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

// obstacles is what a label should keep clear of.
type obstacles struct {
	room    box      // a label lies within
	texts   []box    // a label never lies on one of these
	marks   []box    // nor on one of these
	strokes []stroke // and on as few of these as can be
}

// find looks for a place for a label of a size beside a spot, nearest and least
// crossed first. It reports the number of strokes that run through the label,
// and false where there is no place without covering a text or a mark.
func (o *obstacles) find(at spot, width, height, clear float64) (best box, crossed int, ok bool) {
	crossed = math.MaxInt
	for _, gap := range []float64{clear, clear + 8, clear + 18, clear + 32} {
		for _, way := range []spot{{1, -1}, {1, 1}, {-1, -1}, {-1, 1}, {0, -1}, {0, 1}, {1, 0}, {-1, 0}} {
			reach := gap
			if way.x != 0 && way.y != 0 {
				reach *= 0.7
			}
			x := at.x + way.x*reach - width*(1-way.x)/2
			y := at.y + way.y*reach - height*(1-way.y)/2
			b := box{x, y, x + width, y + height}
			if n := o.crossings(b, crossed); n < crossed {
				best, crossed, ok = b, n, true
			}
		}
		if crossed == 0 {
			break
		}
	}
	return best, crossed, ok
}

// crossings counts the strokes through a box, and is at least the bar where the
// box is no place at all.
func (o *obstacles) crossings(b box, bar int) int {
	meets := func(other box) bool { return b.meets(other) }
	if !o.room.holds(b) || slices.ContainsFunc(o.texts, meets) || slices.ContainsFunc(o.marks, meets) {
		return bar
	}
	n := 0
	for _, s := range o.strokes {
		if s.crosses(b) {
			n++
		}
	}
	return n
}

// stack moves heights that want to be centred on wanted places apart, keeping
// their order, so that none overlaps and all lie within top and bottom as far as
// they fit. It returns the centres. Neighbours that touch form a heap, which
// settles where its members want to be on average.
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
