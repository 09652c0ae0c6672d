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
// column. The chart shows it, and a check reports it.
type Judged struct {
	control.Judged // its Why is ordered by row of the data file; nil if nothing is judged
	// Order lists the rows of the data file in order of time.
	Order []int
	// Stop says for each row whether it lies beyond the lab's own control limit.
	Stop []bool
	// Off says for each row beyond a limit how far it lies off the lab's own aim.
	Off []string
	// Wanting is how many more readings are needed before limits can be worked out.
	Wanting int
}

// Judge judges a chart's points by its limits in this case. If the page refuses, or an aim waits
// for a reading, nothing is judged.
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
	if err != nil { // such as a cell too large to compute with
		return j
	}
	j.Judged = *found
	j.Why = make([]string, len(j.Order))
	for k, row := range j.Order {
		j.Why[row] = found.Why[k]
	}
	return j
}

// judgeByAim judges points by the lab's own aim and limits.
func (c *Case) judgeByAim(x *page.Chart, j *Judged) {
	if c.Refused() {
		return
	}
	aim := control.Aim{Value: c.named(x.Limits.Aim), Action: c.named(x.Limits.Action), Control: c.named(x.Limits.Control)}
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
		off, verdict, err := aim.Judge(v)
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
	j.Lines = append(j.Lines, control.Line{Name: "Aim", Value: aim.Value, Weight: control.Centre})
	for _, sign := range []float64{1, -1} {
		j.Lines = append(j.Lines, control.Line{Name: "Action", Value: aim.Value + sign*aim.Action, Weight: control.Action},
			control.Line{Name: "Control", Value: aim.Value + sign*aim.Control, Weight: control.Limit})
	}
}

// beyond lists the rows of points beyond a limit, in order of time.
func (j *Judged) beyond() []int {
	if j.Why == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(j.Order), func(row int) bool { return j.Why[row] == "" })
}
