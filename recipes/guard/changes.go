package guard

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// change is one thing of a page that can be changed.
type change struct {
	what string
	span source.Span
	// apply changes the page and gives a function that undoes it; applies is false if the
	// result would not be a valid page, such as a formula whose kinds do not fit.
	apply func() (undo func(), applies bool)
}

// changesOf lists the changes of a page, in the order of its parts.
func changesOf(s *page.Sheet) []change {
	out := constants(s)
	out = append(out, drawn(s)...)
	for _, f := range s.Figures {
		if f.Node != nil && f.Formula != nil {
			out = append(out, formulaChanges(s, place{f.Name, f.Formula, &f.Node})...)
		}
	}
	for _, l := range s.Limits {
		if l.Node != nil {
			out = append(out, formulaChanges(s, place{"the limit", l.When, &l.Node})...)
		}
	}
	return append(out, rows(s)...)
}

// place is a formula of the page: its name in a sentence, its text and its tree.
type place struct {
	name string
	text *formula.Formula
	node **formula.Node
}

// places lists the formulas whose values a page shows.
func places(s *page.Sheet) []place {
	var out []place
	for _, f := range s.Figures {
		if f.Node != nil {
			out = append(out, place{f.Name, f.Formula, &f.Node})
		}
	}
	for _, l := range s.Limits {
		if l.Node != nil {
			out = append(out, place{"the limit", l.When, &l.Node})
		}
	}
	for _, u := range s.Uses {
		for i := range u.At {
			if set := &u.At[i]; set.Node != nil {
				out = append(out, place{u.Name, set.Formula, &set.Node})
			}
		}
	}
	return out
}
