package prove

import (
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// GridCell is one cell of a table: its figures as shown, or why there are none.
type GridCell struct {
	Shown []quantity.Shown
	// Refused says that no number is shown, and Why the reason: if its Limit is set, the text
	// of that limit in Run.
	Refused bool
	Why     Refusal
	Run     *Case
	// Own says that the cell is at the values of the case itself.
	Own bool
}

// Cells works out a table for a case: rows and columns run through their values, and all else
// stays as in the case. The result is rows of cells; a table without columns has one cell a row.
func Cells(g *page.Grid, c *Case) [][]GridCell {
	if g.Rows == nil {
		return nil
	}
	columns := []quantity.Value{{}}
	if g.Columns != nil {
		columns = g.Columns.Values
	}
	var out [][]GridCell
	for _, r := range g.Rows.Values {
		var row []GridCell
		for _, col := range columns {
			run := c.exampled()
			run.Set(g.Rows.Given, r.Base)
			own := quantity.Equal(r.Base, c.Frame.V[g.Rows.Given.Slot])
			if g.Columns != nil {
				run.Set(g.Columns.Given, col.Base)
				own = own && quantity.Equal(col.Base, c.Frame.V[g.Columns.Given.Slot])
			}
			run.Work()
			cell := GridCell{Own: own, Run: run}
			switch {
			case run.Refused():
				cell.Refused, cell.Why = true, run.foremost()
			case len(run.Failed) > 0:
				cell.Refused = true
			default:
				for _, f := range g.Cells {
					cell.Shown = append(cell.Shown, run.Shown(f))
				}
			}
			row = append(row, cell)
		}
		out = append(out, row)
	}
	return out
}

// foremost is the refusal to show where there is room for one: a limit's text before a formula's
// own reason, since it says what to do, and this page's limits before those of pages drawn on.
// The browser's runtime shows the same one. The case must be refused.
func (c *Case) foremost() Refusal {
	out := c.Refusals[0]
	for _, r := range c.Refusals {
		switch {
		case r.Limit != nil && r.From == nil:
			return r
		case r.Limit != nil && out.Limit == nil:
			out = r
		}
	}
	return out
}
