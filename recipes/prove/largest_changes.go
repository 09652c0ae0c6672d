package prove

import (
	"context"
	"math"
	"reflect"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Change is a figure that two states of a page show differently at the same settings.
type Change struct {
	Figure *page.Figure
	// At are the given values of the case that are not the page's own, as "rolls 2"; "" at its
	// own values.
	At string
	// Before and After are as shown; NoNumber where the case has none.
	Before, After string
	// Moved is in how many of Cases cases the two differ; they differ most in this one.
	Moved, Cases int
}

// NoNumber stands for a number that a page refuses.
const NoNumber = "no number"

// LargestChanges finds, for each labelled figure that both states of a page have, the case in which
// it differs most as shown. The cases are those of the new state, without those that the old one
// cannot be set to. If ctx ends meanwhile, there is no result.
func LargestChanges(ctx context.Context, old, now *page.Sheet) []Change {
	p := newPair(old, now)
	EachCase(now, p.now, func() bool {
		p.compare()
		return ctx.Err() == nil
	})
	if ctx.Err() != nil {
		return nil
	}
	var out []Change
	for _, x := range p.figures {
		if x.Moved > 0 {
			x.Cases = p.cases
			out = append(out, x.Change)
		}
	}
	return out
}

// pair is a page in two states, worked out side by side.
type pair struct {
	old, now *Case
	figures  []*moved
	cases    int
}

type moved struct {
	Change
	was *page.Figure
	// alike says that both states show a value in the same form, so that equal values need not be
	// formatted to be compared.
	alike bool
	by    float64 // how much, as a share of the larger; infinite if one has no number
	set   int     // how many given values are not the page's own in that case
}

func newPair(old, now *page.Sheet) *pair {
	p := &pair{old: NewCase(old), now: NewCase(now)}
	for _, f := range now.Figures {
		if was := old.Figure(f.Name); f.Label != "" && f.Node != nil && was != nil && was.Node != nil {
			p.figures = append(p.figures, &moved{Change: Change{Figure: f}, was: was, alike: reflect.DeepEqual(f.Show, was.Show) && f.Kind.Sort != quantity.Word})
		}
	}
	return p
}

// set sets the old state to the values of the new one; false if it does not take them.
func (p *pair) set() bool {
	for _, was := range p.old.Sheet.Given {
		g := p.now.Sheet.GivenNamed(was.Name)
		if g == nil || !was.Settable() || !g.Settable() || g.Kind != was.Kind {
			continue // each keeps its own value
		}
		v := p.now.Frame.V[g.Slot]
		if len(g.Words) > 0 {
			found := -1
			for i, w := range was.Words {
				if int(v) < len(g.Words) && w == g.Words[int(v)] {
					found = i
				}
			}
			if v = float64(found); found < 0 {
				return false
			}
		}
		if !was.Takes(v) {
			return false
		}
		p.old.Set(was, v)
	}
	return true
}

func (p *pair) compare() {
	if !p.set() {
		return
	}
	p.cases++
	p.old.Work()
	p.now.Work()
	text := func(c *Case, f *page.Figure) string {
		if c.Refused() || len(c.Failed) > 0 {
			return NoNumber
		}
		return c.Shown(f).Text
	}
	fine := !p.old.Refused() && !p.now.Refused() && len(p.old.Failed)+len(p.now.Failed) == 0
	for _, x := range p.figures {
		if fine && x.alike && p.old.Frame.V[x.was.Slot] == p.now.Frame.V[x.Figure.Slot] {
			continue
		}
		before, after := text(p.old, x.was), text(p.now, x.Figure)
		if before == after {
			continue
		}
		x.Moved++
		by := math.Inf(1)
		if before != NoNumber && after != NoNumber {
			a, b := p.old.Frame.V[x.was.Slot], p.now.Frame.V[x.Figure.Slot]
			by = math.Abs(b-a) / max(math.Abs(a), math.Abs(b), math.SmallestNonzeroFloat64)
		}
		if set := p.now.countSet(); x.Moved == 1 || by > x.by*asLarge || by*asLarge > x.by && set < x.set {
			x.by, x.set, x.At, x.Before, x.After = by, set, p.now.changedSettings(), before, after
		}
	}
}

// asLarge is the ratio up to which two changes count as equally large, so that the one with fewer
// settings is chosen.
const asLarge = 1.01

// countSet counts the given values of a case that are not the page's own.
func (c *Case) countSet() int {
	n := 0
	for _, g := range c.Sheet.Given {
		if c.Frame.V[g.Slot] != g.Own {
			n++
		}
	}
	return n
}

// changedSettings says which given values of a case are not the page's own.
func (c *Case) changedSettings() string {
	var set []page.Setting
	for _, g := range c.Sheet.Given {
		if v := c.Frame.V[g.Slot]; v != g.Own {
			set = append(set, page.Setting{Text: g.Name + " " + g.Shown(v).Text})
		}
	}
	if len(set) == 0 {
		return ""
	}
	return settingsText(set)
}
