package page

import (
	"path"
	"strings"

	"labsite/recipes/source"
)

// Unmeasured begins the source of a value that only stands in until this lab has measured its
// own. A page with such a value may be written, tried and looked at, but not approved.
const Unmeasured = "not yet measured here"

// Nobody is the owner of a value that nobody answers for yet.
const Nobody = "nobody yet"

// Wanting is something that a lab has to do before a page may be approved.
type Wanting struct {
	// What is wanting, as a message says it: minimum, what stands in times.csv.
	What string
	// Owner says that only an owner is wanting.
	Owner bool
	Span  source.Span
}

// Wanting lists what the lab has still to measure, or to name an owner for: given values, data
// files, expected values and the page itself.
func (s *Sheet) Wanting() []Wanting {
	var out []Wanting
	for _, g := range s.Given {
		what := g.Name
		if g.Settable() && !g.Reading {
			what = "the range of " + g.Name
		}
		switch {
		case unmeasured(g.Source):
			out = append(out, Wanting{What: what, Span: g.Span})
		case g.Owner == Nobody:
			out = append(out, Wanting{What: g.Name, Owner: true, Span: g.Span})
		}
	}
	for _, f := range s.Data {
		if unmeasured(f.Source) {
			out = append(out, Wanting{What: "what stands in " + path.Base(f.Path), Span: f.Span})
		}
	}
	for _, c := range s.Checks {
		if unmeasured(c.Source) {
			out = append(out, Wanting{What: "what this check expects", Span: c.Span})
		}
	}
	if c := s.Control; c != nil && c.Owner == Nobody {
		out = append(out, Wanting{What: "the page " + c.Number, Owner: true, Span: c.Span})
	}
	return out
}

func unmeasured(origin string) bool { return strings.HasPrefix(strings.TrimSpace(origin), Unmeasured) }
