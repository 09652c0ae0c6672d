package site

import "labsite/recipes/source"

// Advice is what somebody who writes a page may want to know of it and what stops no
// publishing: values taken as fixed without a source, results without a check.
func (s *Site) Advice(page string) source.List {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	t := s.byPath[page]
	if t == nil || t.Sheet == nil || !t.state.read || !t.Resolved {
		return nil
	}
	var out source.List
	for _, g := range t.Sheet.Given {
		if !g.Settable() && g.Source == "" {
			out = append(out, source.GivenWithoutSource(g.Name).At(g.Span))
		}
	}
	for _, f := range t.Sheet.Figures {
		if f.Label != "" && len(guards(t, f.Name)) == 0 {
			out = append(out, source.FigureUnguarded(f.Name).At(f.Span))
		}
	}
	return out
}
