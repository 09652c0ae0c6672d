package theme

import (
	"html/template"
	"unicode/utf8"
)

// Table is the data of table.html: figures over one or two given values.
type Table struct {
	Name        string        // makes its id, Table-NAME
	Caption     template.HTML // what it shows, inline HTML
	Said        string        // the caption as plain text, for the name of the box that scrolls
	RowLabel    string        // label of the given whose values run down
	ColumnLabel string        // label of the given whose values run across; empty: the table has one axis
	Columns     []TableHead   // values of the given that run across; empty: the table has one axis
	Figures     []string      // labels of the figures in each cell, at least one
	Words       []bool        // for each figure, whether it is a text and no number
	Rows        []TableRow
	Reasons     []TableReason // why cells have no number, each once
	CSV         string        // address of the same table as CSV; empty: there is none
}

// TableHead is a value of a given at the head of a row or column.
type TableHead struct {
	Value Value
	Own   bool // it is the value to which the page is set
}

// TableRow is one value of the given that runs down, and its cells.
type TableRow struct {
	Head  TableHead
	Cells []TableCell // one for each column, or the only one
}

// Class is the class of a figure's cells.
func (t Table) Class(figure int) string {
	if figure < len(t.Words) && t.Words[figure] {
		return "words"
	}
	return "number"
}

// Stacked says that a phone shows the cells of a row below one another, with the names of their columns,
// because the columns are of different things and too wide to stand side by side.
func (t Table) Stacked() bool {
	const acrossAPhone = 38 // letters
	if len(t.Columns) > 0 || len(t.Figures) < 3 {
		return false
	}
	head, widths := utf8.RuneCountInString(t.RowLabel), make([]int, len(t.Figures))
	for k, f := range t.Figures {
		widths[k] = utf8.RuneCountInString(f)
	}
	for _, r := range t.Rows {
		head = max(head, utf8.RuneCountInString(r.Head.Value.Plain))
		for _, c := range r.Cells {
			for k, v := range c.Values {
				if k < len(widths) {
					widths[k] = max(widths[k], utf8.RuneCountInString(v.Plain))
				}
			}
		}
	}
	for _, w := range widths {
		head += w
	}
	return head > acrossAPhone
}

// TableCell is what stands where a row and a column meet.
type TableCell struct {
	Values []Value // one for each figure; empty if the case is refused
	Reason string  // the Sign of its TableReason if the case is refused
	First  bool    // it is the first cell with that reason, the only one to link to it
	Own    bool    // both its row and its column have the values to which the page is set
}

// TableReason is why some cells have no number.
type TableReason struct {
	Sign string // "a"
	Text template.HTML
}

// Several says whether each cell holds more than one figure.
func (t Table) Several() bool { return len(t.Figures) > 1 }

// Wide is how many columns of numbers the table has.
func (t Table) Wide() int { return max(1, len(t.Columns)) * len(t.Figures) }

// Weighing is the data of weighing.html: a list to weigh by, with cells to fill in by hand.
type Weighing struct {
	Name    string        // makes its id, Table-NAME
	Caption template.HTML // what it is for, inline HTML
	Said    string        // the caption as plain text, for the name of the box that scrolls
	Limits  []Limit       // the refusal, when the numbers are withdrawn
	Rows    []Figure      // in the order of weighing; their values are empty when refused
	Blanks  []string      // heads of the empty columns: "lot", "actual", "initials"
	CSV     string        // address of the same list as CSV; empty: there is none
}

// Refused says whether the numbers are withdrawn.
func (w Weighing) Refused() bool { return refusedAmong(w.Limits) }
