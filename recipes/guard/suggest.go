package guard

import (
	"math"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// suggest makes the check that would have noticed a change, at the simplest of the cases where
// it matters, and undoes the change.
func (t *trial) suggest(f found, undo func(), apply func() (func(), bool)) string {
	changed := true
	defer func() {
		if changed {
			undo()
		}
	}()
	// look gives what the page gives at some values unchanged, and leaves the changed page
	// worked out there.
	look := func(values []float64) outcome {
		undo()
		changed = false
		before := t.at(values)
		if undo, changed = apply(); changed {
			t.put(values)
			t.run.Work()
		}
		return before
	}
	values := t.simplest(t.clearest(f), func(values []float64) bool {
		before := look(values)
		return t.differs(&before) && t.awkwardness(&before) == 0
	})
	before := look(values)
	at := t.atText(values)
	if before.refused {
		return at + "expect: refused"
	}
	if before.failed {
		return ""
	}
	if t.run.Refused() {
		return at + t.expectText(&before, nil)
	}
	if f := t.figureDiffers(&before); f != nil {
		return at + t.expectText(&before, f)
	}
	if kind := t.limitsDiffer(&before); kind != "" {
		if before.limits[kind] > 0 {
			return at + "expect: " + string(kind)
		}
		return at + "expect: no " + string(kind)
	}
	return ""
}

// awkwardness is how badly a difference suits a check: a figure without a label may be shown in a
// unit that nobody writes.
func (t *trial) awkwardness(before *outcome) int {
	if before.refused || t.run.Refused() || t.limitsDiffer(before) != "" {
		return 0
	}
	if f := t.figureDiffers(before); f != nil && f.Label == "" {
		return 2
	}
	return 0
}

// at is what the page gives at some values, as it is now.
func (t *trial) at(values []float64) outcome {
	t.put(values)
	t.run.Work()
	return t.outcome()
}

// clearest is the case with the fewest settings away from the page's own, among those whose
// difference suits a check best. The changed page is worked out there.
func (t *trial) clearest(f found) []float64 {
	own := t.own()
	best, least := f.cases[0], math.MaxInt
	for _, i := range f.cases {
		away := 0
		for k, v := range t.cases[i] {
			if v != own[k] {
				away++
			}
		}
		if away >= least {
			continue
		}
		t.put(t.cases[i])
		t.run.Work()
		if away += t.awkwardness(&t.unchanged[i]); away < least {
			best, least = i, away
		}
	}
	return slices.Clone(t.cases[best])
}

// simplest puts as many values as possible back to the page's own while it still matters.
func (t *trial) simplest(values []float64, matters func(values []float64) bool) []float64 {
	for i, v := range t.own() {
		if old := values[i]; old != v {
			if values[i] = v; !matters(values) {
				values[i] = old
			}
		}
	}
	return values
}

// atText is the settings of a check, for those away from the page's own. A day that follows
// the calendar is always written, since the check must hold tomorrow as well.
func (t *trial) atText(values []float64) string {
	var parts []string
	for i, g := range t.set {
		if values[i] != g.Own || g.Today {
			parts = append(parts, g.Name+": "+flow(settingText(g, values[i])))
		}
	}
	if len(parts) == 0 {
		return "- "
	}
	return "- at: {" + strings.Join(parts, ", ") + "}\n  "
}

// settingText writes a value so that it is read back as the same.
func settingText(g *page.Given, v float64) string {
	if g.Kind == quantity.Date {
		return quantity.ISODate(v)
	}
	text := g.Shown(v).Text
	if back, trouble := g.Set(text); trouble == nil && quantity.Equal(back, v) {
		return text
	}
	return quantity.Show{Style: quantity.Written, Unit: g.Show.Unit}.Format(v).Text
}

// expectText is what a figure shows unchanged; the first with a label where none is named.
func (t *trial) expectText(before *outcome, f *page.Figure) string {
	at := 0
	for i, x := range t.sheet.Figures {
		if x == f || f == nil && x.Label != "" {
			at = i
			break
		}
	}
	if len(before.figures) == 0 {
		return ""
	}
	x := t.sheet.Figures[at]
	return "expect: {" + x.Name + ": " + flow(x.Show.Format(before.figures[at]).Text) + "}"
}

// flow writes a text as YAML takes it within braces.
func flow(text string) string {
	if strings.ContainsAny(text, ",:{}[]#&*!|>'\"%@`") || strings.HasPrefix(text, "-") || strings.HasPrefix(text, "?") {
		return `"` + strings.ReplaceAll(strings.ReplaceAll(text, `\`, `\\`), `"`, `\"`) + `"`
	}
	return text
}
