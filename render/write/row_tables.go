package write

import (
	"html/template"
	"slices"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/theme"
	"labsite/render/work"
)

// rowTable makes a table of a data file's rows, with the first column as the heads of the rows.
func (p *pager) rowTable(g *page.Grid, caption template.HTML, said string) template.HTML {
	head, rows := rowTexts(g.Of, p.filler.run, false)
	if len(head) == 0 { // its columns are wrong, which is reported; the preview still shows the rest of the page
		return ""
	}
	v := theme.Table{Name: g.Name, Caption: caption, Said: said, RowLabel: head[0], Figures: head[1:], CSV: p.csvName(g)}
	for _, c := range g.Of.Columns[1:] {
		v.Words = append(v.Words, c.Kind == quantity.Text)
	}
	if len(rows) == 0 {
		rows = [][]string{slices.Concat([]string{"none"}, make([]string, len(head)-1))}
	}
	for _, texts := range rows {
		row := theme.TableRow{Head: theme.TableHead{Value: plainValue(texts[0])}}
		cell := theme.TableCell{}
		for _, text := range texts[1:] {
			cell.Values = append(cell.Values, plainValue(text))
		}
		row.Cells = append(row.Cells, cell)
		v.Rows = append(v.Rows, row)
	}
	return p.collect(p.Theme.Table(v))
}

// rowTexts are the heads and the cells of a table of rows as shown, with its totals last; for a
// machine, dates are in ISO 8601.
func rowTexts(t *page.RowTable, run *prove.Case, machine bool) (head []string, texts [][]string) {
	for _, c := range t.Columns {
		head = append(head, work.Words(c.Name))
	}
	rows := run.TableRows(t)
	for _, row := range rows {
		var line []string
		for _, c := range t.Columns {
			shown := c.Shown(&run.Frame, row)
			if machine && c.Kind == quantity.Date {
				shown.Text = shown.Machine()
			}
			line = append(line, shown.Text)
		}
		texts = append(texts, line)
	}
	if len(t.Totals) > 0 && len(rows) > 0 {
		line := make([]string, len(t.Columns))
		line[0] = "Total"
		for i, c := range t.Columns {
			if slices.Contains(t.Totals, c) {
				line[i] = run.Total(c, rows).Text
			}
		}
		texts = append(texts, line)
	}
	return head, texts
}
