package site

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"labsite/recipes/control"
	"labsite/recipes/sheet"
	"labsite/render/chart"
)

// Weight and width of the weighted averages (EWMA) of a chart: from memory, the customary
// 0.2 and 3 sigma of the literature on process control.
const (
	averageWeight = 0.2
	averageWidth  = 3
)

// judge holds a chart's points to limits, in order of time, and flags those beyond.
func (p *pager) judge(c *sheet.Chart, marks *chart.Marks, out *chart.Chart) {
	order := make([]int, len(marks.Points))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(marks.Points[a].X, marks.Points[b].X) })
	readings := make([]float64, len(order))
	for k, i := range order {
		readings[k] = marks.Points[i].Y
	}
	marks.Flags = make([]string, len(order))
	flag := func(k int, why string) {
		if i := order[k]; marks.Flags[i] == "" {
			marks.Flags[i] = why
		} else if !strings.Contains(marks.Flags[i], why) {
			marks.Flags[i] += "; " + why
		}
	}
	limit := func(name string, y float64, kind chart.LimitKind) {
		out.Limits = append(out.Limits, chart.Limit{Name: name, Y: y, Kind: kind})
	}
	switch {
	case c.Limits.Method == "":
		if !p.judgeByAim(c, readings, flag, limit) {
			marks.Flags = nil
		}
	case c.Limits.Method == "individuals":
		single, err := control.SingleReadings(readings)
		if err != nil {
			marks.Flags = nil // too few readings: they are not judged
			return
		}
		limit("Mean", single.Readings.Centre, chart.Centre)
		limit("Limit", single.Readings.Upper, chart.Control)
		limit("Limit", single.Readings.Lower, chart.Control)
		if single.Sigma <= 0 {
			return
		}
		signals, err := control.Signals(readings, single.Readings.Centre, single.Sigma, control.NelsonTests())
		if err != nil {
			return
		}
		for _, s := range signals {
			flag(s.At, s.Rule.String())
		}
		for k, r := range single.Moving {
			if single.Ranges.Outside(r) != 0 {
				flag(k+1, "jump from the reading before beyond its limit")
			}
		}
	case c.Limits.Method == "ewma":
		single, err := control.SingleReadings(readings)
		if err != nil {
			marks.Flags = nil // too few readings: they are not judged
			return
		}
		centre := single.Readings.Centre
		averages, err := control.WeightedAverages(readings, averageWeight, centre)
		if err != nil {
			return
		}
		limit("Mean", centre, chart.Centre)
		line := chart.Line{Name: "weighted average"}
		for k, v := range averages {
			line.Points = append(line.Points, chart.Point{X: marks.Points[order[k]].X, Y: v, OK: true})
			band, err := control.AverageLimits(centre, single.Sigma, averageWeight, averageWidth, k+1)
			if err == nil && band.Outside(v) != 0 {
				flag(k, "weighted average beyond its limit")
			}
		}
		out.Lines = append(out.Lines, line)
		if band, err := control.SettledLimits(centre, single.Sigma, averageWeight, averageWidth); err == nil {
			limit("Limit", band.Upper, chart.Control)
			limit("Limit", band.Lower, chart.Control)
		}
	}
}

// judgeByAim holds readings to the shop's own aim and limits. Where the page refuses, there
// are no limits to show, and it is false.
func (p *pager) judgeByAim(c *sheet.Chart, readings []float64, flag func(int, string), limit func(string, float64, chart.LimitKind)) bool {
	aim, ok1 := p.valueOn(c, c.Limits.Aim, false)
	action, ok2 := p.valueOn(c, c.Limits.Action, true)
	stop, ok3 := p.valueOn(c, c.Limits.Control, true)
	if !ok1 || !ok2 || !ok3 {
		return false
	}
	limit("Aim", aim, chart.Centre)
	for _, sign := range []float64{1, -1} {
		limit("Action", aim+sign*action, chart.Action)
		limit("Control", aim+sign*stop, chart.Control)
	}
	held := control.Aim{Value: aim, Action: action, Control: stop}
	for k, r := range readings {
		off, verdict, err := held.Judge(r)
		switch {
		case err != nil:
			return false
		case verdict == control.Stop:
			flag(k, fmt.Sprintf("beyond the control limit (%s off aim): stop work", p.offText(c, off)))
		case verdict == control.Check:
			flag(k, fmt.Sprintf("beyond the action limit (%s off aim): find the cause", p.offText(c, off)))
		}
	}
	return true
}

func (p *pager) offText(c *sheet.Chart, off float64) string {
	text := fmt.Sprintf("%+.3g", off)
	if u := c.Points.Y.Unit.Text; u != "" {
		text += " " + u
	}
	return text
}

// valueOn is a given's or a figure's value on the axis of a chart's points.
func (p *pager) valueOn(c *sheet.Chart, name string, difference bool) (float64, bool) {
	run := p.fill.run
	unit := c.Points.Y.Unit
	base := 0.0
	if g := p.topic.Sheet.GivenNamed(name); g != nil {
		base = run.Frame.V[g.Slot]
	} else if f := p.topic.Sheet.Figure(name); f != nil && !run.Refused() {
		base = run.Frame.V[f.Slot]
	} else {
		return 0, false
	}
	if difference && unit.Factor != 0 {
		return base / unit.Factor, true
	}
	return onAxis(c.Points.Y.Kind, unit, base), true
}
