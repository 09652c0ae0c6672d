package script

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// rowTables writes the tables of rows that depend on values that can be set: which rows may be
// shown and, for each column, its texts as written, or where its cells begin and how they are
// shown. All other tables of rows stay as published.
func (e *emitter) rowTables(s *page.Sheet) {
	n := 0
	for _, g := range s.Grids {
		t := g.Of
		if t == nil || !t.Live {
			continue
		}
		if n == 0 {
			e.out.WriteString(",rowTables:[")
		}
		e.comma(n)
		n++
		fmt.Fprintf(e.out, "{name:%s,rows:%s", quoted(g.Name), quoted(t.Rows))
		if t.Node != nil {
			fmt.Fprintf(e.out, ",row:%s,where:s=>%s", e.row(t.File, t.Rows, t.Node), e.Value(t.Node))
		}
		if o := t.Order; o != nil {
			cells := e.cellsOf(o, t.Rows)
			if o.Kind.Sort == quantity.Word && !o.Live {
				cells = quoted(textsOf(o, t.Rows)) // sorted as texts, not by their numbers
			}
			fmt.Fprintf(e.out, ",order:[%s,%t", cells, t.Falling)
			if o.Kind.Sort == quantity.Word && o.Live {
				e.out.WriteString("," + quoted(o.Words))
			}
			e.out.WriteByte(']')
		}
		var columns []string
		for _, c := range t.Columns {
			text := quoted(textsOf(c, t.Rows))
			if c.Live {
				text = e.show(c.Show())
			}
			column := "[" + e.cellsOf(c, t.Rows) + "," + text
			if slices.Contains(t.Totals, c) {
				column += "," + e.show(c.Show())
			}
			columns = append(columns, column+"]")
		}
		fmt.Fprintf(e.out, ",columns:[%s]}", strings.Join(columns, ","))
	}
	if n > 0 {
		e.out.WriteString("\n]")
	}
}

// cellsOf writes the cells of a column, with 0 for rows not listed, or the place in the frame where
// the cells of a live column begin.
func (e *emitter) cellsOf(c *page.Column, rows []int) string {
	if c.Live {
		return strconv.Itoa(e.place(c.Slot))
	}
	cells := make([]float64, len(c.Cells))
	for _, row := range rows {
		cells[row] = c.Cells[row]
	}
	return e.List(cells)
}

// textsOf lists the cells of a column as written, with "" for rows not listed.
func textsOf(c *page.Column, rows []int) []string {
	out := make([]string, len(c.Values))
	for _, row := range rows {
		out[row] = c.Values[row].Text
	}
	return out
}
