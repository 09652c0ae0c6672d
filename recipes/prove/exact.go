package prove

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// WithNumbers is a formula with the numbers of this case in place of names. They have all their
// digits, since rounded numbers would not give the result shown. The browser's runtime writes the
// same (script/runtime/further.js) and must change with this.
func (c *Case) WithNumbers(f *formula.Formula) string { return f.With(c.exactly) }

// exactly is the value that a formula uses for a name.
func (c *Case) exactly(ref formula.Reference) (string, bool) {
	sh := c.Sheet
	if ref.Of != "" {
		for _, u := range sh.Uses {
			if u.Name == ref.Of && c.Inside(u) != nil {
				return c.Inside(u).exactly(formula.Reference{Name: ref.Name})
			}
		}
		return c.ShownOf(ref.Of, ref.Name)
	}
	if g := sh.GivenNamed(ref.Name); g != nil {
		text := Plain(c.ShownGiven(g))
		if part, added, ok := strings.Cut(text, "+"); ok && g.Kind == quantity.Number { // in a formula 1+100 would be a sum
			text = "dilution(" + part + ", " + added + ")"
		}
		return text, true
	}
	if f := sh.Figure(ref.Name); f != nil {
		return c.Unrounded(f), true
	}
	return "", false
}

// Unrounded is a figure's value with all its digits, in the unit that it is shown in. If it is
// shown without rounding, it stays as it is shown.
func (c *Case) Unrounded(f *page.Figure) string {
	shown := c.Shown(f)
	if shown.Missing {
		return Plain(shown)
	}
	if f.Show.Style == quantity.Truth || f.Show.Style == quantity.Choice {
		return shown.Text
	}
	base := c.Frame.V[f.Slot]
	if back, t := quantity.ParseExpected(shown.Text); t == nil && quantity.Equal(back.Base, base) {
		return shown.Text
	}
	return quantity.Show{Style: quantity.Written, Unit: f.Show.Unit}.Format(base).Text
}

// Plain is a shown value as plain text; three dots if it waits for a reading.
func Plain(s quantity.Shown) string {
	if s.Missing && s.Text == "" {
		return "…"
	}
	return s.Machine()
}
