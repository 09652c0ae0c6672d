package work

import (
	"strconv"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/script"
)

// Script is what a page's script is written from: the formulas other than figures whose values the
// page shows, by number.
type Script struct {
	page   *Page
	placed []script.Placed
	// elsewhere numbers the placements in texts of pages drawn on, by keyOf.
	elsewhere map[string]int
	// products numbers the values of what the page makes.
	products map[*page.ProductValue]int
	// AsOf is the number of the day on which values of the page depend, from 1; 0 for none.
	AsOf    int
	emitted []byte
	err     error
}

// Formulas is the script of the page's formulas, written at the first call.
func (s *Script) Formulas() ([]byte, error) {
	if s.emitted == nil && s.err == nil {
		s.emitted, s.err = s.Page().Emit()
	}
	return s.emitted, s.err
}

// Page is what package script writes the formulas from.
func (s *Script) Page() script.Page {
	return script.Page{Sheet: s.page.Sheet, Placed: s.placed, Sureness: s.page.Texts.Placed["sureness"]}
}

// Elsewhere is the number of a placement in a text of a page drawn on, from 1; 0 for none. base is
// where that page's block begins in the frame of this one.
func (s *Script) Elsewhere(base int, b Bound) int { return s.elsewhere[keyOf(base, b)] }

// Product is the number of a value on a label of what the page makes, from 1; 0 for none.
func (s *Script) Product(v *page.ProductValue) int {
	if s == nil {
		return 0
	}
	return s.products[v]
}

// script numbers the placed formulas of a page; nil if the page is not worked out, or a reader can
// set nothing and nothing follows the calendar.
func (d *Desk) script(p *Page) *Script {
	if !p.Resolved || p.Proof == nil || !p.Settable() && !p.Follows() {
		return nil
	}
	s := &Script{page: p, elsewhere: map[string]int{}, products: map[*page.ProductValue]int{}}
	b := p.Texts
	s.number(b.Body)
	s.number(b.Limits...)
	s.number(b.Cautions...)
	s.number(b.Supplies...)
	s.number(b.Tools...)
	for _, x := range b.Steps {
		s.number(x.Do, x.Aim, x.Note, x.Agitate, x.Caution)
	}
	for _, g := range p.Sheet.Grids {
		s.number(b.Captions[g.Name])
	}
	for _, c := range p.Sheet.Charts {
		s.number(b.Captions[c.Name])
	}
	for _, m := range p.Sheet.Makes {
		for _, v := range m.Values() {
			// a label may be printed on another day, so it shows no value that depends on the day
			if v.Node != nil && !p.Sheet.DependsOnToday(v.Node) {
				s.products[v] = s.add(v.Node, v.Show, false)
			}
		}
	}
	if p.Follows() {
		s.AsOf = s.add(p.Sheet.DayNode(), quantity.DefaultShow(quantity.Date, quantity.Unit{}), true)
	}
	for _, part := range p.Sheet.Parts() {
		other := d.Content.Page(part.Use.Path)
		if other == nil {
			continue
		}
		from := d.Resolved(other)
		for _, limit := range part.Sheet.Limits {
			s.numberElsewhere(from.ReadText(limit.Text), part.Base)
		}
		for _, c := range part.Sheet.Cautions {
			s.numberElsewhere(from.ReadText(c.Text), part.Base)
		}
	}
	return s
}

// number numbers the placements in the page's own texts, except plain figures and given values.
func (s *Script) number(texts ...Text) {
	for _, x := range texts {
		for i := range x.Bound {
			b := &x.Bound[i]
			if node, show, ok := placedBy(*b); ok && (b.Kind == PlacesFormula || b.HasShow) {
				b.Placed = s.add(node, show, b.Kind == PlacesGiven || b.InRefusal)
			}
		}
	}
}

// numberElsewhere numbers the placements in a text of a page drawn on.
func (s *Script) numberElsewhere(x Text, base int) {
	for _, b := range x.Bound {
		node, show, ok := placedBy(b)
		if !ok || s.elsewhere[keyOf(base, b)] > 0 {
			continue
		}
		if node, ok = moved(node, base); ok {
			s.elsewhere[keyOf(base, b)] = s.add(node, show, b.Kind == PlacesGiven || b.InRefusal)
		}
	}
}

func (s *Script) add(n *formula.Node, show quantity.Show, given bool) int {
	s.placed = append(s.placed, script.Placed{Node: n, Show: show, Given: given})
	return len(s.placed)
}

// placedBy is what a placement shows, as a formula and its form.
func placedBy(b Bound) (*formula.Node, quantity.Show, bool) {
	show := b.Show
	switch b.Kind {
	case PlacesGiven:
		if !b.HasShow {
			show = b.Given.Show
		}
		return &formula.Node{Op: formula.Var, Kind: b.Given.Kind, Slot: b.Given.Slot}, show, true
	case PlacesFigure:
		if !b.HasShow {
			show = b.Figure.Show
		}
		return &formula.Node{Op: formula.Var, Kind: b.Figure.Kind, Slot: b.Figure.Slot}, show, true
	case PlacesFormula:
		return b.Node, show, true
	}
	return nil, show, false
}

func keyOf(base int, b Bound) string {
	return strconv.Itoa(base) + "|" + b.At.Formula + "|" + b.At.Show
}

// moved is a tree with its names at later slots of the frame. A tree with a let cannot be moved, since
// there are no slots for what the let binds.
func moved(n *formula.Node, by int) (*formula.Node, bool) {
	if n.Op == formula.Let || n.Data != nil && n.Data.Live() != nil {
		return nil, false
	}
	c := *n
	if c.Op == formula.Var {
		c.Slot += by
	}
	c.Args = nil
	for _, a := range n.Args {
		m, ok := moved(a, by)
		if !ok {
			return nil, false
		}
		c.Args = append(c.Args, m)
	}
	return &c, true
}
