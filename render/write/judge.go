package write

import (
	"fmt"
	"strings"

	"labsite/recipes/control"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/render/chart"
)

// weights gives the kind of a chart's limit for each weight of a control line.
var weights = map[control.Weight]chart.LimitKind{control.Centre: chart.Centre, control.Action: chart.Action, control.Limit: chart.Control}

// judge draws the limits of a chart's points and flags the points beyond them; y is a value on the
// axis. If the points cannot be judged, there are no flags.
func (p *pager) judge(c *page.Chart, y func(float64) float64, marks *chart.Marks, out *chart.Chart) {
	j := p.filler.run.Judge(c)
	for _, l := range j.Lines {
		out.Limits = append(out.Limits, chart.Limit{Name: l.Name, Y: y(l.Value), Kind: weights[l.Weight]})
	}
	if j.Averages != nil {
		line := chart.Line{Name: "weighted average"}
		for k, v := range j.Averages {
			line.Points = append(line.Points, chart.Point{X: marks.Points[j.Order[k]].X, Y: y(v), OK: true})
		}
		out.Lines = append(out.Lines, line)
	}
	marks.Flags = j.Why
	out.Note = baselineNote(c, j)
}

// baselineNote says from which readings limits were worked out, or how many are wanting; "" for
// limits of the lab's own.
func baselineNote(c *page.Chart, j *prove.Judged) string {
	n, x := c.Limits.Baseline, c.Points.X
	switch {
	case c.Limits.Method == "":
		return ""
	case j.Wanting > 0:
		return fmt.Sprintf("No limits yet: they are worked out from the first %d readings, of which %s.", n, wanting(j.Wanting))
	}
	at := func(k int) string {
		text := x.Values[j.Order[k]].Text
		if day := isoDate(text); day.ISO != "" {
			return day.Shown
		}
		return text
	}
	note := fmt.Sprintf("The limits are those of the first %d readings, from %s to %s, and stay as they are.", n, at(0), at(n-1))
	var looks []string
	for _, l := range j.Looks[max(0, len(j.Looks)-mostLooks):] {
		looks = append(looks, fmt.Sprintf("%s (up to %s)", l.Why, at(l.At)))
	}
	if len(looks) > 0 {
		note += " Worth a look, and no alarm: " + strings.Join(looks, "; ") + "."
	}
	return note
}

// mostLooks is how many patterns a note names, the newest ones.
const mostLooks = 3

func wanting(n int) string {
	if n == 1 {
		return "1 is wanting"
	}
	return fmt.Sprintf("%d are wanting", n)
}
