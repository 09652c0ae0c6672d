package page

import (
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Bounds of a data file.
const (
	MostDataBytes = 16 << 20
	MostRows      = 100_000
)

// Table is what was read of a data file: columns, each of one kind.
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

// first is the first column; it tells on which lines the rows stand.
func (t *Table) first() *Column {
	if len(t.Columns) == 0 { // a page's records, of which there are none yet
		return &Column{Column: formula.Column{File: t.Path, Table: t}}
	}
	return &t.Columns[0]
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
// their units in square brackets. The table is nil if the list holds an error.
func ReadTable(f *source.File) (*Table, source.List) {
	if len(f.Text) > MostDataBytes {
		return nil, source.List{source.DataTooLarge().AtFile(f.Path)}
	}
	if sign := otherComma(f.Line(1)); sign >= 0 {
		return nil, source.List{source.DataOtherComma(f.Text[sign:sign+1], decimalComma.MatchString(f.Text)).At(f.Span(sign, sign+1))}
	}
	r := &tableReader{file: f}
	if !r.readRows() {
		return nil, r.list
	}
	if len(r.rows) == 0 {
		return nil, source.List{source.DataEmpty().AtFile(f.Path)}
	}
	if head := r.rows[0][0]; len(r.rows) == 1 && len(r.list) == 0 {
		r.report(source.DataEmpty(), head, len(head.text))
	}
	t := &Table{Path: f.Path, Columns: make([]Column, len(r.rows[0]))}
	seen := map[string]cell{}
	for i := range t.Columns {
		t.Columns[i].Table = t
		r.readColumn(&t.Columns[i], i, seen)
	}
	if r.list.Errors() > 0 {
		return nil, r.list
	}
	return t, r.list
}

// mostOfTable is how many errors of one data file are reported.
const mostOfTable = 100

// tableReader reads one data file: its rows first, the head among them, and then column by
// column.
type tableReader struct {
	file *source.File
	rows [][]cell
	list source.List
}

// span is the place of a cell in the file.
func (r *tableReader) span(c cell, width int) source.Span {
	at := r.file.Offset(c.line) + min(c.column-1, len(r.file.Line(c.line)))
	return r.file.Span(at, min(at+max(width, 1), len(r.file.Text)))
}

func (r *tableReader) report(p source.Problem, c cell, width int) {
	if len(r.list) < mostOfTable {
		r.list = append(r.list, p.At(r.span(c, width)))
	}
}

// readRows splits the file into rows. It is false if the file cannot be read to its end; a row
// with too few or too many cells is reported and left out.
func (r *tableReader) readRows() bool {
	reader := csv.NewReader(strings.NewReader(r.file.Text))
	reader.ReuseRecord = true
	width := 0
	for {
		record, err := reader.Read()
		if err == io.EOF {
			return true
		}
		if err != nil {
			if !r.unreadable(err, len(record), width) {
				return false
			}
			continue
		}
		width = len(record)
		row := make([]cell, len(record))
		for i, text := range record {
			line, column := reader.FieldPos(i)
			row[i] = r.cell(text, line, column)
		}
		if r.rows = append(r.rows, row); len(r.rows) > MostRows+1 {
			r.report(source.DataTooLarge(), row[0], 1)
			return false
		}
	}
}

// unreadable reports why a row cannot be read, and reports whether reading can go on.
func (r *tableReader) unreadable(err error, cells, width int) bool {
	var e *csv.ParseError
	switch {
	case !errors.As(err, &e):
		r.report(source.DataUnreadable(err.Error()), cell{line: 1, column: 1}, 1)
	case errors.Is(e.Err, csv.ErrFieldCount):
		r.report(source.DataFieldCount(cells, width), cell{line: e.Line, column: 1}, len(r.file.Line(e.Line)))
		return true
	default:
		r.report(source.DataUnreadable(e.Err.Error()), cell{line: e.Line, column: max(1, e.Column)}, 1)
	}
	return false
}

// cell is a cell without the spaces around it, and where its text begins.
func (r *tableReader) cell(text string, line, column int) cell {
	if raw := r.file.Line(line); column <= len(raw) && raw[column-1] == '"' {
		column++
	}
	said := strings.TrimSpace(text)
	if said != "" {
		column += strings.Index(text, said)
	}
	return cell{said, line, column}
}

var decimalComma = regexp.MustCompile(`(?:^|[;\t\n"])-?\d+,\d+(?:[;\t\n"]|$)`)

// otherComma finds the character other than a comma that separates the columns of a first row,
// as written by spreadsheets in countries with decimal commas; -1 if there is none. No column's
// name may hold such a character.
func otherComma(head string) int {
	for _, sign := range ";\t|" {
		if strings.Count(head, string(sign)) > strings.Count(head, ",") {
			return strings.IndexRune(head, sign)
		}
	}
	return -1
}
