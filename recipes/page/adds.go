package page

import (
	"path"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// MostLive is how many rows a file may have where an added column depends on values that a
// reader can set: the reader's page works every row out again at each change.
const MostLive = 400

// Added is a column that a page adds to a data file. Its formula is worked out for each row:
// once, when the page is resolved, or in every case if it depends on values that can be set.
type Added struct {
	File    *DataFile
	Column  *Column
	Formula *formula.Formula
	Node    *formula.Node
	Span    source.Span
	state   uint8
}

// RowName is a column that a formula over the rows of a file names: the slot holds the
// column's cell in the current row.
type RowName struct {
	Slot   int
	Column *Column
}

// dataFile reads an entry under data, and returns the values that name the file and list the
// columns added to it.
func (d *decoder) dataFile(name, v *value) (file *DataFile, reference *value, adds *value) {
	file = &DataFile{Name: name.Text, Span: v.Span}
	if v.Shape != mapping {
		return file, v, nil
	}
	d.known(v, underFront("data", "x"))
	reference = d.required(v, "file", "file: and the name of the file", name.Span)
	if reference != nil {
		file.Span = reference.Span
	}
	file.Source = d.origin(v.Get("source"))
	return file, reference, d.mapping(v.Get("adds"), "adds")
}

// adds reads the columns that a page adds to a data file. It copies the table, since other
// pages use the same file.
func (d *decoder) adds(file *DataFile, v *value) {
	if v == nil || file.Table == nil {
		return
	}
	t := &Table{Path: file.Table.Path, Columns: slices.Clone(file.Table.Columns)}
	for i, k := range v.Keys {
		switch _, twice := t.Column(k.Text); {
		case !isName(k.Text):
			d.report(source.BadName(k.Text), k.Span)
		case quantity.IsUnit(k.Text):
			d.report(source.NameIsUnit(k.Text), k.Span)
		case formula.IsFunction(k.Text) || formula.IsWord(k.Text):
			d.report(source.NameReserved(k.Text), k.Span)
		case twice:
			d.report(source.AddedTwice(k.Text, path.Base(file.Path)), k.Span)
		default:
			first := file.Table.first()
			c := Column{Column: formula.Column{File: first.File, Name: k.Text, Kind: quantity.Any, Lines: first.Lines, Table: first.Table},
				Values: make([]quantity.Value, len(first.Lines)), file: first.file, starts: first.starts}
			t.Columns = append(t.Columns, c)
			file.Adds = append(file.Adds, &Added{File: file, Span: k.Span, Formula: d.formula(v.Items[i], "an added column")})
		}
	}
	for i, a := range file.Adds {
		a.Column = &t.Columns[len(file.Table.Columns)+i]
	}
	file.Table = t
}

// addedNamed finds an added column by its name.
func (f *DataFile) addedNamed(name string) *Added {
	if f == nil {
		return nil
	}
	for _, a := range f.Adds {
		if a.Column.Name == name {
			return a
		}
	}
	return nil
}

// added finds a column that the page adds to one of its files.
func (s *Sheet) added(file, name string) *Added {
	return s.dataNamed(file).addedNamed(name)
}

// rowScope lets a formula over the rows of a file find the file's columns by their bare names.
type rowScope struct {
	pageScope
	file *DataFile
	// both are the names found that a column and the page have in common.
	both []string
}

func (x *rowScope) Symbol(of, name string) (formula.Symbol, bool) {
	if of != "" {
		return x.pageScope.Symbol(of, name)
	}
	s, ok := x.pageScope.Symbol("", name)
	if x.file.Table == nil {
		return formula.Symbol{Kind: quantity.Any}, true
	}
	c, column := x.file.Table.Column(name)
	switch {
	case !column || quantity.IsUnit(name):
		return s, ok
	case ok:
		x.both = append(x.both, name)
		return formula.Symbol{Kind: quantity.Any}, true
	}
	return formula.Symbol{Kind: c.Kind, Slot: x.file.rowSlot(x.s, c), Unit: c.Unit, Words: c.Words, Ownership: formula.Owned}, true
}

func (x *rowScope) Symbols() []string {
	names := x.pageScope.Symbols()
	if x.file.Table != nil {
		names = append(names, x.file.Table.Names()...)
	}
	return names
}

// rowSlot is the slot in which formulas over the rows of the file find a column's cell.
func (f *DataFile) rowSlot(s *Sheet, c *Column) int {
	for _, n := range f.Row {
		if n.Column == c {
			return n.Slot
		}
	}
	f.Row = append(f.Row, RowName{Slot: pageScope{s}.Slot(), Column: c})
	return f.Row[len(f.Row)-1].Slot
}

// SetRow puts the cells of a row into their slots.
func (f *DataFile) SetRow(frame *formula.Frame, row int) {
	for _, n := range f.Row {
		if n.Column.Live || n.Column.Cells != nil {
			frame.V[n.Slot] = n.Column.Cell(frame, row)
		}
	}
}

// Rows is how many rows the file has.
func (f *DataFile) Rows() int {
	if f.Table == nil {
		return 0
	}
	return len(f.Table.Columns[0].Lines)
}

// Line is the line on which a row stands in the file.
func (f *DataFile) Line(row int) int { return f.Table.Columns[0].Lines[row] }

// overRow infers a formula over the rows of a file.
func (r *resolver) overRow(f *formula.Formula, file *DataFile) *formula.Node {
	if f == nil {
		return nil
	}
	scope := &rowScope{pageScope: r.scope, file: file}
	n, list := formula.Infer(f, scope)
	r.list = append(r.list, list...)
	for _, ref := range f.References() {
		if ref.Of == "" && slices.Contains(scope.both, ref.Name) {
			r.list = append(r.list, f.Fault(source.NameOfBoth(ref.Name, path.Base(file.Path)), &formula.Node{Start: ref.Start, End: ref.End}))
			return nil
		}
	}
	return n
}

// added infers the formula of an added column, and works it out where it depends on nothing that
// can be set.
func (r *resolver) added(a *Added) {
	n := r.overRow(a.Formula, a.File)
	if n == nil {
		return
	}
	c := a.Column
	unit, _ := n.FirstUnit()
	if r.dependsOnSettings(n) {
		if rows := a.File.Rows(); rows > MostLive {
			r.report(source.TooManyLive(c.Name, path.Base(a.File.Path), rows, MostLive), a.Span)
			return
		}
		c.Live, c.Rows = true, a.File.Rows()
		c.Slot = r.scope.Slot()
		for range c.Rows {
			r.scope.Slot()
		}
	} else if !r.fill(a, n) {
		return
	}
	a.Node, c.Kind, c.Unit, c.Words = n, n.Kind, unit, n.Words
	for i := range c.Values {
		c.Values[i].Kind, c.Values[i].Unit = c.Kind, unit
		if !c.Live {
			c.Values[i].Base, c.Values[i].Text = c.Cells[i], c.Show().Format(c.Cells[i]).Text
		}
	}
}

// fill works an added column out, row by row.
func (r *resolver) fill(a *Added, n *formula.Node) bool {
	r.growFrame()
	cells := make([]float64, 0, a.File.Rows())
	for row := range a.File.Rows() {
		a.File.SetRow(&r.frame, row)
		r.frame.Reset()
		v := n.Eval(&r.frame)
		if r.frame.Fault != formula.None {
			why := r.frame.Fault.Reason(r.frame.At, "")
			r.list = append(r.list, a.Formula.Fault(source.AddedFails(a.Column.Name, path.Base(a.File.Path), a.File.Line(row), why), r.frame.At))
			return false
		}
		cells = append(cells, v)
	}
	a.Column.Cells = cells
	return true
}

// growFrame grows the frame to as many slots as the sheet has by now.
func (r *resolver) growFrame() {
	if more := r.scope.s.slots - len(r.frame.V); more > 0 {
		r.frame.V = append(r.frame.V, make([]float64, more)...)
	}
}

// noteFigure notes a figure whose kind was inferred, for the added columns that use it: that it
// depends on values that can be set, or else its value.
func (r *resolver) noteFigure(f *Figure) {
	if f.Node == nil || !r.rows {
		return
	}
	if r.dependsOnSettings(f.Node) {
		r.varies[f.Slot] = true
		return
	}
	r.growFrame()
	r.frame.Reset()
	r.frame.V[f.Slot] = f.Node.Eval(&r.frame)
}

// noteGiven notes the given values and those drawn on, for formulas over rows.
func (r *resolver) noteGiven() {
	s := r.scope.s
	r.varies = map[int]bool{}
	r.rows = slices.ContainsFunc(s.Data, func(d *DataFile) bool { return len(d.Adds) > 0 }) || s.overRows()
	r.growFrame()
	for _, g := range s.Given {
		r.frame.V[g.Slot] = g.Own
		r.varies[g.Slot] = g.Settable() || g.Today
	}
	for _, u := range s.Uses {
		for i := range u.Slots {
			r.varies[u.Base+i] = true
		}
	}
}

// dependsOnSettings reports whether a formula depends on a value that can be set.
func (r *resolver) dependsOnSettings(n *formula.Node) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Var && (r.varies[n.Slot] || r.scope.s.liveRow(n.Slot)) || n.Data != nil && n.Data.Live() != nil {
			found = true
		}
		return !found
	})
	return found
}

// liveRow reports whether a slot holds the cell of a live column.
func (s *Sheet) liveRow(slot int) bool {
	for _, d := range s.Data {
		for _, n := range d.Row {
			if n.Slot == slot {
				return n.Column.Live
			}
		}
	}
	return false
}
