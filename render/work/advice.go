package work

import "labsite/recipes/source"

// Advice is for whoever writes the page, and stops nothing, not even with --firm: fixed values
// without a source, results without a check, what the lab has still to measure. The preview and a
// check at the terminal give the same advice. A page that is not worked out gets none.
func (p *Page) Advice() source.List {
	if p.Sheet == nil || !p.Resolved {
		return nil
	}
	var out source.List
	for _, g := range p.Sheet.Given {
		if !g.Settable() && !g.Today && g.Source == "" {
			out = append(out, source.GivenWithoutSource(g.Name).At(g.Span))
		}
	}
	if !p.approved() { // on an approved page these are errors
		for _, w := range p.Sheet.Wanting() {
			said := source.NotMeasured(w.What)
			if w.Owner {
				said = source.NotOwned(w.What)
			}
			out = append(out, said.At(w.Span))
		}
	}
	for _, f := range p.Sheet.Figures {
		if f.Label != "" && len(Guards(p.Sheet, f.Name)) == 0 {
			out = append(out, source.FigureUnguarded(f.Name).At(f.Span))
		}
	}
	return out
}
