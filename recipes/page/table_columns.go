package page

import (
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// longestCell is how many characters a cell may have.
const longestCell = 1000

// columnReader reads one column of a data file.
type columnReader struct {
	*tableReader
	to   *Column
	head cell
	at   int // which column it is
}

// readColumn reads the i-th column. seen has the heads of those before it, by their names.
func (r *tableReader) readColumn(to *Column, i int, seen map[string]cell) {
	c := &columnReader{r, to, r.rows[0][i], i}
	to.File, to.file = r.file.Path, r.file
	for n := range c.count() {
		x := c.cellOf(n)
		to.starts = append(to.starts, int32(r.span(x, 1).Start))
		to.Lines = append(to.Lines, x.line)
	}
	name, unit, hasUnit := cutUnit(c.head.text)
	to.Name = name
	if first, twice := seen[name]; !isName(name) {
		r.report(source.BadName(name), c.head, len(c.head.text))
	} else if twice {
		where := r.span(first, len(first.text))
		r.report(source.DataColumnTwice(name).Also(where, "the first column of this name"), c.head, len(c.head.text))
	} else {
		seen[name] = c.head
	}
	switch {
	case !c.filled():
		to.Kind = quantity.Any
	case hasUnit && unit == "text":
		c.readTexts()
	case hasUnit:
		c.readWithUnit(unit)
	default:
		c.readWithoutUnit()
	}
}

func (c *columnReader) count() int          { return len(c.rows) - 1 }
func (c *columnReader) cellOf(row int) cell { return c.rows[row+1][c.at] }
func (c *columnReader) text(row int) string { return c.cellOf(row).text }
func (c *columnReader) length(row int) int  { return len(c.text(row)) }

// tell reports a part of a cell.
func (c *columnReader) tell(p source.Problem, row, start, end int) {
	x := c.cellOf(row)
	x.column += start
	c.report(p, x, max(1, end-start))
}

// refuse reports a whole cell, and takes the column's kind away.
func (c *columnReader) refuse(p source.Problem, row int) {
	c.tell(p, row, 0, c.length(row))
	c.to.Kind = quantity.Any
}

// tellUnit reports a part of the unit in the head.
func (c *columnReader) tellUnit(p source.Problem, start, end int) {
	x := c.head
	x.column += len(x.text) - len(strings.TrimLeft(x.text[strings.IndexByte(x.text, '[')+1:], " ")) + start
	c.report(p, x, max(1, end-start))
}

// filled reports whether no cell is empty or far too long, and reports the first that is.
func (c *columnReader) filled() bool {
	for n := range c.count() {
		switch text := c.text(n); {
		case text == "":
			c.tell(source.DataCellEmpty(c.to.Name), n, 0, 1)
			return false
		case utf8.RuneCountInString(text) > longestCell:
			c.tell(source.DataUnreadable("a cell of more than 1000 characters"), n, 0, 1)
			return false
		}
	}
	return true
}

// readTexts reads a column of texts; a cell's value is the number of its text among the
// column's words.
func (c *columnReader) readTexts() {
	numbers := map[string]int{}
	c.to.Kind = quantity.Text
	for row := range c.count() {
		text := c.text(row)
		n, ok := numbers[text]
		if !ok {
			n = len(c.to.Words)
			numbers[text] = n
			c.to.Words = append(c.to.Words, text)
		}
		c.to.Cells = append(c.to.Cells, float64(n))
		c.to.Values = append(c.to.Values, quantity.Value{Kind: quantity.Text, Base: float64(n), Text: text})
	}
}

// readWithoutUnit reads a column without a unit in its head: quantities if all cells are
// quantities, dates if some are dates and none a quantity, texts if there is neither; but a number
// with a decimal comma is no text unless the head says so.
func (c *columnReader) readWithoutUnit() {
	k := c.sorted()
	switch {
	case k.dates > 0 && k.quantities == 0:
		c.readDates()
	case k.oddRow >= 0 && k.quantities == 0:
		c.to.Values = nil
		if k.comma != nil {
			c.refuse(k.comma.OrNames(c.to.Name), k.commaRow)
			return
		}
		c.readTexts()
	case k.dates > k.quantities:
		c.refuse(source.DateAmong(c.to.Name, c.text(k.firstQuantity)), k.firstQuantity)
		c.to.Values = nil
	case k.oddRow >= 0:
		p := source.DataMixed(c.to.Name, c.text(k.oddRow))
		if k.odd != nil && startsLikeNumber(c.text(k.oddRow)) {
			p.Message += ": " + k.odd.Message
			p.Hint = k.odd.Hint + "\n" + p.Hint
		}
		c.refuse(p, k.oddRow)
		c.to.Values = nil
	default:
		c.readQuantities()
	}
}

// sortedCells says what the cells of a column are. oddRow is the first that is not a quantity,
// -1 for none; odd says why, nil if that is because it is a date.
type sortedCells struct {
	odd                   *quantity.Trouble
	oddRow, firstQuantity int
	dates, quantities     int
	comma                 *quantity.Trouble // of the first cell with a decimal comma, in commaRow
	commaRow              int
}

// sorted reads each cell as what it looks like, and keeps the values of those that can be read.
func (c *columnReader) sorted() sortedCells {
	k := sortedCells{oddRow: -1, firstQuantity: -1}
	for n := range c.count() {
		text := day(c.text(n))
		v, t := quantity.Parse(text)
		switch {
		case isoDate.MatchString(text):
			if k.dates++; k.oddRow < 0 {
				k.oddRow = n
			}
		case t != nil:
			if k.odd == nil {
				k.odd, k.oddRow = t, n
			}
			if k.comma == nil && t.Code == source.DecimalComma("").Code {
				k.comma, k.commaRow = t, n
			}
			continue
		default:
			if k.quantities++; k.firstQuantity < 0 {
				k.firstQuantity = n
			}
		}
		c.to.Values = append(c.to.Values, v)
	}
	return k
}

func (c *columnReader) readDates() {
	c.to.Kind = quantity.Date
	badDates(c.count(), func(n int) string { return day(c.text(n)) }, c.refuse, c.to.Name)
	if c.to.Kind != quantity.Date {
		return
	}
	for _, v := range c.to.Values {
		c.to.Cells = append(c.to.Cells, v.Base)
	}
}

// readQuantities takes the cells, each with its own unit, as the column if they are of one kind.
func (c *columnReader) readQuantities() {
	values := c.to.Values
	if len(values) == 0 {
		return
	}
	for n, v := range values {
		if v.Kind != values[0].Kind {
			c.refuse(source.KindsDiffer("the cells of "+c.to.Name, values[0].Kind.Name(), v.Kind.Name()), n)
			return
		}
		c.to.Cells = append(c.to.Cells, v.Base)
	}
	c.to.Kind, c.to.Unit = values[0].Kind, values[0].Unit
	c.to.Diluted = slices.ContainsFunc(values, func(v quantity.Value) bool { return v.Form == quantity.Dilution })
	c.to.Engraved = slices.ContainsFunc(values, func(v quantity.Value) bool { return v.Form == quantity.Aperture })
}

// readWithUnit reads a column whose head names a unit, which is that of plain numbers; a cell
// may also have its own unit, of the same kind.
func (c *columnReader) readWithUnit(unit string) {
	c.to.Kind = quantity.Any
	u, t := quantity.ParseUnit(unit)
	if t != nil {
		c.tellUnit(t.Problem, t.Start, t.End)
		return
	}
	for n := range c.count() {
		text := c.text(n)
		v, t := quantity.Parse(text)
		if t == nil && v.Kind == quantity.Number && v.Unit.Text == "" && u.Text != "" && (v.Form == quantity.Plain || v.Form == quantity.Fraction) {
			v, t = quantity.Parse(text + " " + unit)
		}
		if t != nil {
			c.tell(t.Problem, n, t.Start, min(t.End, len(text)))
			return
		}
		if v.Kind != u.Kind {
			c.refuse(source.KindsDiffer("the column "+c.to.Name+" and this cell", u.Kind.Name(), v.Kind.Name()), n)
			return
		}
		c.to.Values = append(c.to.Values, v)
		c.to.Cells = append(c.to.Cells, v.Base)
	}
	c.to.Kind, c.to.Unit = u.Kind, u
}

// cutUnit splits "minutes [min]".
func cutUnit(text string) (name, unit string, ok bool) {
	name, rest, ok := strings.Cut(text, "[")
	if !ok {
		return strings.TrimSpace(text), "", false
	}
	return strings.TrimSpace(name), strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "]")), true
}

var (
	isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)
	// isoMoment is a moment in ISO 8601 with its offset from UTC, as in records. A column of
	// moments is read as one of dates: the local days of those moments.
	isoMoment = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,3})?)?(Z|[+-]\d{2}:\d{2})$`)
)

// day is the day of a cell with a moment; any other cell stays as it is.
func day(text string) string {
	if isoMoment.MatchString(text) {
		return text[:len(time.DateOnly)]
	}
	return text
}
