package site

import "labsite/recipes/source"

// Advice is what somebody who writes a page may want to know of it, and what is no report:
// values taken as fixed without a source, results without a check. The preview and a check at
// the terminal say the same; it stops nothing, however strict. There is none of a page that
// is not worked out.
func (t *Topic) Advice() source.List {
	if t.Sheet == nil || !t.Resolved {
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

// Advice is that of a page of an open site, by its path.
func (s *Site) Advice(page string) source.List {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	if t := s.byPath[page]; t != nil && t.state.read {
		return t.Advice()
	}
	return nil
}
