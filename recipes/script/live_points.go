package script

import (
	"fmt"
	"strconv"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// livePoints writes the points of charts that depend on values which can be set, and are held to no
// limits: how many, and of each axis the cells or the place in the frame where they begin, and how
// they are shown. Others stay as they were published.
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

// pointCells are the cells of a column, dates written as texts among them.
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
