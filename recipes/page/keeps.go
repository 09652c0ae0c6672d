package page

import (
	"path"
	"slices"
	"strings"

	"labsite/recipes/approval"
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Keeps is the file in which records of a page are kept.
type Keeps struct {
	// Path is the file's path in the content folder. The file need not exist.
	Path string
	Span source.Span
	// none stands for the file while there is no record: its columns, and no row.
	none *Table
}

// Names of the columns that every record has; no given value or figure may have one of them.
const (
	KeptMade     = "made"
	KeptRevision = "revision"
	KeptBy       = "by"
	KeptNote     = "note"
)

// Kept is a column of the file in which a page keeps its records.
type Kept struct {
	Name string
	// Given or Figure is what it holds; both are nil in the columns that every record has.
	Given  *Given
	Figure *Figure
	// Texts says that its cells are texts, as its head then says too.
	Texts bool
}

// Head is how the first row of the file names the column.
func (k Kept) Head() string {
	if k.Texts {
		return k.Name + " [text]"
	}
	return k.Name
}

// KeptColumns lists the columns of the file in which the page keeps its records, in their order:
// when a record was made, the revision, settings, readings, labelled figures, who initialled it,
// a note.
func (s *Sheet) KeptColumns() []Kept {
	out := []Kept{{Name: KeptMade}, {Name: KeptRevision}}
	words := func(k quantity.Kind) bool { return k.Sort == quantity.Word || k.Sort == quantity.YesNo }
	for _, readings := range []bool{false, true} {
		for _, g := range s.Given {
			if g.Settable() && g.Reading == readings {
				out = append(out, Kept{Name: g.Name, Given: g, Texts: words(g.Kind)})
			}
		}
	}
	for _, f := range s.Figures {
		if f.Label != "" {
			out = append(out, Kept{Name: f.Name, Figure: f, Texts: words(f.Kind)})
		}
	}
	return append(out, Kept{Name: KeptBy, Texts: true}, Kept{Name: KeptNote, Texts: true})
}

func (d *decoder) keeps(v *value) {
	reference := d.text(v, "keeps")
	if reference == "" {
		return
	}
	full, ok := inContent(d.file.Path, reference)
	switch {
	case !ok:
		d.report(source.PathOutside(reference), v.Span)
		return
	case path.Base(reference) != reference || !strings.HasSuffix(reference, ".csv") || strings.HasPrefix(reference, "."):
		d.report(source.KeepsWhat(reference), v.Span)
		return
	}
	// records are kept in the content folder, also those of a page that is read from an approval
	full = approval.Outside(full)
	d.sheet.Keeps = &Keeps{Path: full, Span: v.Span, none: &Table{Path: full}}
	d.later = append(d.later, d.keptColumns)
}

// keptColumns gives a file that does not exist yet its columns. Those of figures get their
// kinds when the figures are inferred.
func (d *decoder) keptColumns() {
	s := d.sheet
	for _, g := range s.Given {
		if isKeptName(g.Name) {
			d.report(source.KeepsColumn(g.Name), g.Span)
		}
	}
	for _, f := range s.Figures {
		if isKeptName(f.Name) {
			d.report(source.KeepsColumn(f.Name), f.Span)
		}
	}
	var columns []Column
	for _, k := range s.KeptColumns() {
		c := Column{Column: formula.Column{File: s.Keeps.Path, Name: k.Name, Kind: quantity.Any, Table: s.Keeps.none}, file: d.file}
		switch {
		case k.Name == KeptMade:
			c.Kind = quantity.Date
		case k.Name == KeptRevision:
			c.Kind = quantity.Number
		case k.Given != nil && !k.Texts:
			c.Kind, c.Unit = k.Given.Kind, k.Given.Value.Unit
		case k.Figure == nil:
			c.Kind = quantity.Text
		}
		columns = append(columns, c)
	}
	s.Keeps.none.Columns = columns
	for _, file := range s.Data {
		if file.Table == nil || file.Path != s.Keeps.Path || file.Table.first().Lines != nil || file.Table == s.Keeps.none {
			continue
		}
		file.Table.Columns = append(slices.Clone(columns), file.Table.Columns...)
		for i, a := range file.Adds {
			a.Column = &file.Table.Columns[len(columns)+i]
		}
	}
}

func isKeptName(name string) bool {
	return slices.Contains([]string{KeptMade, KeptRevision, KeptBy, KeptNote}, name)
}

// kinds finds the kinds of figures' columns in a file that has no record yet, so that formulas
// over its rows are checked against them from the start.
func (s *Sheet) kinds() (list source.List) {
	if s.Keeps == nil {
		return nil
	}
	for _, file := range s.Data {
		if file.Path != s.Keeps.Path || file.Table == nil || file.Table.first().Lines != nil {
			continue
		}
		for range s.Figures {
			if !s.inferKept(file.Table) {
				break
			}
		}
		for _, f := range s.Figures {
			if c, ok := file.Table.Column(f.Name); ok && c.Kind == quantity.Any && f.Label != "" && f.Formula != nil && f.Kind == quantity.Any {
				if c.Kind, c.Unit, ok = kindOfShow(f.ShowText); !ok {
					list = append(list, source.KeepsKind(f.Name).At(f.Span))
				}
			}
		}
	}
	return list
}

// inferKept infers the figures once and gives their columns the kinds found; it reports whether
// another round may find more.
func (s *Sheet) inferKept(t *Table) (more bool) {
	r := &resolver{scope: pageScope{s}} // its list is dropped: errors are reported by the last inference
	r.noteGiven()
	for _, step := range s.Program {
		f := step.Figure
		if f == nil {
			continue
		}
		r.figure(f)
		if c, ok := t.Column(f.Name); ok && f.Label != "" && c.Kind == quantity.Any && f.Kind != quantity.Any && f.Node != nil {
			c.Kind, more = f.Kind, true
			c.Unit, _ = f.Node.FirstUnit()
			if f.Kind.Sort == quantity.YesNo || f.Kind.Sort == quantity.Word {
				c.Kind = quantity.Text
			}
		}
	}
	return more
}

// kindOfShow is the kind of what is shown in a form, if the form tells it.
func kindOfShow(show string) (quantity.Kind, quantity.Unit, bool) {
	show = strings.TrimPrefix(show, "+")
	if show == "weekday" {
		return quantity.Date, quantity.Unit{}, true
	}
	if q, t := quantity.Parse(show); t == nil {
		return q.Kind, q.Unit, true
	}
	if u, t := quantity.ParseUnit(show); t == nil && show != "" {
		return u.Kind, u, true
	}
	return quantity.Any, quantity.Unit{}, false
}

// Moves reports whether a formula of the page has a value in it that changes by itself: one that
// follows the calendar, or that depends on the page's records.
func (s *Sheet) Moves(n *formula.Node) bool { return s.DependsOnToday(n) || s.DependsOnKept(n) }

// RowsMove reports whether the rows of a table change by themselves: with the calendar, or because
// they are the page's records.
func (s *Sheet) RowsMove(t *RowTable) bool {
	if s.Keeps != nil && t.File.Path == s.Keeps.Path || s.Moves(t.Node) {
		return true
	}
	moves := func(c *Column) bool { return c != nil && c.Live && s.onToday[c.Slot] }
	return moves(t.Order) || slices.ContainsFunc(t.Columns, moves)
}

// DependsOnKept reports whether a formula of the page has a value that depends on its records.
func (s *Sheet) DependsOnKept(n *formula.Node) bool {
	if n == nil || s.Keeps == nil {
		return false
	}
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Data != nil && n.Data.Result.File == s.Keeps.Path || n.Op == formula.Var && s.onKept[n.Slot]
		return !found
	})
	return found
}

// markKept finds the slots that depend on the records; all kinds must be known.
func (s *Sheet) markKept() {
	s.onKept = map[int]bool{}
	for _, f := range s.Sorted {
		if s.DependsOnKept(f.Node) {
			s.onKept[f.Slot] = true
		}
	}
}
