package script

import (
	"fmt"

	"labsite/recipes/page"
)

// outside writes the names of values of pages drawn on that formulas of this page use: a script
// otherwise has only their places, and the arithmetic shows them by name.
func (e *emitter) outside(s *page.Sheet) {
	said := map[string]bool{}
	for _, f := range s.Sorted {
		if f.Formula == nil {
			continue
		}
		for _, r := range f.Formula.References() {
			u := s.UseNamed(r.Of)
			if name := r.Of + "." + r.Name; r.Of != "" && u != nil && u.Sheet != nil && !said[name] {
				e.outsideValue(u, r.Name, name, len(said) == 0)
				said[name] = true
			}
		}
	}
	if len(said) > 0 {
		e.out.WriteString("]")
	}
}

func (e *emitter) outsideValue(u *page.Use, name, full string, first bool) {
	if first {
		e.out.WriteString(",outside:[")
	} else {
		e.out.WriteByte(',')
	}
	was, wrote := e.base, e.writing
	e.base, e.writing = u.Base, u.Sheet
	if g := u.Sheet.GivenNamed(name); g != nil {
		fmt.Fprintf(e.out, "{of:%s,given:", quoted(full))
		e.given(g)
		e.out.WriteByte('}')
	} else if f := u.Sheet.Figure(name); f != nil {
		fmt.Fprintf(e.out, "{of:%s,slot:%d,show:%s}", quoted(full), e.place(f.Slot), e.showOf(f.Node, f.Show))
	}
	e.base, e.writing = was, wrote
}
