package write

import (
	"html/template"

	"labsite/recipes/prove"
	"labsite/render/theme"
)

// sureness shows how sure each result is, and what that mostly comes from.
func (p *pager) sureness() template.HTML {
	var v theme.Sureness
	run := p.filler.run
	if x := prove.NewPropagation(p.page.Sheet); x != nil && !run.Refused() {
		v.Bends, v.Unknown = prove.Bends, prove.Unknown
		for _, s := range x.At(run) {
			row := theme.SureFigure{Name: s.Figure.Name, Label: s.Figure.Label, Value: valueOf(run.Shown(s.Figure), "")}
			if shown := s.Shown(); shown != "" {
				row.GiveOrTake, row.Cause = quantityHTML(shown, ""), s.Cause()
			} else if run.Missing(s.Figure.Slot) {
				row.NotTold = "waits for a reading"
			} else {
				row.NotTold = s.NotTold()
			}
			v.Rows = append(v.Rows, row)
		}
	}
	return p.collect(p.Theme.Sureness(v))
}
