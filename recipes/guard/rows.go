package guard

import (
	"math"
	"slices"
	"strconv"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// mostRows bounds the cells of a column that are changed; in a longer one they are spread evenly.
const mostRows = 60

// column is a column that formulas look in, with all the places where they do.
type column struct {
	formula.Column
	span  source.Span
	cells []*[]float64
}

// columns finds the columns whose cells come out of a formula. Each tree has
// columns of its own, but shares their cells with other pages, so cells are never written to.
func columns(s *page.Sheet) []*column {
	var out []*column
	for _, p := range places(s) {
		(*p.node).Walk(func(n *formula.Node) bool {
			if n.Data == nil {
				return true
			}
			c := &n.Data.Result
			i := slices.IndexFunc(out, func(x *column) bool { return x.File == c.File && x.Name == c.Name })
			if i < 0 {
				i = len(out)
				out = append(out, &column{Column: *c, span: p.text.SpanOf(n)})
			}
			out[i].cells = append(out[i].cells, &c.Cells)
			return true
		})
	}
	return out
}

// rows changes the cells of data files.
func rows(s *page.Sheet) []change {
	var out []change
	for _, c := range columns(s) {
		step := max(1, (len(c.Cells)+mostRows-1)/mostRows)
		for row := 0; row < len(c.Cells); row += step {
			out = append(out, c.change(row))
		}
	}
	return out
}

func (c *column) change(row int) change {
	old := c.Cells[row]
	changed := c.mutated(old)
	show := c.Show()
	name := "what " + c.Name + " comes to over some rows of " + c.File // worked out from several
	if row < len(c.Lines) && len(c.Lines) == len(c.Cells) {
		name = c.File + ", line " + strconv.Itoa(c.Lines[row]) + ", " + c.Name
	}
	return change{what: source.ChangedValue(name, show.Format(changed).Text, show.Format(old).Text), span: c.span, apply: func() (func(), bool) {
		if quantity.Equal(changed, old) || math.IsNaN(old) {
			return nil, false
		}
		before := make([][]float64, len(c.cells))
		for i, cells := range c.cells {
			before[i] = *cells
			other := slices.Clone(*cells)
			if row < len(other) {
				other[row] = changed
			}
			*cells = other
		}
		return func() {
			for i, cells := range c.cells {
				*cells = before[i]
			}
		}, true
	}}
}

// mutated is a cell's value a tenth off, or another of the column's words.
func (c *column) mutated(v float64) float64 {
	switch {
	case c.Kind == quantity.Text && len(c.Words) > 0:
		return math.Mod(v+1, float64(len(c.Words)))
	case c.Kind == quantity.Yes:
		return 1 - v
	case c.Kind == quantity.Scale:
		return v + 2
	case v == 0:
		return 1
	}
	return v * 1.1
}
