package script

import (
	"fmt"
	"strconv"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// livePoints writes the points of charts that depend on values that can be set: how many there are
// and, for each axis, their cells, or the place in the frame where these begin, and how they are
// shown. All other points stay as published, and so do those that are judged by limits.
func (e *emitter) livePoints(s *page.Sheet) {
	n := 0
	for _, c := range s.Charts {
		if c.Points == nil || !c.Points.Live() || c.Limits != nil {
			continue
		}
		if n == 0 {
			e.out.WriteString(",points:[")
		}
		e.comma(n)
		n++
		x, y := c.PointShows()
		fmt.Fprintf(e.out, "{name:%s,count:%d,x:[%s,%s],y:[%s,%s]}", quoted(c.Name), c.Points.Count(),
			e.pointCells(c.Points.X), e.show(x), e.pointCells(c.Points.Y), e.show(y))
	}
	if n > 0 {
		e.out.WriteString("\n]")
	}
}

// pointCells writes the cells of a column; dates that are texts become dates.
func (e *emitter) pointCells(c *page.Column) string {
	if c.Live {
		return strconv.Itoa(e.place(c.Slot))
	}
	if c.Kind.Sort != quantity.Word {
		return e.List(c.Cells)
	}
	days := make([]float64, len(c.Values))
	for i, v := range c.Values {
		if day, err := time.Parse(time.DateOnly, v.Text); err == nil {
			days[i] = float64(day.Unix())
		}
	}
	return e.List(days)
}
