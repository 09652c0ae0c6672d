package script

import (
	"strconv"

	"labsite/recipes/formula"
	"labsite/recipes/page"
)

// lacking are the slots of a sheet whose value may be missing: readings, figures with an else, and
// what depends on one of them. If a page is drawn on several times, a slot counts if it may be
// missing in one of them. A script tests whether a value is present only in these slots.
type lacking map[*page.Sheet]map[int]bool

func lackingOf(s *page.Sheet) lacking {
	l := lacking{}
	l.add(s, nil)
	return l
}

// add goes through a sheet in the order in which it is worked out; given are the slots of its given
// values that are set to something that may be missing.
func (l lacking) add(s *page.Sheet, given []int) map[int]bool {
	of := l[s]
	if of == nil {
		of = map[int]bool{}
		l[s] = of
	}
	for _, slot := range given {
		of[slot] = true
	}
	for _, g := range s.Given {
		if g.Reading {
			of[g.Slot] = true
		}
	}
	for _, step := range s.Program {
		if step.Use != nil {
			if u := step.Use; u.Sheet != nil {
				var set []int
				for _, at := range u.At {
					if at.Given != nil && needs(at.Node, of) {
						set = append(set, at.Given.Slot)
					}
				}
				for slot := range l.add(u.Sheet, set) {
					of[u.Base+slot] = true
				}
			}
			continue
		}
		if a := step.Added; a != nil {
			if a.Column.Live && needs(a.Node, of) {
				of[a.Column.State()] = true
				for _, x := range a.File.Row {
					if x.Column == a.Column {
						of[x.Slot] = true
					}
				}
			}
			continue
		}
		if f := step.Figure; f.Else != "" || needs(f.Node, of) {
			of[f.Slot] = true
		}
	}
	return of
}

// needs reports whether a formula needs a value in one of some slots.
func needs(n *formula.Node, slots map[int]bool) bool {
	if n == nil || len(slots) == 0 {
		return false
	}
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op == formula.Var && slots[n.Slot]
		if n.Data != nil {
			for _, c := range n.Data.Live() {
				found = found || slots[c.State()]
			}
		}
		return !found
	})
	return found
}

var present = &formula.Helper{Name: "p", Text: "present"}

// mayLack reports whether the value at a slot of the sheet being written may be missing. The slot may
// also be in a part, if it is from a text of a page drawn on.
func (e *emitter) mayLack(slot int) bool {
	if e.lacking[e.writing][slot] {
		return true
	}
	if e.writing != e.sheet || slot < e.sheet.BlockSize() {
		return false
	}
	for _, p := range e.sheet.Parts() {
		if slot >= p.Base && slot < p.Base+p.Sheet.BlockSize() {
			return e.lacking[p.Sheet][slot-p.Base]
		}
	}
	return false
}

// Read is an expression for the value at a slot, with a test if it may be missing.
func (e *emitter) Read(n *formula.Node) string {
	if e.mayLack(n.Slot) {
		return e.Help(present) + "(s," + strconv.Itoa(e.place(n.Slot)) + ")"
	}
	return e.Slot(n)
}
