package page

import (
	"path"
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Bounds of a limit that is tried on each row of a file: how many rows are worked out again at
// each change, and how many a text names.
const (
	MostLiveLimits = 100
	mostRowsTold   = 50
)

// limits infers the limits of the page, and expands those that are tried on rows.
func (r *resolver) limits() {
	s := r.scope.s
	if s.limits == nil {
		s.limits = s.Limits
	}
	s.Limits = nil
	for _, l := range s.limits {
		if l.Each == nil {
			l.Node = r.yesNo(l.When, "when")
			s.Limits = append(s.Limits, l)
			continue
		}
		s.Limits = append(s.Limits, r.each(l)...)
	}
}

// each makes one limit of all rows, with a text that names those for which the condition holds;
// or one for each row, if the condition depends on values that can be set.
func (r *resolver) each(l *Limit) []*Limit {
	if l.Each.Table == nil {
		return nil
	}
	n := r.yesNoOver(l.When, "when", l.Each)
	if n == nil {
		return nil
	}
	if !r.dependsOnSettings(n) {
		rows := r.chosenRows(l.When, n, l.Each, "when")
		if rows == nil {
			return nil
		}
		holds := 0.0
		if len(rows) > 0 {
			holds = 1
		}
		x := *l
		x.Rows, x.Text = rows, l.textFor(rows)
		x.Node = &formula.Node{Op: formula.Num, Kind: quantity.Yes, Value: holds, Start: n.Start, End: n.End}
		return []*Limit{&x}
	}
	if count := l.Each.Rows(); count > MostLiveLimits {
		r.report(source.TooManyLive("this limit", path.Base(l.Each.Path), count, MostLiveLimits), l.When.Span())
		return nil
	}
	var out []*Limit
	for row := range l.Each.Rows() {
		x := *l
		x.Rows, x.Text = []int{row}, l.textFor([]int{row})
		x.Node = l.Each.atRow(n, row)
		out = append(out, &x)
	}
	return out
}

// atRow is a formula over the rows of the file, fixed to one row.
func (f *DataFile) atRow(n *formula.Node, row int) *formula.Node {
	c := *n
	if n.Op == formula.Var {
		for _, x := range f.Row {
			switch {
			case x.Slot != n.Slot:
			case x.Column.Live:
				c.Slot = x.Column.Slot + row
			default:
				c.Op, c.Value = formula.Num, x.Column.Cells[row]
			}
		}
		return &c
	}
	c.Args = nil
	for _, a := range n.Args {
		c.Args = append(c.Args, f.atRow(a, row))
	}
	return &c
}

var bareName = regexp.MustCompile(`\{[a-z][a-z0-9_]*\}`)

// textFor is the text of a limit for some rows: repeated for each row if it places a column,
// otherwise once, followed by the rows' first cells.
func (l *Limit) textFor(rows []int) Prose {
	text := strings.TrimSpace(l.Text.Text)
	places := slices.ContainsFunc(bareName.FindAllString(text, -1), func(name string) bool {
		_, ok := l.Each.Table.Column(name[1 : len(name)-1])
		return ok
	})
	if len(rows) == 0 && l.Each.Rows() > 0 { // so that errors of the text are reported all the same
		rows = []int{0}
	}
	first := &l.Each.Table.Columns[0]
	var parts []string
	for _, row := range rows[:min(len(rows), mostRowsTold)] {
		if places {
			parts = append(parts, l.withCells(text, row))
		} else {
			parts = append(parts, written(first, row))
		}
	}
	said := strings.Join(parts, " ")
	if !places {
		said = text + " (" + strings.ReplaceAll(first.Name, "_", " ") + " " + strings.Join(parts, ", ") + ")"
	}
	if len(rows) > mostRowsTold {
		said += " And more rows."
	}
	place, whole := l.Text.Place, len(l.Text.Text)
	return Prose{Text: said, Place: func(int, int) source.Span { return place(0, whole) }}
}

// withCells puts a row's cells into a text. The names of live columns stay in their braces, which is
// then reported as an error of the text.
func (l *Limit) withCells(text string, row int) string {
	return bareName.ReplaceAllStringFunc(text, func(name string) string {
		if c, ok := l.Each.Table.Column(name[1 : len(name)-1]); ok && !c.Live {
			return written(c, row)
		}
		return name
	})
}

var marks = regexp.MustCompile("[\\\\`*_{}\\[\\]<>#|~&!]")

// written is a cell as a text places it: a quantity as a literal in braces.
func written(c *Column, row int) string {
	text := c.Values[row].Text
	switch {
	case c.Kind.Sort == quantity.Word || c.Kind.Sort == quantity.YesNo || c.Kind == quantity.Date:
		return marks.ReplaceAllString(text, `\$0`)
	case strings.HasPrefix(text, "-"):
		return "{(" + text + ")}"
	}
	return "{" + text + "}"
}
