package prove

import (
	"cmp"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// TableRows lists the rows of a file that a table shows in this case, in the table's order. A row
// for which the condition cannot be worked out is shown.
func (c *Case) TableRows(t *page.RowTable) []int {
	rows := slices.Clone(t.Rows)
	if t.Live && t.Node != nil {
		c.Room()
		rows = slices.DeleteFunc(rows, func(row int) bool {
			t.File.SetRow(&c.Frame, row)
			c.Frame.Reset()
			return t.Node.Eval(&c.Frame) == 0 && c.Frame.Fault == formula.None
		})
	}
	if o := t.Order; o != nil {
		slices.SortStableFunc(rows, func(a, b int) int {
			x, y := o.Cell(&c.Frame, a), o.Cell(&c.Frame, b)
			by := cmp.Compare(x, y)
			if o.Kind.Sort == quantity.Word {
				by = strings.Compare(o.Words[int(x)], o.Words[int(y)])
			}
			if t.Falling {
				return -by
			}
			return by
		})
	}
	return rows
}

// Total is the sum of a column over some rows in this case.
func (c *Case) Total(of *page.Column, rows []int) quantity.Shown {
	cells := make([]float64, len(rows))
	for i, row := range rows {
		cells[i] = of.Cell(&c.Frame, row)
	}
	return of.Show().Format(formula.Sum(cells))
}
