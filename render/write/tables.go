package write

import (
	"bytes"
	"encoding/csv"
	"html/template"
	"maps"
	"path"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/content"
	"labsite/render/markdown"
	"labsite/render/theme"
	"labsite/render/work"
)

// grid makes a table, or a weighing list, at the page's case.
func (p *pager) grid(g *page.Grid) template.HTML {
	caption := p.captionOf(p.filler.html(p.texts.Captions[g.Name], markdown.RenderOptions{}), g.Cells, g.List)
	said := p.texts.Captions[g.Name].Document.Plain()
	if g.List != nil {
		return p.weighing(g, caption, said)
	}
	if g.Of != nil {
		return p.rowTable(g, caption, said)
	}
	if g.Rows == nil {
		return ""
	}
	v := theme.Table{Name: g.Name, Caption: caption + p.examplesOf(g), Said: said, RowLabel: work.LabelOf(g.Rows.Given.Label, g.Rows.Given.Name), CSV: p.csvName(g)}
	run := p.filler.run
	if g.Columns != nil {
		v.ColumnLabel = work.LabelOf(g.Columns.Given.Label, g.Columns.Given.Name)
		for _, c := range g.Columns.Values {
			v.Columns = append(v.Columns, theme.TableHead{Value: valueAsWritten(c), Own: equal(c.Base, run.Frame.V[g.Columns.Given.Slot])})
		}
	}
	for _, f := range g.Cells {
		v.Figures = append(v.Figures, work.LabelOf(f.Label, f.Name))
		v.Words = append(v.Words, f.Kind == quantity.Text)
	}
	reasons := tableReasons{p, &v, map[string]*tableWhy{}}
	for i, cells := range prove.Cells(g, run) {
		head := g.Rows.Values[i]
		row := theme.TableRow{Head: theme.TableHead{Value: valueAsWritten(head), Own: equal(head.Base, run.Frame.V[g.Rows.Given.Slot])}}
		for k, c := range cells {
			cell := theme.TableCell{Own: c.Own}
			if c.Refused {
				where := escaped(v.RowLabel) + " " + row.Head.Value.HTML
				if g.Columns != nil {
					where += ", " + escaped(v.ColumnLabel) + " " + v.Columns[k].Value.HTML
				}
				cell.Reason, cell.First = reasons.sign(c, where)
			}
			for _, shown := range c.Shown {
				cell.Values = append(cell.Values, valueOf(shown, ""))
			}
			row.Cells = append(row.Cells, cell)
		}
		v.Rows = append(v.Rows, row)
	}
	reasons.withExamples()
	return p.collect(p.Theme.Table(v))
}

// tableReasons collects why cells of a table are refused: each reason once, under a letter.
type tableReasons struct {
	pager *pager
	table *theme.Table
	known map[string]*tableWhy
}

// sign is the letter of the reason why a cell is refused, and whether this is the first cell with
// that reason; where says in words where the cell stands.
func (r *tableReasons) sign(c prove.GridCell, where template.HTML) (letterOf string, first bool) {
	key := c.Why.Text
	if c.Why.Limit != nil {
		// a limit's text differs from cell to cell by the values that it places
		key = c.Why.Limit.Text.Text
	}
	why := r.known[key]
	if why == nil {
		why = &tableWhy{at: len(r.table.Reasons), where: where}
		r.known[key] = why
		r.table.Reasons = append(r.table.Reasons, theme.TableReason{Sign: letter(why.at), Text: r.pager.why(c)})
	}
	why.count++
	return r.table.Reasons[why.at].Sign, why.count == 1
}

// withExamples names the first cell of each reason that holds for several.
func (r *tableReasons) withExamples() {
	for _, why := range r.known {
		if why.count > 1 {
			reason := &r.table.Reasons[why.at]
			reason.Text = "For example at " + why.where + ": " + reason.Text
		}
	}
}

// examplesOf says at which example readings a table is worked out until readings are entered; "" if
// it depends on none.
func (p *pager) examplesOf(g *page.Grid) template.HTML {
	run := p.filler.run
	waits := false
	for _, f := range g.Cells {
		waits = waits || run.Missing(f.Slot) && run.Instead(f.Slot).Text == ""
	}
	if !waits {
		return ""
	}
	needs, known := map[*page.Given]bool{}, true
	for _, f := range g.Cells {
		of, ok := p.page.Sheet.GivenOf(f)
		known = known && ok
		maps.Copy(needs, of)
	}
	var at []string
	for _, x := range p.page.Sheet.Given {
		if (needs[x] || !known) && run.Missing(x.Slot) && x != g.Rows.Given && (g.Columns == nil || x != g.Columns.Given) {
			at = append(at, template.HTMLEscapeString(work.LabelOf(x.Label, x.Name))+" "+string(quantityHTML(x.Value.Text, "")))
		}
	}
	if len(at) == 0 {
		return ""
	}
	return template.HTML(` <span class="grid-example">As an example, at ` + strings.Join(at, ", ") + `.</span>`)
}

// tableWhy is one reason of a table: its number, where it first occurs, and how often.
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

// why says in words why a cell has no number. A limit's text may place values of the cell, so the
// same reason may read differently in different cells.
func (p *pager) why(c prove.GridCell) template.HTML {
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

func (p *pager) weighing(g *page.Grid, caption template.HTML, said string) template.HTML {
	v := theme.Weighing{Name: g.Name, Caption: caption, Said: said, Blanks: g.Blanks, CSV: p.csvName(g)}
	refused := p.filler.run.Refused()
	if refused {
		v.Limits = p.refusals()
	}
	for _, f := range g.List {
		row := theme.Figure{Name: f.Name, Label: work.LabelOf(f.Label, f.Name)}
		if !refused {
			row.Value = valueOf(p.filler.run.Shown(f), "")
		}
		v.Rows = append(v.Rows, row)
	}
	return p.collect(p.Theme.Weighing(v))
}

// csvName is the address of a table's CSV, beside its page.
func (p *pager) csvName(g *page.Grid) string { return content.URLPath(csvFile(p.page, g)) }

func csvFile(p *work.Page, g *page.Grid) string {
	return strings.TrimSuffix(path.Base(p.Address()), ".html") + "." + g.Name + ".csv"
}

// csvOf writes a table as CSV: heads with labels, cells as shown, refused ones empty.
func csvOf(g *page.Grid, run *prove.Case) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true // RFC 4180
	switch {
	case g.List != nil:
		csvOfList(w, g, run)
	case g.Of != nil:
		head, rows := rowTexts(g.Of, run, true)
		writeRow(w, head)
		for _, row := range rows {
			writeRow(w, row)
		}
	default:
		csvOfCells(w, g, run)
	}
	w.Flush()
	return b.Bytes()
}

// writeRow writes a row so that no cell is taken for a formula.
func writeRow(w *csv.Writer, row []string) {
	for i, cell := range row {
		row[i] = noFormula(cell)
	}
	w.Write(row)
}

// csvOfList writes what is to be weighed, with its blanks empty.
func csvOfList(w *csv.Writer, g *page.Grid, run *prove.Case) {
	writeRow(w, append([]string{"what", "amount"}, g.Blanks...))
	for _, f := range g.List {
		row := []string{work.LabelOf(f.Label, f.Name), ""}
		if !run.Refused() {
			row[1] = run.Shown(f).Machine()
		}
		writeRow(w, append(row, make([]string, len(g.Blanks))...))
	}
}

// csvOfCells writes a table over one or two given values; refused cells are empty.
func csvOfCells(w *csv.Writer, g *page.Grid, run *prove.Case) {
	writeRow(w, csvHead(g))
	for i, cells := range prove.Cells(g, run) {
		row := []string{machineText(g.Rows.Values[i])}
		for _, c := range cells {
			for k := range g.Cells {
				if c.Refused {
					row = append(row, "")
				} else {
					row = append(row, c.Shown[k].Machine())
				}
			}
		}
		writeRow(w, row)
	}
}

// csvHead names the columns: each figure, or each figure at each of the values across.
func csvHead(g *page.Grid) []string {
	head := []string{work.LabelOf(g.Rows.Given.Label, g.Rows.Given.Name)}
	add := func(at string) {
		for _, f := range g.Cells {
			name := work.LabelOf(f.Label, f.Name)
			switch {
			case at != "" && len(g.Cells) == 1:
				name = at
			case at != "":
				name = at + ", " + name
			}
			head = append(head, name)
		}
	}
	if g.Columns == nil {
		add("")
		return head
	}
	for _, c := range g.Columns.Values {
		add(machineText(c))
	}
	return head
}

// noFormula keeps a spreadsheet from taking a text for a formula; an amount such as -3 °C stays as it
// is.
func noFormula(cell string) string {
	if cell == "" {
		return cell
	}
	switch cell[0] {
	case '=', '@', '\t', '\r':
		return "'" + cell
	case '+', '-':
		if len(cell) > 1 && (cell[1] < '0' || cell[1] > '9') && cell[1] != '.' {
			return "'" + cell
		}
	}
	return cell
}
