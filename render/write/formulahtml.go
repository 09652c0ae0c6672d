package write

import (
	"html/template"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/highlight"
)

// numbersHTML sets a formula with its numbers put in.
func numbersHTML(text string) template.HTML { return template.HTML(highlight.FormulaText(text)) }

// exactly is the value that a formula takes for a name, with all its digits: what was
// rounded to be shown would not give the result that stands below.
func exactly(run *prove.Case, ref formula.Reference) (string, bool) {
	sh := run.Sheet
	if ref.Of != "" {
		for _, u := range sh.Uses {
			if u.Name == ref.Of && run.Inside(u) != nil {
				return exactly(run.Inside(u), formula.Reference{Name: ref.Name})
			}
		}
		return run.ShownOf(ref.Of, ref.Name)
	}
	if g := sh.GivenNamed(ref.Name); g != nil {
		text := plainShown(run.ShownGiven(g))
		if part, added, ok := strings.Cut(text, "+"); ok && g.Kind == quantity.Number { // in a formula 1+100 would be a sum
			text = "dilution(" + part + ", " + added + ")"
		}
		return text, true
	}
	if f := sh.Figure(ref.Name); f != nil {
		return unrounded(f, run), true
	}
	return "", false
}

// unrounded is a figure's value with all its digits, in the unit that it is shown in.
func unrounded(f *page.Figure, run *prove.Case) string {
	show := f.Show
	if run.Missing(f.Slot) {
		return plainShown(run.Shown(f))
	}
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
