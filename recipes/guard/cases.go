package guard

import (
	"context"
	"math"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

// trial is a page with what it gives in every case, before anything is changed.
type trial struct {
	ctx   context.Context
	sheet *page.Sheet
	run   *prove.Case
	// set are the given values that a reader can set; cases holds their values, one case after
	// another, and unchanged what the page gives there.
	set       []*page.Given
	cases     [][]float64
	unchanged []outcome
	rules     []*page.Check
	expects   []*page.Check
}

// outcome is what a page gives in a case.
type outcome struct {
	refused, failed bool
	limits          map[page.LimitKind]int
	figures         []float64
}

func newTrial(ctx context.Context, s *page.Sheet) *trial {
	t := &trial{ctx: ctx, sheet: s, run: prove.NewCase(s)}
	for _, g := range s.Given {
		if g.Settable() {
			t.set = append(t.set, g)
		}
	}
	for _, c := range s.Checks {
		switch {
		case c.Always == nil:
			t.expects = append(t.expects, c)
		case c.Node != nil:
			t.rules = append(t.rules, c)
		}
	}
	take := func() bool {
		values := make([]float64, len(t.set))
		for i, g := range t.set {
			values[i] = t.run.Frame.V[g.Slot]
		}
		t.cases = append(t.cases, values)
		t.unchanged = append(t.unchanged, t.outcome())
		return ctx.Err() == nil
	}
	prove.EachCase(s, t.run, func() bool { t.run.Work(); return take() })
	for _, values := range t.edges() {
		t.put(values)
		t.run.Work()
		take()
	}
	return t
}

// put sets the given values of a case; those that cannot be set keep the page's own.
func (t *trial) put(values []float64) {
	t.run.Room()
	for _, g := range t.sheet.Given {
		t.run.Set(g, g.Own)
	}
	for i, g := range t.set {
		t.run.Set(g, values[i])
	}
}

func (t *trial) outcome() outcome {
	out := outcome{refused: t.run.Refused(), failed: len(t.run.Failed) > 0}
	if out.refused || out.failed {
		return out
	}
	for _, l := range t.run.Holding {
		if out.limits == nil {
			out.limits = map[page.LimitKind]int{}
		}
		out.limits[l.Kind]++
	}
	out.figures = make([]float64, len(t.sheet.Figures))
	for i, f := range t.sheet.Figures {
		out.figures[i] = t.run.Frame.V[f.Slot]
	}
	return out
}

// differs reports whether the case just worked out shows anything other than it did unchanged, so
// that a check could tell.
func (t *trial) differs(before *outcome) bool {
	if refused := t.run.Refused(); refused || before.refused {
		return refused != before.refused
	}
	if before.failed {
		return false
	}
	if t.limitsDiffer(before) != "" {
		return true
	}
	return t.figureDiffers(before) != nil
}

// limitsDiffer is a kind of limit of which one holds now and none did, or the reverse.
func (t *trial) limitsDiffer(before *outcome) page.LimitKind {
	if len(t.run.Holding) == 0 && len(before.limits) == 0 {
		return ""
	}
	for _, kind := range []page.LimitKind{page.Warning, page.Watch, page.Notice} {
		now := 0
		for _, l := range t.run.Holding {
			if l.Kind == kind {
				now++
			}
		}
		if (now > 0) != (before.limits[kind] > 0) {
			return kind
		}
	}
	return ""
}

// figureDiffers is a figure that is shown as another value than before, preferably one with a
// label.
func (t *trial) figureDiffers(before *outcome) *page.Figure {
	var found *page.Figure
	for i, f := range t.sheet.Figures {
		now, was := t.run.Frame.V[f.Slot], before.figures[i]
		if now == was || math.IsNaN(now) && math.IsNaN(was) || quantity.Equal(now, was) {
			continue
		}
		if f.Show.Format(now).Text == f.Show.Format(was).Text {
			continue
		}
		if f.Label != "" {
			return f
		}
		if found == nil {
			found = f
		}
	}
	return found
}
