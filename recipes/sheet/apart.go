package sheet

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// apart tells whether the limits that a shop holds readings to are in order at a case: an
// action limit of nothing or more, and a control limit no nearer than it. Readings held to
// others would be judged by neither.
func (l *ChartLimits) apart(c *Case) bool {
	action, stop := c.named(l.Action), c.named(l.Control)
	return !quantity.Less(action, 0) && !quantity.Less(stop, action)
}

// named is the value of a given or a figure.
func (c *Case) named(name string) float64 {
	if g := c.Sheet.given[name]; g != nil {
		return c.Frame.V[g.Slot]
	}
	return c.Frame.V[c.Sheet.figs[name].Slot]
}

func (c *Case) namedText(name string) string {
	if g := c.Sheet.given[name]; g != nil {
		return c.ShownGiven(g).Text
	}
	return c.Shown(c.Sheet.figs[name]).Text
}

// limitsApart reports limits of charts that are out of order in a case, once for each chart.
func (c *Case) limitsApart(said map[*ChartLimits]bool) source.List {
	var list source.List
	for _, x := range c.Sheet.Charts {
		l := x.Limits
		if l == nil || l.Method != "" || said[l] || l.apart(c) {
			continue
		}
		said[l] = true
		at, run := c.Sheet.simplest(c.values(), func(x *Case) bool {
			return !x.Refused() && len(x.Failed) == 0 && !l.apart(x)
		})
		list = append(list, source.LimitsCrossed(l.Action, run.namedText(l.Action), l.Control, run.namedText(l.Control), at).At(l.span))
	}
	return list
}
