package site

import (
	"html/template"

	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/render/highlight"
)

// numbersHTML sets a formula with its numbers put in.
func numbersHTML(text string) template.HTML { return template.HTML(highlight.FormulaText(text)) }

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
