package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// noTime is what is wrong with the time of a step.
type noTime uint8

const (
	fineTime noTime = iota
	negativeTime
	endlessTime
)

// timeOf checks the time of a step in a case that was worked out, and returns its seconds. A time
// that waits for a reading, or is refused, is fine: the page then shows no time.
func (c *Case) timeOf(st *page.Step) (noTime, float64) {
	if st.Node == nil {
		return fineTime, 0
	}
	c.Frame.Reset()
	v := st.Node.Eval(&c.Frame)
	switch fault := c.Frame.Fault; {
	case fault == formula.None && quantity.Less(v, 0):
		return negativeTime, v
	case fault == formula.None || fault == formula.Missing || fault.Refuses():
		return fineTime, v
	}
	return endlessTime, v
}

// stepsRefused reports steps whose time is refused at the page's own values, such as by a lookup
// that finds no row: the page would show no time.
func (c *Case) stepsRefused() (list source.List) {
	if c.Refused() {
		return nil
	}
	for _, st := range c.Sheet.Steps {
		if st.Node == nil {
			continue
		}
		c.Frame.Reset()
		st.Node.Eval(&c.Frame)
		if fault := c.Frame.Fault; fault.Refuses() {
			at := c.Frame.At
			list = append(list, source.RefusedAtOwn(c.reason(fault, at)).At(st.For.SpanOf(at)))
		}
	}
	return list
}

// stepTimes reports steps whose time in the present case is negative or no number, each once: the
// page would show no time at all.
func (t *trial) stepTimes() {
	for _, st := range t.sheet.Steps {
		is, _ := t.run.timeOf(st)
		if is == fineTime || t.timed[st] {
			continue
		}
		t.timed[st] = true
		at, run := simplest(t.ctx, t.sheet, t.run.values(), func(c *Case) bool {
			found, _ := c.timeOf(st)
			return !c.Refused() && len(c.Failed) == 0 && found == is
		})
		if is == endlessTime {
			t.list = append(t.list, source.NotFinite("the time of this step", at).At(st.For.Span()))
			continue
		}
		_, v := run.timeOf(st)
		t.list = append(t.list, source.StepNegative(at, st.Show.Format(v).Text).At(st.For.Span()))
	}
}
