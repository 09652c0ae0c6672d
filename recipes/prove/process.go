package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Timed is one step of a process in a case.
type Timed struct {
	Step *page.Step
	// HasTime is false for a step that has no time of its own; it is not counted.
	HasTime bool
	// Missing says that its time waits for a reading, or has a text in its place, which is then in
	// Shown. HasTime is false, and Start is NaN for all later steps, since it is not known when
	// they begin.
	Missing bool
	// Shown is the step's time as written, and Length the same in seconds; Start is when it begins
	// on the running clock.
	Shown  quantity.Shown
	Length float64
	Start  float64
	// Moments are when the tank is moved again, Pour when pouring out begins, both in seconds from
	// the step's start; Pour is Length if pouring out begins at the end.
	Moments []float64
	Pour    float64
}

// Process works out the steps in this case. Clock and total use the times as shown, so that what
// is printed adds up. If the case is refused, or a time is negative or not finite, ok is false
// and there are no times at all. If a step's time is missing, the total is NaN.
func (c *Case) Process() (steps []Timed, total float64, ok bool) {
	refused := c.Refused()
	for _, st := range c.Sheet.Steps {
		t := Timed{Step: st}
		if st.Node != nil {
			t.HasTime = true
			if !refused {
				c.Frame.Reset()
				v := st.Node.Eval(&c.Frame)
				if c.Frame.Fault == formula.Missing {
					t.Start = total
					t.HasTime, t.Missing, t.Shown = false, true, c.Instead(c.Frame.At.MissingSlot(&c.Frame))
					total = nan
					steps = append(steps, t)
					continue
				}
				if c.Frame.Fault != formula.None || quantity.Less(v, 0) {
					return c.untimedSteps(), 0, false
				}
				t.Shown = st.Show.Format(v)
				t.Length = v
				if back, trouble := quantity.Parse(t.Shown.Text); trouble == nil {
					t.Length = back.Base
				}
				t.Start = total
				total += t.Length
				drain := 0.0
				if st.Drain != nil {
					drain = st.Drain.Base
				}
				t.Pour = max(0, t.Length-drain)
				t.Moments = st.Agitate.Moments(t.Length, drain)
			}
		}
		steps = append(steps, t)
	}
	return steps, total, !refused
}

// untimedSteps lists the steps without times.
func (c *Case) untimedSteps() []Timed {
	var out []Timed
	for _, st := range c.Sheet.Steps {
		out = append(out, Timed{Step: st, HasTime: st.Node != nil})
	}
	return out
}
