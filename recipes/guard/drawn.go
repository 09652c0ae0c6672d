package guard

import (
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// drawn leaves out, one by one, what the page sets of the pages that it draws on, and changes
// the formulas that set it.
func drawn(s *page.Sheet) []change {
	var out []change
	for _, u := range s.Uses {
		for i := range u.At {
			set := &u.At[i]
			if set.Node == nil || set.Given == nil {
				continue
			}
			out = append(out, change{what: source.ChangedUse(u.Name, set.Name, set.Given.Value.Text), span: set.Span, apply: func() (func(), bool) {
				old := set.Node
				set.Node = nil
				return func() { set.Node = old }, true
			}})
			out = append(out, formulaChanges(s, place{u.Name + "." + set.Name, set.Formula, &set.Node})...)
		}
	}
	return out
}
