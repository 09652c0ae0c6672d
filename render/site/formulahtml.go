package site

import (
	"html/template"

	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// formulaHTML sets a formula; blanks inside quantities do not break.
func formulaHTML(text string) template.HTML {
	var out template.HTML
	last := 0
	for _, f := range quantity.Find(text) {
		out += escaped(text[last:f.Start]) + template.HTML(quantityText(f.Text))
		last = f.End
	}
	return out + escaped(text[last:])
}

// unrounded is a figure's value with all its digits, in the unit that it is shown in.
func unrounded(f *sheet.Figure, run *sheet.Case) string {
	show := f.Show
	switch show.Style {
	case quantity.Truth, quantity.Choice:
		return run.Shown(f).Text
	}
	base := run.Frame.V[f.Slot]
	exact := quantity.Show{Style: quantity.Written, Unit: show.Unit}
	if show.Style == quantity.Clock {
		if back, t := quantity.ParseExpected(run.Shown(f).Text); t == nil && quantity.Equal(back.Base, base) {
			return run.Shown(f).Text
		}
	}
	text := exact.Format(base).Text
	if back, t := quantity.ParseExpected(run.Shown(f).Text); t == nil && quantity.Equal(back.Base, base) {
		return run.Shown(f).Text
	}
	return text
}
