package page

import (
	"path"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// RowTable shows the rows of a data file.
type RowTable struct {
	File    *DataFile
	Columns []*Column
	// Where is a condition on a row; nil shows all. Order is the column that rows are sorted
	// by, nil for the file's order; Falling puts the largest first.
	Where   *formula.Formula
	Node    *formula.Node
	Order   *Column
	Falling bool
	Totals  []*Column
	// Rows are those that may be shown: those for which Where holds, or all of them if it
	// depends on values that can be set.
	Rows []int
	// Live says that the choice of rows, their order or their cells depend on values that can
	// be set.
	Live bool

	sound bool // no error in it so far
}

func (d *decoder) rowTable(g *Grid, v, of *value) {
	for _, key := range []string{"rows", "cell", "list", "blanks"} {
		if x := v.Get(key); x != nil {
			d.report(source.OfAndGrid(key), x.Span)
		}
	}
	t := &RowTable{}
	g.Of = t
	if t.File = d.fileNamed(of, "of"); t.File == nil || t.File.Table == nil {
		return
	}
	t.sound = true
	column := func(x *value, name string) *Column {
		c, ok := t.File.Table.Column(name)
		if !ok {
			d.report(source.UnknownColumn(t.File.Name, name, source.Nearest(name, t.File.Table.Names())), x.Span)
			t.sound = false
		}
		return c
	}
	for _, x := range d.items(d.required(v, "columns", "columns: and names of the file's columns", g.Span), "columns") {
		if c := column(x, d.text(x, "columns")); c != nil {
			t.Columns = append(t.Columns, c)
		}
	}
	if x := v.Get("where"); x != nil {
		t.Where = d.formula(x, "where")
		t.sound = t.sound && t.Where != nil
	}
	if x := v.Get("order"); x != nil {
		name, falling := strings.CutPrefix(d.text(x, "order"), "-")
		t.Order, t.Falling = column(x, strings.TrimSpace(name)), falling
	}
	for _, x := range d.items(v.Get("totals"), "totals") {
		c := column(x, d.text(x, "totals"))
		if c != nil && !slices.Contains(t.Columns, c) {
			d.report(source.TotalNotShown(c.Name), x.Span)
			t.sound = false
		}
		t.Totals = append(t.Totals, c)
	}
}

// fileNamed finds a data file by the name that the page gives it.
func (d *decoder) fileNamed(v *value, key string) *DataFile {
	name := d.text(v, key)
	file := d.sheet.dataNamed(name)
	if file == nil {
		var names []string
		for _, x := range d.sheet.Data {
			names = append(names, x.Name)
		}
		d.missing(name, source.UnknownData(name, source.Nearest(name, names)), v.Span)
	}
	return file
}

// rowTable infers which rows a table shows.
func (r *resolver) rowTable(g *Grid) {
	t := g.Of
	if t == nil || !t.sound {
		return
	}
	t.Live = slices.ContainsFunc(t.Columns, func(c *Column) bool { return c.Live }) || t.Order != nil && t.Order.Live
	for _, c := range append(slices.Clone(t.Columns), t.Order) {
		if c != nil && c.Kind.Sort == quantity.Unknown { // reported where it is added
			return
		}
	}
	for _, c := range t.Totals {
		if c.Kind.Sort != quantity.Measure {
			r.report(source.RowsOfKind("sum", c.Name, c.Kind.Name()), g.Span)
			return
		}
	}
	rows := make([]int, 0, t.File.Rows())
	for row := range t.File.Rows() {
		rows = append(rows, row)
	}
	if t.Where != nil {
		if t.Node = r.yesNoOver(t.Where, "where", t.File); t.Node == nil {
			return
		}
		if r.dependsOnSettings(t.Node) {
			t.Live = true
		} else if rows = r.chosenRows(t.Where, t.Node, t.File, "where"); rows == nil {
			return
		}
	}
	if cells := len(rows) * len(t.Columns); cells > MostCells {
		r.report(source.TooManyCells(cells, MostCells), g.Span)
		return
	}
	t.Rows = rows
}

// yesNoOver infers a condition on the rows of a file.
func (r *resolver) yesNoOver(f *formula.Formula, what string, file *DataFile) *formula.Node {
	n := r.overRow(f, file)
	if n != nil && n.Kind != quantity.Yes {
		r.report(formula.Wanted(n, quantity.Yes, what, f.Text), f.Span())
		return nil
	}
	return n
}

// chosenRows lists the rows for which a condition holds; it must not depend on values that can
// be set. The list is nil if the condition fails in a row, which is reported.
func (r *resolver) chosenRows(f *formula.Formula, n *formula.Node, file *DataFile, what string) []int {
	r.growFrame()
	rows := []int{}
	for row := range file.Rows() {
		file.SetRow(&r.frame, row)
		r.frame.Reset()
		v := n.Eval(&r.frame)
		if r.frame.Fault != formula.None {
			r.list = append(r.list, f.Fault(source.AddedFails(what, path.Base(file.Path), file.Line(row), r.frame.Fault.Reason(r.frame.At, "")), r.frame.At))
			return nil
		}
		if v != 0 {
			rows = append(rows, row)
		}
	}
	return rows
}

// overRows reports whether the page has formulas over rows besides those of added columns.
func (s *Sheet) overRows() bool {
	return slices.ContainsFunc(s.Grids, func(g *Grid) bool { return g.Of != nil }) || slices.ContainsFunc(s.Limits, func(l *Limit) bool { return l.Each != nil })
}

// Shown writes a cell in a case: as the file has it, except that a date is written out like all
// others on a page.
func (c *Column) Shown(f *formula.Frame, row int) quantity.Shown {
	if text := c.Values[row].Text; text != "" && !c.Live && c.Kind != quantity.Date {
		return quantity.Shown{Text: text, Number: c.Cells[row]}
	}
	return c.Show().Format(c.Cell(f, row))
}
