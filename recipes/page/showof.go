package page

import (
	"strings"

	"labsite/recipes/quantity"
)

// ShowOf is how a page drawn on shows one of its values, such as mix.concentrate. A value reads
// the same on both pages, unless the one that draws on the other says otherwise.
func (s *Sheet) ShowOf(name string) (quantity.Show, bool) {
	of, name, dotted := strings.Cut(name, ".")
	u := s.UseNamed(of)
	if !dotted || u == nil || u.Sheet == nil {
		return quantity.Show{}, false
	}
	if g := u.Sheet.GivenNamed(name); g != nil {
		return g.Show, true
	}
	if f := u.Sheet.Figure(name); f != nil {
		return f.Show, true
	}
	return quantity.Show{}, false
}
