package sheet

import (
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Bounds of a data file.
const (
	MostDataBytes = 16 << 20
	MostRows      = 100_000
)

// Table is a data file that was read: columns of one kind each.
type Table struct {
	Path    string
	Columns []Column
}

// Column is one column of a data file.
type Column struct {
	formula.Column
	// Values are the cells as written.
	Values []quantity.Value

	file   *source.File
	starts []int32 // of the cells in the file, in bytes; a file has at most MostDataBytes
}

// At is the place of a cell in the data file.
func (c *Column) At(row int) source.Span {
	start := int(c.starts[row])
	return c.file.Span(start, min(start+max(1, len(c.Values[row].Text)), len(c.file.Text)))
}

// Column finds a column by name.
func (t *Table) Column(name string) (*Column, bool) {
	for i := range t.Columns {
		if t.Columns[i].Name == name {
			return &t.Columns[i], true
		}
	}
	return nil, false
}

// Names lists the columns.
func (t *Table) Names() []string {
	out := make([]string, 0, len(t.Columns))
	for _, c := range t.Columns {
		out = append(out, c.Name)
	}
	return out
}

type cell struct {
	text         string
	line, column int
}

// ReadTable reads a data file: CSV as of RFC 4180, whose first row names the columns with
// their units in square brackets. The table is nil where the list holds an error.
func ReadTable(f *source.File) (*Table, source.List) {
	var list source.List
	at := func(c cell, width int) source.Span {
		offset := f.Offset(c.line)
		line := f.Line(c.line)
		offset += min(c.column-1, len(line))
		return f.Span(offset, min(offset+max(width, 1), len(f.Text)))
	}
	report := func(p source.Problem, c cell, width int) {
		if len(list) < 100 {
			list = append(list, p.At(at(c, width)))
		}
	}
	if len(f.Text) > MostDataBytes {
		return nil, source.List{source.DataTooLarge().AtFile(f.Path)}
	}
	if sign := otherComma(f.Line(1)); sign >= 0 {
		return nil, source.List{source.DataOtherComma(f.Text[sign:sign+1], decimalComma.MatchString(f.Text)).At(f.Span(sign, sign+1))}
	}
	r := csv.NewReader(strings.NewReader(f.Text))
	r.ReuseRecord = true
	var rows [][]cell
	width := 0
	for {
		record, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var e *csv.ParseError
			if errors.As(err, &e) {
				if errors.Is(e.Err, csv.ErrFieldCount) {
					report(source.DataFieldCount(len(record), width), cell{line: e.Line, column: 1}, len(f.Line(e.Line)))
					continue
				}
				report(source.DataUnreadable(e.Err.Error()), cell{line: e.Line, column: max(1, e.Column)}, 1)
			} else {
				report(source.DataUnreadable(err.Error()), cell{line: 1, column: 1}, 1)
			}
			return nil, list
		}
		width = len(record)
		row := make([]cell, len(record))
		for i, text := range record {
			line, column := r.FieldPos(i)
			if raw := f.Line(line); column <= len(raw) && raw[column-1] == '"' {
				column++
			}
			said := strings.TrimSpace(text)
			if said != "" {
				column += strings.Index(text, said)
			}
			row[i] = cell{said, line, column}
		}
		if rows = append(rows, row); len(rows) > MostRows+1 {
			report(source.DataTooLarge(), row[0], 1)
			return nil, list
		}
	}
	if len(rows) == 0 {
		return nil, source.List{source.DataEmpty().AtFile(f.Path)}
	}
	if len(rows) == 1 && len(list) == 0 {
		report(source.DataEmpty(), rows[0][0], len(rows[0][0].text))
	}
	t := &Table{Path: f.Path, Columns: make([]Column, len(rows[0]))}
	seen := map[string]bool{}
	for i, head := range rows[0] {
		c := &t.Columns[i]
		c.File, c.Table, c.file = f.Path, t, f
		for _, row := range rows[1:] {
			c.starts = append(c.starts, int32(at(row[i], 1).Start))
		}
		name, unit, hasUnit := cutUnit(head.text)
		c.Name = name
		switch {
		case !isName(name):
			report(source.BadName(name), head, len(head.text))
		case seen[name]:
			report(source.DataColumnTwice(name), head, len(head.text))
		}
		seen[name] = true
		readColumn(c, rows[1:], i, unit, hasUnit, func(p source.Problem, row int, start, end int) {
			if row < 0 { // places are in the unit
				x := head
				x.column += len(head.text) - len(strings.TrimLeft(head.text[strings.IndexByte(head.text, '[')+1:], " ")) + start
				report(p, x, max(1, end-start))
				return
			}
			x := rows[row+1][i]
			x.column += start
			report(p, x, max(1, end-start))
		})
	}
	if list.Errors() > 0 {
		return nil, list
	}
	return t, list
}

var decimalComma = regexp.MustCompile(`(?:^|[;\t\n"])-?\d+,\d+(?:[;\t\n"]|$)`)

// otherComma finds the sign by which a first row parts its columns where that is no
// comma, as spreadsheets write it where numbers have decimal commas; -1 where there is
// none. No name of a column holds such a sign.
func otherComma(head string) int {
	for _, sign := range ";\t|" {
		if strings.Count(head, string(sign)) > strings.Count(head, ",") {
			return strings.IndexRune(head, sign)
		}
	}
	return -1
}

// cutUnit splits "minutes [min]".
func cutUnit(text string) (name, unit string, ok bool) {
	name, rest, ok := strings.Cut(text, "[")
	if !ok {
		return strings.TrimSpace(text), "", false
	}
	return strings.TrimSpace(name), strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "]")), true
}

var isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

func readColumn(c *Column, rows [][]cell, i int, unitText string, hasUnit bool, report func(p source.Problem, row, start, end int)) {
	for _, row := range rows {
		c.Lines = append(c.Lines, row[i].line)
	}
	for n, row := range rows {
		if row[i].text == "" {
			report(source.DataCellEmpty(c.Name), n, 0, 1)
			c.Kind = quantity.Any
			return
		}
		if utf8.RuneCountInString(row[i].text) > 1000 {
			report(source.DataUnreadable("a cell of more than 1000 characters"), n, 0, 1)
			c.Kind = quantity.Any
			return
		}
	}
	if hasUnit && unitText != "text" {
		readWithUnit(c, rows, i, unitText, report)
		return
	}
	texts := func() {
		numbers := map[string]int{}
		c.Kind = quantity.Text
		for _, row := range rows {
			n, ok := numbers[row[i].text]
			if !ok {
				n = len(c.Words)
				numbers[row[i].text] = n
				c.Words = append(c.Words, row[i].text)
			}
			c.Cells = append(c.Cells, float64(n))
			c.Values = append(c.Values, quantity.Value{Kind: quantity.Text, Base: float64(n), Text: row[i].text})
		}
	}
	if hasUnit {
		texts()
		return
	}
	// without a unit: quantities if all are, texts if none is
	var odd *quantity.Trouble
	oddRow, firstQuantity, dates, quantities := -1, -1, 0, 0
	for n, row := range rows {
		if isoDate.MatchString(row[i].text) {
			dates++
			if oddRow < 0 {
				oddRow = n
			}
			continue
		}
		v, t := quantity.Parse(row[i].text)
		if t != nil {
			if odd == nil {
				odd, oddRow = t, n
			}
			continue
		}
		if quantities++; firstQuantity < 0 {
			firstQuantity = n
		}
		c.Values = append(c.Values, v)
	}
	switch {
	case oddRow >= 0 && quantities == 0:
		c.Values = nil
		texts()
		return
	case dates > quantities:
		report(source.DateAmong(c.Name, rows[firstQuantity][i].text), firstQuantity, 0, len(rows[firstQuantity][i].text))
		c.Kind, c.Values = quantity.Any, nil
		return
	case oddRow >= 0:
		p := source.DataMixed(c.Name, rows[oddRow][i].text)
		if odd != nil && startsLikeNumber(rows[oddRow][i].text) {
			p.Message += ": " + odd.Message
			p.Hint = odd.Hint
		}
		report(p, oddRow, 0, len(rows[oddRow][i].text))
		c.Kind, c.Values = quantity.Any, nil
		return
	}
	for n, v := range c.Values {
		if v.Kind != c.Values[0].Kind {
			report(source.KindsDiffer("the cells of "+c.Name, c.Values[0].Kind.Name(), v.Kind.Name()), n, 0, len(rows[n][i].text))
			c.Kind = quantity.Any
			return
		}
		c.Cells = append(c.Cells, v.Base)
	}
	if len(c.Values) > 0 {
		c.Kind, c.Unit = c.Values[0].Kind, c.Values[0].Unit
		c.Diluted = slices.ContainsFunc(c.Values, func(v quantity.Value) bool { return v.Form == quantity.Dilution })
	}
}

// readWithUnit reads a column whose head names a unit: it holds for plain numbers, and a
// cell may carry its own of the same kind.
func readWithUnit(c *Column, rows [][]cell, i int, unitText string, report func(p source.Problem, row, start, end int)) {
	c.Kind = quantity.Any
	u, t := quantity.ParseUnit(unitText)
	if t != nil {
		report(t.Problem, -1, t.Start, t.End)
		return
	}
	for n, row := range rows {
		text := row[i].text
		v, t := quantity.Parse(text)
		if t == nil && v.Kind == quantity.Number && v.Unit.Text == "" && u.Text != "" && v.Form != quantity.Dilution {
			v, t = quantity.Parse(text + " " + unitText)
		}
		if t != nil {
			report(t.Problem, n, t.Start, min(t.End, len(text)))
			return
		}
		if v.Kind != u.Kind {
			report(source.KindsDiffer("the column "+c.Name+" and this cell", u.Kind.Name(), v.Kind.Name()), n, 0, len(text))
			return
		}
		c.Values = append(c.Values, v)
		c.Cells = append(c.Cells, v.Base)
	}
	c.Kind, c.Unit = u.Kind, u
}
