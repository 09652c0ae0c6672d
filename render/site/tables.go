package site

import (
	"bytes"
	"encoding/csv"
	"html/template"
	"path"
	"strings"

	"labsite/recipes/sheet"
	"labsite/render/markdown"
)

// grid makes a table, or a weighing list, at the page's case.
func (p *pager) grid(g *sheet.Grid) template.HTML {
	caption := p.fill.html(p.b.captions[g.Name], markdown.RenderOptions{})
	said := p.b.captions[g.Name].document.Plain()
	if g.List != nil {
		return p.weighing(g, caption, said)
	}
	if g.Rows == nil {
		return ""
	}
	v := Table{Name: g.Name, Caption: caption, Said: said, RowLabel: labelOf(g.Rows.Given.Label, g.Rows.Given.Name), CSV: p.csvName(g)}
	run := p.fill.run
	if g.Columns != nil {
		v.ColumnLabel = labelOf(g.Columns.Given.Label, g.Columns.Given.Name)
		for _, c := range g.Columns.Values {
			v.Columns = append(v.Columns, TableHead{plainValue(c.Text), equal(c.Base, run.Frame.V[g.Columns.Given.Slot])})
		}
	}
	for _, f := range g.Cells {
		v.Figures = append(v.Figures, labelOf(f.Label, f.Name))
	}
	reasons := map[string]*tableWhy{}
	for i, cells := range g.Work(run) {
		head := g.Rows.Values[i]
		row := TableRow{Head: TableHead{plainValue(head.Text), equal(head.Base, run.Frame.V[g.Rows.Given.Slot])}}
		for k, c := range cells {
			cell := TableCell{Own: c.Own}
			if c.Refused {
				key := c.Why.Text
				if c.Why.Limit != nil {
					// one limit's text differs from cell to cell by the values that it places
					key = c.Why.Limit.Text.Text
				}
				why := reasons[key]
				if why == nil {
					where := escaped(v.RowLabel) + " " + quantityHTML(head.Text, "")
					if g.Columns != nil {
						where += ", " + escaped(v.ColumnLabel) + " " + quantityHTML(g.Columns.Values[k].Text, "")
					}
					why = &tableWhy{at: len(v.Reasons), where: where}
					reasons[key] = why
					v.Reasons = append(v.Reasons, TableReason{letter(len(v.Reasons)), p.why(c)})
				}
				why.count++
				cell.Reason = v.Reasons[why.at].Sign
			}
			for _, shown := range c.Shown {
				cell.Values = append(cell.Values, valueOf(shown, ""))
			}
			row.Cells = append(row.Cells, cell)
		}
		v.Rows = append(v.Rows, row)
	}
	for _, why := range reasons {
		if why.count > 1 {
			v.Reasons[why.at].Text = "For example at " + why.where + ": " + v.Reasons[why.at].Text
		}
	}
	return p.keep(p.site.templates.Table(v))
}

// tableWhy is one reason of a table: where it stands, where it was met first, how often.
type tableWhy struct {
	at, count int
	where     template.HTML
}

func equal(a, b float64) bool { return a == b || a-b < 1e-9 && b-a < 1e-9 }

func letter(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letter(n/26-1) + letter(n%26)
}

// why says in words why a cell has no number. A limit's text may place the given values
// of its own cell, so that a reason can differ from cell to cell.
func (p *pager) why(c sheet.GridCell) template.HTML {
	if l := c.Why.Limit; l != nil {
		run := c.Run
		if c.Why.Run != nil {
			run = c.Why.Run
		}
		return p.elsewhere(run, l.Text)
	}
	if c.Why.Text == "" {
		return "The formulas give no finite number at these values."
	}
	return escaped(c.Why.Text)
}

func (p *pager) weighing(g *sheet.Grid, caption template.HTML, said string) template.HTML {
	v := Weighing{Name: g.Name, Caption: caption, Said: said, Blanks: g.Blanks, CSV: p.csvName(g)}
	refused := p.fill.run.Refused()
	if refused {
		v.Limits = p.refusals()
	}
	for _, f := range g.List {
		row := Figure{Name: f.Name, Label: labelOf(f.Label, f.Name)}
		if !refused {
			row.Value = valueOf(p.fill.run.Shown(f), "")
		}
		v.Rows = append(v.Rows, row)
	}
	return p.keep(p.site.templates.Weighing(v))
}

// csvName is the address of a table's CSV, beside its page.
func (p *pager) csvName(g *sheet.Grid) string { return urlPath(csvFile(p.topic, g)) }

func csvFile(t *Topic, g *sheet.Grid) string {
	return strings.TrimSuffix(path.Base(t.Address()), ".html") + "." + g.Name + ".csv"
}

// csvOf writes a table as CSV: heads with labels, cells as shown, refused ones empty.
func csvOf(g *sheet.Grid, run *sheet.Case) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true // RFC 4180
	if g.List != nil {
		w.Write(append([]string{"what", "amount"}, g.Blanks...))
		for _, f := range g.List {
			row := []string{labelOf(f.Label, f.Name), ""}
			if !run.Refused() {
				row[1] = run.Shown(f).Text
			}
			w.Write(append(row, make([]string, len(g.Blanks))...))
		}
		w.Flush()
		return b.Bytes()
	}
	head := []string{labelOf(g.Rows.Given.Label, g.Rows.Given.Name)}
	add := func(prefix string) {
		for _, f := range g.Cells {
			name := labelOf(f.Label, f.Name)
			switch {
			case prefix != "" && len(g.Cells) == 1:
				name = prefix
			case prefix != "":
				name = prefix + ", " + name
			}
			head = append(head, name)
		}
	}
	if g.Columns == nil {
		add("")
	} else {
		for _, c := range g.Columns.Values {
			add(c.Text)
		}
	}
	w.Write(head)
	for i, cells := range g.Work(run) {
		row := []string{g.Rows.Values[i].Text}
		for _, c := range cells {
			for k := range g.Cells {
				if c.Refused {
					row = append(row, "")
				} else {
					row = append(row, c.Shown[k].Text)
				}
			}
		}
		w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}
