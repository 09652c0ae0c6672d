package prove

import (
	"maps"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Reach finds what values parts of a sheet's formulas can have, from what its given values can
// be set to: all of it, or a box of it. Whoever asks for spans asks here: the search for poles,
// scripts for the rows that they need, proofs.
type Reach struct {
	sheet *page.Sheet
	// names tells of each slot what stands behind it; those of lets are found as they are met.
	names []naming
	// known are the spans of this box, by slot; turn counts the boxes.
	known []formula.Span
	since []int
	turn  int
	open  []bool
	met   map[lineKey]metSpan
	lines lines
	// assumed are comparisons that are so where the page does not refuse.
	assumed []assumption
	deep    int // branches that are looked at apart
	// thorough says that a difference is narrowed by products of assumptions as well.
	thorough bool
	slopes   map[*formula.Node][]*formula.Node
	// fixed are given values that are the same all over the box, by slot: a choice that was
	// split off makes a product of it a straight line.
	fixed map[int]float64
}

// nameOf says what sort of thing a slot stands for: a given of the page or of a part, a formula,
// or the value of another slot that it takes over.
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
	node  *formula.Node // a formula, or what a use sets of a given
	base  int           // where the values begin that the formula names
	slot  int           // of a window
}

// NewReach is that of a sheet that has resolved without an error.
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

// figures takes in those of a sheet whose values begin at base.
func (r *Reach) figures(s *page.Sheet, base int) {
	for _, f := range s.Figures {
		if f.Node != nil {
			r.names[base+f.Slot] = naming{is: isFormula, node: f.Node, base: base}
		}
	}
}

// windows takes in what a part takes over from the pages that it draws on.
func (r *Reach) windows(p *page.Part) {
	for _, u := range p.Sheet.Uses {
		if to := p.Links[u.Number]; to != nil {
			for i := range u.Slots {
				r.names[p.Base+u.Base+i] = naming{is: isWindow, slot: to.Base + i}
			}
		}
	}
}

// part takes in a page drawn on.
func (r *Reach) part(p *page.Part) {
	for _, g := range p.Sheet.Given {
		r.names[p.Base+g.Slot] = naming{is: isGiven, given: g, node: &formula.Node{Op: formula.Num, Value: g.Own}}
		if g.Today {
			r.names[p.Base+g.Slot].node = nil // it follows the calendar there as well
		}
	}
	above := 0 // where the values of the page that draws on it begin
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

// settable is what a given can be set to.
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

// Within narrows the reach to a box: of each given that can be set, a part of what it can be
// set to. A given without one keeps all.
func (r *Reach) Within(box map[*page.Given]formula.Span) {
	r.turn++
	for g, span := range box {
		r.know(g.Slot, span)
	}
}

// Fix says which given values have one value for now.
func (r *Reach) Fix(fixed map[int]float64) {
	if !maps.Equal(r.fixed, fixed) {
		r.fixed, r.lines = fixed, lines{}
	}
}

func (r *Reach) know(slot int, s formula.Span) { r.known[slot], r.since[slot] = s, r.turn }

// slot is what a name can have.
func (r *Reach) slot(i int) formula.Span {
	if i >= len(r.names) {
		return formula.Everything // bound by a text of the page, after the reach was made
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
		// what the given does not take refuses the case before anything else
		return settable(n.given).Within(s)
	case isFormula:
		return r.Of(n.node, n.base)
	case isWindow:
		return r.slot(n.slot)
	}
	return formula.Everything
}

// Bind says what a let puts into its slot, for what is below it.
func (r *Reach) Bind(n *formula.Node, base int) {
	i := base + n.Slot
	r.room(i)
	if r.names[i].is == unknownName {
		r.names[i] = naming{is: isFormula, node: n.Args[0], base: base}
	}
}

// room makes room for a slot that a text of the page has bound since.
func (r *Reach) room(slot int) {
	for slot >= len(r.names) {
		r.names, r.known = append(r.names, naming{}), append(r.known, formula.Span{})
		r.since, r.open = append(r.since, 0), append(r.open, false)
	}
}

// Of is what values a tree can have, of a sheet whose values begin at base.
func (r *Reach) Of(n *formula.Node, base int) formula.Span { return r.From(base).Of(n) }

// From is the reach of a sheet whose values begin at base.
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
