package site

import (
	"strconv"
	"strings"
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/script"
	"labsite/recipes/sheet"
)

// leaf is what a page's script is written from: the formulas outside the figures whose
// values the page shows, by number. A page that lets a reader set nothing has none.
type leaf struct {
	placed []script.Placed
	// elsewhere numbers what texts of pages drawn on place, by keyOf.
	elsewhere map[string]int

	once    sync.Once
	emitted []byte
	err     error
}

// formulas writes the script of the page's formulas, once for all who ask.
func (l *leaf) formulas(t *Topic) ([]byte, error) {
	l.once.Do(func() { l.emitted, l.err = t.page().Emit() })
	return l.emitted, l.err
}

// leaf numbers the placed formulas of a page, nil where it is not worked out or a reader
// can set nothing.
func (s *Site) leaf(t *Topic) *leaf {
	if !t.Resolved || t.Proof == nil || !settable(t.Sheet) {
		return nil
	}
	l := &leaf{elsewhere: map[string]int{}}
	own := func(texts ...text) {
		for _, x := range texts {
			for i := range x.bound {
				if node, show, ok := placedBy(x.bound[i]); ok && (x.bound[i].kind == placesFormula || x.bound[i].hasShow) {
					x.bound[i].placed = l.add(node, show, x.bound[i].kind == placesGiven)
				}
			}
		}
	}
	b := t.values
	own(b.body)
	own(b.limits...)
	own(b.cautions...)
	own(b.supplies...)
	own(b.tools...)
	for _, x := range b.steps {
		own(x.do, x.aim, x.note, x.agitate, x.caution)
	}
	for _, g := range t.Sheet.Grids {
		own(b.captions[g.Name])
	}
	for _, c := range t.Sheet.Charts {
		own(b.captions[c.Name])
	}
	everyUse(t.Sheet, func(u *sheet.Use, _ string, base int) {
		other := s.byPath[u.Path]
		if other == nil {
			return
		}
		far := func(p sheet.Prose) {
			for _, x := range s.readText(other, p).bound {
				node, show, ok := placedBy(x)
				if !ok || l.elsewhere[keyOf(base, x)] > 0 {
					continue
				}
				if node, ok = moved(node, base); ok {
					l.elsewhere[keyOf(base, x)] = l.add(node, show, x.kind == placesGiven)
				}
			}
		}
		for _, limit := range u.Sheet.Limits {
			far(limit.Text)
		}
		for _, c := range u.Sheet.Cautions {
			far(c.Text)
		}
	})
	return l
}

// settable tells whether a reader may change anything of a page.
func settable(s *sheet.Sheet) bool {
	for _, g := range s.Given {
		if g.Settable() {
			return true
		}
	}
	return false
}

func (l *leaf) add(n *formula.Node, show quantity.Show, given bool) int {
	l.placed = append(l.placed, script.Placed{Node: n, Show: show, Given: given})
	return len(l.placed)
}

// placedBy is what a placement shows, as a formula and the way it is written.
func placedBy(b bound) (*formula.Node, quantity.Show, bool) {
	show := b.show
	switch b.kind {
	case placesGiven:
		if !b.hasShow {
			show = b.given.Show
		}
		return &formula.Node{Op: formula.Var, Kind: b.given.Kind, Slot: b.given.Slot}, show, true
	case placesFigure:
		if !b.hasShow {
			show = b.figure.Show
		}
		return &formula.Node{Op: formula.Var, Kind: b.figure.Kind, Slot: b.figure.Slot}, show, true
	case placesFormula:
		return b.node, show, true
	}
	return nil, show, false
}

// mark names a placement of the page's own texts.
func mark(b bound) string {
	switch {
	case b.kind == placesLiteral:
		return ` data-literal`
	case b.kind == placesGiven && b.placed > 0:
		// where all else is withdrawn the value set still stands
		return ` data-given-value="` + b.given.Name + `" data-placed="` + strconv.Itoa(b.placed-1) + `"`
	case b.kind == placesGiven:
		return ` data-given-value="` + b.given.Name + `"`
	case b.placed > 0:
		return ` data-placed="` + strconv.Itoa(b.placed-1) + `"`
	case b.kind == placesFigure:
		return ` data-figure="` + b.figure.Name + `"`
	}
	return ""
}

// markElsewhere names placements of a text of a page drawn on, at its case inside this
// page's. They never bear the names of the other page's values, which can be names here.
func (l *leaf) markElsewhere(own, run *sheet.Case) func(bound) string {
	base, found := baseOf(own, run)
	return func(b bound) string {
		if b.kind == placesLiteral {
			return ` data-literal`
		}
		if l != nil && found {
			if n := l.elsewhere[keyOf(base, b)]; n > 0 {
				return ` data-placed="` + strconv.Itoa(n-1) + `"`
			}
		}
		return ` data-tested`
	}
}

func keyOf(base int, b bound) string {
	return strconv.Itoa(base) + "|" + b.at.Formula + "|" + b.at.Show
}

// baseOf finds where the values of a page drawn on begin in the frame of this one.
func baseOf(own, run *sheet.Case) (int, bool) {
	for _, u := range own.Sheet.Uses {
		inner := own.Inside(u)
		if inner == nil {
			continue
		}
		if inner == run {
			return u.Base, true
		}
		if base, ok := baseOf(inner, run); ok {
			return u.Base + base, true
		}
	}
	return 0, false
}

// everyUse goes through all pages drawn on, near and far: with the name that the script
// knows each by ("mix", "mix.stock"), and where its values begin.
func everyUse(s *sheet.Sheet, do func(u *sheet.Use, name string, base int)) {
	var walk func(s *sheet.Sheet, prefix string, base int)
	walk = func(s *sheet.Sheet, prefix string, base int) {
		for _, u := range s.Uses {
			if u.Sheet == nil {
				continue
			}
			name := strings.TrimPrefix(prefix+"."+u.Name, ".")
			do(u, name, base+u.Base)
			walk(u.Sheet, name, base+u.Base)
		}
	}
	walk(s, "", 0)
}

// moved is a tree whose names lie further on in the frame; not every tree can be moved,
// since names that a let binds have no room there.
func moved(n *formula.Node, by int) (*formula.Node, bool) {
	if n.Op == formula.Let {
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
