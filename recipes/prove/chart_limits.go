package prove

import (
	"context"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// inOrder reports whether a lab's own limits make sense in a case: an action limit of zero or more,
// and a control limit no smaller. Limits the other way round would judge readings wrongly.
func inOrder(l *page.ChartLimits, c *Case) bool {
	action, stop := c.named(l.Action), c.named(l.Control)
	return !quantity.Less(action, 0) && !quantity.Less(stop, action)
}

// named is the value of a given or a figure.
func (c *Case) named(name string) float64 {
	if g := c.Sheet.GivenNamed(name); g != nil {
		return c.Frame.V[g.Slot]
	}
	return c.Frame.V[c.Sheet.Figure(name).Slot]
}

func (c *Case) namedText(name string) string {
	if g := c.Sheet.GivenNamed(name); g != nil {
		return c.ShownGiven(g).Text
	}
	return c.Shown(c.Sheet.Figure(name)).Text
}

// crossedLimits reports limits that are out of order in a case, once for each chart.
func (c *Case) crossedLimits(ctx context.Context, said map[*page.ChartLimits]bool) source.List {
	var list source.List
	for _, x := range c.Sheet.Charts {
		l := x.Limits
		if l == nil || l.Method != "" || said[l] || inOrder(l, c) {
			continue
		}
		said[l] = true
		at, run := simplest(ctx, c.Sheet, c.values(), func(x *Case) bool {
			return !x.Refused() && len(x.Failed) == 0 && !inOrder(l, x)
		})
		list = append(list, source.LimitsCrossed(l.Action, run.namedText(l.Action), l.Control, run.namedText(l.Control), at).At(l.ActionAt))
	}
	return list
}
