package work

import (
	"fmt"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/prove"
)

// rowsOf lists the cells and totals of a table of a data file's rows, named by the heads of their rows,
// so that a new row or another order changes none of the others.
func rowsOf(sh *page.Sheet, g *page.Grid, run *prove.Case) []Number {
	t := g.Of
	moves := sh.RowsMove(t)
	rows := run.TableRows(t)
	heads, wide := rowHeads(t, run, rows)
	var out []Number
	add := func(row, column int, at, shown string) {
		c := t.Columns[column]
		out = append(out, Number{Name: g.Name + ": " + c.Name + " " + at, Label: Words(c.Name) + " " + at, Shown: shown,
			Cell: &Cell{Table: g.Name, Row: row, Column: column}, from: t.File.Name + "." + c.Name, moves: moves})
	}
	for i, row := range rows {
		for k, c := range t.Columns {
			if k >= wide || len(t.Columns) == 1 {
				add(i, k, "of "+heads[i], c.Shown(&run.Frame, row).Text)
			}
		}
	}
	for k, c := range t.Columns {
		if slices.Contains(t.Totals, c) && len(rows) > 0 {
			add(len(rows), k, "in total", run.Total(c, rows).Text)
		}
	}
	return out
}

// rowHeads names the rows of a table by as many of their first cells as it takes to tell all rows
// apart, and says how many that is. If rows cannot be told apart, those with the same first cell are
// numbered.
func rowHeads(t *page.RowTable, run *prove.Case, rows []int) (heads []string, wide int) {
	for wide = 1; wide < max(2, len(t.Columns)); wide++ {
		seen := map[string]bool{}
		heads = heads[:0]
		for _, row := range rows {
			var cells []string
			for _, c := range t.Columns[:wide] {
				cells = append(cells, c.Shown(&run.Frame, row).Text)
			}
			heads = append(heads, strings.Join(cells, ", "))
			seen[heads[len(heads)-1]] = true
		}
		if len(seen) == len(rows) {
			return heads, wide
		}
	}
	count := map[string]int{}
	for i, row := range rows {
		heads[i] = t.Columns[0].Shown(&run.Frame, row).Text
		if count[heads[i]]++; count[heads[i]] > 1 {
			heads[i] += fmt.Sprintf(" (%d)", count[heads[i]])
		}
	}
	return heads, 1
}
