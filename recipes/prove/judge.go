package prove

import (
	"fmt"
	"math"
	"slices"

	"labsite/recipes/control"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Judged is what the limits of a chart say of its measured points, in the base unit of their
// column. The chart shows it, and a check tells it.
type Judged struct {
	control.Judged // its Why is by row of the data file; nil if nothing is judged
	// Order lists the rows of the data file in order of time.
	Order []int
	// Stop says for each row whether it lies beyond the shop's own control limit.
	Stop []bool
	// Off says for each row beyond a limit how far it lies off the shop's own aim.
	Off []string
	// Wanting is how many readings are missing until limits can be worked out.
	Wanting int
}

// Judge holds a chart's points to its limits in this case. Where an aim waits for a reading, or
// the page refuses, nothing is judged.
func (c *Case) Judge(x *page.Chart) *Judged {
	y := x.Points.Y
	j := &Judged{Order: x.Points.InTime(&c.Frame)}
	if x.Limits.Method == "" {
		c.judgeByAim(x, j)
		return j
	}
	if j.Wanting = max(0, x.Limits.Baseline-len(y.Cells)); j.Wanting > 0 {
		return j
	}
	readings := make([]float64, len(j.Order))
	for k, row := range j.Order {
		readings[k] = y.Cells[row]
	}
	judge := control.JudgeIndividuals
	if x.Limits.Method == "ewma" {
		judge = control.JudgeAverages
	}
	found, err := judge(readings, x.Limits.Baseline)
	if err != nil { // a cell beyond what can be reckoned with
		return j
	}
	j.Judged = *found
	j.Why = make([]string, len(j.Order))
	for k, row := range j.Order {
		j.Why[row] = found.Why[k]
	}
	return j
}

// judgeByAim holds points to the shop's own aim and limits.
func (c *Case) judgeByAim(x *page.Chart, j *Judged) {
	if c.Refused() {
		return
	}
	held := control.Aim{Value: c.named(x.Limits.Aim), Action: c.named(x.Limits.Action), Control: c.named(x.Limits.Control)}
	y := x.Points.Y
	count := x.Points.Count()
	why, stop, offs := make([]string, count), make([]bool, count), make([]string, count)
	show := quantity.DefaultShow(y.Kind.Difference(), quantity.Difference(y.Unit))
	show.Signed = true
	for row := range count {
		v := y.Cell(&c.Frame, row)
		if y.Live && math.IsNaN(v) {
			continue // it waits for a reading
		}
		off, verdict, err := held.Judge(v)
		if err != nil { // such as an aim that waits for a reading
			return
		}
		if verdict == control.Fine {
			continue
		}
		offs[row] = show.Format(off).Text
		if stop[row] = verdict == control.Stop; stop[row] {
			why[row] = fmt.Sprintf("beyond the control limit (%s off aim): stop work", offs[row])
		} else {
			why[row] = fmt.Sprintf("beyond the action limit (%s off aim): find the cause", offs[row])
		}
	}
	j.Why, j.Stop, j.Off = why, stop, offs
	j.Lines = append(j.Lines, control.Line{Name: "Aim", Value: held.Value, Weight: control.Centre})
	for _, sign := range []float64{1, -1} {
		j.Lines = append(j.Lines, control.Line{Name: "Action", Value: held.Value + sign*held.Action, Weight: control.Action},
			control.Line{Name: "Control", Value: held.Value + sign*held.Control, Weight: control.Limit})
	}
}

// beyond lists the rows of points out of limits, in order of time.
func (j *Judged) beyond() []int {
	if j.Why == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(j.Order), func(row int) bool { return j.Why[row] == "" })
}
