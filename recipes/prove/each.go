package prove

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/page"
)

// mostEach bounds the settings that a rule is worked out at one by one.
const mostEach = 1024

// each works a rule out at every setting that it, or a refusal of the page, depends on, provided
// these are few and all are choices or whole numbers. The others keep the page's own values. What
// follows the calendar is left to boxes, which cover every day.
func (c *continuous) each(n *formula.Node, among uint64, breaks func(*Case) bool) (outcome, []float64) {
	if breaks == nil || len(c.all.axes) > 64 || c.sheet.DependsOnToday(n) {
		return open, nil
	}
	reasons := c.reasons()
	for grown := true; grown; {
		grown = false
		for _, r := range reasons {
			if r.axes&among == 0 {
				continue
			}
			if r.day {
				return open, nil
			}
			if r.axes&^among != 0 {
				among, grown = among|r.axes, true
			}
		}
	}
	count := 1
	var axes []int
	for i, s := range c.all.axes {
		if among&(1<<i) == 0 {
			continue
		}
		few := s.Values()
		if count *= max(1, len(few)); few == nil || count > mostEach {
			return open, nil
		}
		axes = append(axes, i)
	}
	for at := range count {
		if c.ctx.Err() != nil {
			return open, nil
		}
		for _, g := range c.sheet.Given {
			c.run.Set(g, g.Own)
		}
		for _, i := range axes {
			few := c.all.axes[i].Values()
			c.run.Set(c.all.given[i], few[at%len(few)])
			at /= len(few)
		}
		if c.run.Work(); c.run.Refused() {
			continue
		}
		if len(c.run.Failed) > 0 {
			return open, nil
		}
		if breaks(c.run) {
			return broken, c.run.values()
		}
	}
	return proved, nil
}

// reason is something that may make a page refuse: a bit for each axis that it depends on, and
// whether it follows the calendar.
type reason struct {
	axes uint64
	day  bool
}

// reasons lists all of them: limits, formulas that may refuse by themselves, and the pages drawn
// on, which depend on what this page sets there.
func (c *continuous) reasons() (out []reason) {
	s := c.sheet
	add := func(n *formula.Node) { out = append(out, reason{c.follows(n), s.DependsOnToday(n)}) }
	for _, l := range s.Limits {
		if l.Node != nil && (l.Kind == page.Refuse || refusing(l.Node)) {
			add(l.Node)
		}
	}
	for _, step := range s.Program {
		switch {
		case step.Use != nil:
			_, _, day := s.Day() // which may be that of the page drawn on
			u := reason{day: day}
			for _, set := range step.Use.At {
				if set.Node != nil {
					u.axes |= c.follows(set.Node)
				}
			}
			out = append(out, u)
		case step.Added != nil:
			if a := step.Added; a.Node != nil && a.Column.Live && refusing(a.Node) {
				out = append(out, reason{math.MaxUint64, s.DependsOnToday(a.Node)})
			}
		case step.Figure.Node != nil && refusing(step.Figure.Node):
			add(step.Figure.Node)
		}
	}
	return out
}
