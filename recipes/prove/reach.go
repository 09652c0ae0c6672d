package prove

import (
	"maps"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Reach finds what values parts of a sheet's formulas can have when its given values are set to
// anything that they take, or anything in a box. The search for poles and proofs use it, and
// scripts, for the rows that they need.
type Reach struct {
	sheet *page.Sheet
	// names tells what each slot stands for; the slots of lets are filled in as they are met.
	names []naming
	// known are spans by slot, each worked out for the box since; turn is the number of this box.
	known []formula.Span
	since []int
	turn  int
	open  []bool
	met   map[lineKey]metSpan
	lines lines
	// assumed are comparisons that hold wherever the page does not refuse.
	assumed []assumption
	deep    int // how deep branches and bounds are nested at present
	// thorough says that assumptions are also multiplied to narrow a difference.
	thorough bool
	slopes   map[*formula.Node][]*formula.Node
	// fixed are given values that have one value throughout the box, by slot: they count as
	// constants, so that a product with one is linear.
	fixed map[int]float64
}

// nameOf says what a slot stands for: a given of the page or of a part, a formula, or a copy of
// another slot.
type nameOf uint8

const (
	unknownName nameOf = iota
	isGiven
	isFormula
	isWindow
)

// naming is what a slot stands for.
type naming struct {
	is    nameOf
	given *page.Given
	node  *formula.Node // the formula, or what a use sets the given to
	base  int           // the block to which the formula's slots belong
	slot  int           // of a window
}

// NewReach makes the reach of a sheet, which must have resolved without an error.
func NewReach(s *page.Sheet) *Reach {
	slots := s.Slots()
	r := &Reach{sheet: s, names: make([]naming, slots), known: make([]formula.Span, slots), since: make([]int, slots), open: make([]bool, slots), turn: 1,
		met: map[lineKey]metSpan{}, slopes: map[*formula.Node][]*formula.Node{}}
	for _, g := range s.Given {
		r.names[g.Slot] = naming{is: isGiven, given: g}
	}
	r.figures(s, 0)
	if s.Layout != nil {
		r.windows(s.Layout.Top)
		for _, p := range s.Layout.Parts {
			r.part(p)
		}
	}
	return r
}

// figures notes the figures of a sheet whose block begins at base.
func (r *Reach) figures(s *page.Sheet, base int) {
	for _, f := range s.Figures {
		if f.Node != nil {
			r.names[base+f.Slot] = naming{is: isFormula, node: f.Node, base: base}
		}
	}
}

// windows notes what a part copies from the pages that it draws on.
func (r *Reach) windows(p *page.Part) {
	for _, u := range p.Sheet.Uses {
		if to := p.Links[u.Number]; to != nil {
			for i := range u.Slots {
				r.names[p.Base+u.Base+i] = naming{is: isWindow, slot: to.Base + i}
			}
		}
	}
}

// part notes the names of a page drawn on.
func (r *Reach) part(p *page.Part) {
	for _, g := range p.Sheet.Given {
		r.names[p.Base+g.Slot] = naming{is: isGiven, given: g, node: &formula.Node{Op: formula.Num, Value: g.Own}}
		if g.Today {
			r.names[p.Base+g.Slot].node = nil // it follows the calendar there as well
		}
	}
	above := 0 // where the block of the page that draws on it begins
	if owner := p.Owner(); owner != nil {
		above = owner.Base
	}
	for _, set := range p.Use.At {
		if set.Node != nil && set.Given != nil {
			r.names[p.Base+set.Given.Slot] = naming{is: isGiven, given: set.Given, node: set.Node, base: above}
		}
	}
	r.figures(p.Sheet, p.Base)
	r.windows(p)
}

// settable is the span of what a given can be set to.
func settable(g *page.Given) formula.Span {
	switch {
	case g.Kind == quantity.Yes && g.From == nil && len(g.Choices) == 0:
		return formula.Few(0, 1)
	case len(g.Choices) > 0:
		values := []float64{}
		for _, c := range g.Choices {
			values = append(values, c.Base)
		}
		return formula.Few(values...)
	case g.From != nil && g.To != nil:
		return formula.Between(g.From.Base, g.To.Base)
	case g.Today:
		return formula.Between(quantity.FirstDay, quantity.LastDay)
	}
	return formula.Few(g.Own)
}

// Within narrows the reach to a box. A given value that is not in it keeps all that it can be set
// to.
func (r *Reach) Within(box map[*page.Given]formula.Span) {
	r.turn++
	for g, span := range box {
		r.know(g.Slot, span)
	}
}

// Fix says which given values have only one value in the present box.
func (r *Reach) Fix(fixed map[int]float64) {
	if !maps.Equal(r.fixed, fixed) {
		r.fixed, r.lines = fixed, lines{}
	}
}

func (r *Reach) know(slot int, s formula.Span) { r.known[slot], r.since[slot] = s, r.turn }

// slot is the span of what stands in a slot.
func (r *Reach) slot(i int) formula.Span {
	if i >= len(r.names) {
		return formula.Everything // bound by a text of the page after the reach was made
	}
	if r.since[i] == r.turn {
		return r.known[i]
	}
	if r.open[i] {
		return formula.Everything
	}
	r.open[i] = true
	s := r.find(r.names[i])
	r.open[i] = false
	r.know(i, s)
	return s
}

func (r *Reach) find(n naming) formula.Span {
	switch n.is {
	case isGiven:
		if n.node == nil {
			return settable(n.given)
		}
		s := r.Of(n.node, n.base)
		if n.node.Op == formula.Num {
			return s
		}
		// the page refuses anything that the given does not take
		return settable(n.given).Within(s)
	case isFormula:
		return r.Of(n.node, n.base)
	case isWindow:
		return r.slot(n.slot)
	}
	return formula.Everything
}

// Bind notes what a let puts into its slot, for the tree below it.
func (r *Reach) Bind(n *formula.Node, base int) {
	i := base + n.Slot
	r.room(i)
	if r.names[i].is == unknownName {
		r.names[i] = naming{is: isFormula, node: n.Args[0], base: base}
	}
}

// room adds slots as far as one that a text of the page has bound since.
func (r *Reach) room(slot int) {
	for slot >= len(r.names) {
		r.names, r.known = append(r.names, naming{}), append(r.known, formula.Span{})
		r.since, r.open = append(r.since, 0), append(r.open, false)
	}
}

// Of is the span of a tree of a sheet whose block begins at base.
func (r *Reach) Of(n *formula.Node, base int) formula.Span { return r.From(base).Of(n) }

// From gives the spans of trees of a sheet whose block begins at base.
func (r *Reach) From(base int) formula.Spans { return reachFrom{r, base} }

type reachFrom struct {
	*Reach
	base int
}

func (r reachFrom) Of(n *formula.Node) formula.Span {
	if n.Op == formula.Num || n.Op == formula.Var {
		return n.Span(r)
	}
	key := lineKey{n, r.base}
	if m, ok := r.met[key]; ok && m.turn == r.turn {
		return m.span
	}
	s := n.Span(r)
	switch {
	case n.Op.Decides == formula.Compares:
		if len(s.Values()) > 1 {
			s = r.relation(n, r.base).holds(n)
		}
	case s.Values() == nil && s.Low < s.High:
		s = r.straightened(n, r.base, s)
	}
	r.met[key] = metSpan{r.turn, s}
	return s
}

// metSpan is the span of a part in one box.
type metSpan struct {
	turn int
	span formula.Span
}

func (r reachFrom) Slot(slot int) formula.Span { return r.slot(r.base + slot) }

func (r reachFrom) Bind(slot int, s formula.Span) {
	r.room(r.base + slot)
	r.know(r.base+slot, s)
}
