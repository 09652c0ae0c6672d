package page

import "labsite/recipes/formula"

// GivenOf finds the given values of the page that a figure depends on, directly or through
// others; a value from a page drawn on counts as depending on all that this page sets there.
// ok is false if the figure also depends on rows that are worked out again in each case.
func (s *Sheet) GivenOf(f *Figure) (given map[*Given]bool, ok bool) {
	givens, figures := map[int]*Given{}, map[int]*Figure{}
	for _, g := range s.Given {
		givens[g.Slot] = g
	}
	for _, f := range s.Figures {
		figures[f.Slot] = f
	}
	given, ok = map[*Given]bool{}, true
	ahead, seen := []*formula.Node{f.Node}, map[*formula.Node]bool{f.Node: true}
	add := func(n *formula.Node) {
		if !seen[n] {
			seen[n] = true
			ahead = append(ahead, n)
		}
	}
	for ; len(ahead) > 0; ahead = ahead[1:] {
		if ahead[0] == nil {
			continue
		}
		ahead[0].Walk(func(n *formula.Node) bool {
			ok = ok && (n.Data == nil || len(n.Data.Live()) == 0)
			if n.Op != formula.Var {
				return true
			}
			if g := givens[n.Slot]; g != nil {
				given[g] = true
			} else if f := figures[n.Slot]; f != nil {
				add(f.Node)
			}
			for _, u := range s.Uses {
				if u.Base <= n.Slot && n.Slot < u.Base+u.Slots {
					for _, at := range u.At {
						add(at.Node)
					}
				}
			}
			return true
		})
	}
	return given, ok
}
