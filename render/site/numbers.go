package site

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// Number is a figure of a page at the page's own values, or in a cell of a table.
type Number struct {
	Name  string
	Label string
	Shown string
	Cell  *Cell
}

// Cell is the place of a number in a table: rows, columns and the figures of a cell count
// from 0.
type Cell struct {
	Table  string `json:"table"`
	Row    int    `json:"row"`
	Column int    `json:"column"`
	Figure int    `json:"figure"`
	of     string // the figure's name
}

// NumberChange is a figure that an update changed. Before is empty for one that is new,
// After for one that is gone.
type NumberChange struct {
	Name   string `json:"name"`
	Label  string `json:"label"`
	Before string `json:"before"`
	After  string `json:"after"`
	// Guards are the checks that hold the figure, as the page words them.
	Guards []string `json:"guards"`
	// Cell is where the number stands now, nil for one at the page's own values.
	Cell *Cell `json:"cell,omitempty"`
}

// PageChange are the numbers of one page that changed.
type PageChange struct {
	Page    string         `json:"page"`
	Title   string         `json:"title"`
	Address string         `json:"address"`
	Numbers []NumberChange `json:"numbers"`
}

// Numbers are those that changed since they were last taken.
type Numbers struct {
	pages map[string]*PageChange
}

// withheld stands for a number that the page refuses or cannot work out.
const withheld = "no number"

func numbersOf(t *Topic) []Number {
	out := []Number{}
	for _, f := range t.Sheet.Figures {
		n := Number{Name: f.Name, Label: f.Label, Shown: withheld}
		if t.Proof != nil && !t.Proof.Own.Refused() && len(t.Proof.Own.Failed) == 0 {
			n.Shown = t.Proof.Own.Shown(f).Text
		}
		out = append(out, n)
	}
	if t.Proof == nil || t.Proof.Own.Refused() || len(t.Proof.Own.Failed) > 0 {
		return out
	}
	for _, g := range t.Sheet.Grids {
		out = append(out, cellsOf(g, t.Proof.Own)...)
	}
	return out
}

// cellsOf are the numbers of a table, named by the values that they stand at: a row that was
// added moves the others and changes none.
func cellsOf(g *sheet.Grid, run *sheet.Case) []Number {
	var out []Number
	for i, row := range g.Work(run) {
		at := labelOf(g.Rows.Given.Label, g.Rows.Given.Name) + " " + g.Rows.Values[i].Text
		for k, cell := range row {
			where := at
			if g.Columns != nil {
				where += ", " + labelOf(g.Columns.Given.Label, g.Columns.Given.Name) + " " + g.Columns.Values[k].Text
			}
			for f, figure := range g.Cells {
				n := Number{Name: g.Name + ": " + figure.Name + " at " + where, Label: labelOf(figure.Label, figure.Name) + " at " + where, Shown: withheld,
					Cell: &Cell{g.Name, i, k, f, figure.Name}}
				if !cell.Refused {
					n.Shown = cell.Shown[f].Text
				}
				out = append(out, n)
			}
		}
	}
	return out
}

// compare notes which numbers of a page are others than before.
func (s *Site) compare(t *Topic) {
	before := map[string]Number{}
	for _, n := range t.state.before {
		before[n.Name] = n
	}
	var out []NumberChange
	for _, n := range t.state.numbers {
		old, was := before[n.Name]
		delete(before, n.Name)
		if was && old.Shown == n.Shown {
			continue
		}
		of := n.Name
		if n.Cell != nil {
			of = n.Cell.of
		}
		out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: old.Shown, After: n.Shown, Guards: guards(t, of), Cell: n.Cell})
	}
	for _, n := range t.state.before {
		if _, gone := before[n.Name]; gone {
			out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: n.Shown})
		}
	}
	if len(out) == 0 {
		return
	}
	if s.open.changed == nil {
		s.open.changed = &Numbers{pages: map[string]*PageChange{}}
	}
	s.open.changed.pages[t.Path] = &PageChange{Page: t.Path, Title: t.Title(), Address: urlPath(t.Address()), Numbers: out}
}

// TakeChanges gives the numbers that changed since it was last called, page by page.
func (s *Site) TakeChanges() []PageChange {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	if s.open.changed == nil {
		return nil
	}
	var out []PageChange
	for _, p := range s.open.changed.pages {
		out = append(out, *p)
	}
	s.open.changed = nil
	slices.SortFunc(out, func(a, b PageChange) int { return strings.Compare(a.Page, b.Page) })
	return out
}

// guards words the checks that hold a figure: the cases that expect it and the rules that
// name it, or, where there are none, those of what is worked out from it.
func guards(t *Topic, name string) []string {
	f := t.Sheet.Figure(name)
	if f == nil {
		return nil
	}
	bearing := map[int]bool{f.Slot: true}
	if out := checksOf(t.Sheet, bearing); len(out) > 0 {
		return out
	}
	for _, other := range t.Sheet.Sorted {
		if other.Node != nil && leansOn(other.Node, bearing) {
			bearing[other.Slot] = true
		}
	}
	return checksOf(t.Sheet, bearing)
}

// checksOf words the checks of what stands in some slots.
func checksOf(sh *sheet.Sheet, slots map[int]bool) []string {
	var out []string
	for _, c := range sh.Checks {
		if c.Always != nil {
			if c.Node != nil && leansOn(c.Node, slots) {
				out = append(out, "always "+strings.TrimSpace(c.Text))
			}
			continue
		}
		var at []string
		for _, set := range c.At {
			at = append(at, set.Text)
		}
		where := "at the page's own values"
		if len(at) > 0 {
			where = "at " + strings.Join(at, ", ")
		}
		for _, e := range c.Expect {
			if e.Figure != nil && slots[e.Figure.Slot] {
				text := e.Figure.Name + " is " + e.Want.Text
				if e.Want.HasTolerance {
					text += " ± " + e.Want.ToleranceText
				}
				out = append(out, text+" "+where)
			}
		}
	}
	return out
}

func leansOn(n *formula.Node, slots map[int]bool) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op == formula.Var && slots[n.Slot]
		return !found
	})
	return found
}

// Named finds the given or the figure of a page whose lines a line of its file belongs to.
func (s *Site) Named(page string, line int) (given, figure string) {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	t := s.byPath[page]
	if t == nil || t.Sheet == nil || !t.state.read {
		return "", ""
	}
	if end, _ := t.File.Place(t.Sheet.Body); line >= end {
		return "", ""
	}
	best := 0
	for _, g := range t.Sheet.Given {
		if at, _ := t.File.Place(g.Span.Start); at <= line && at > best {
			best, given, figure = at, g.Name, ""
		}
	}
	for _, f := range t.Sheet.Figures {
		if at, _ := t.File.Place(f.Span.Start); at <= line && at > best {
			best, given, figure = at, "", f.Name
		}
	}
	if best == 0 {
		return "", ""
	}
	// what stands outside the given values and figures begins its line with a letter
	for n := best; n <= line; n++ {
		if text := t.File.Line(n); text != "" && text[0] != ' ' && text[0] != '#' {
			return "", ""
		}
	}
	return given, figure
}

// Fault counts the errors of one file.
type Fault struct {
	File, Address string
	Errors        int
}

// Faulty lists the files that are known to have errors, by path.
func (s *Site) Faulty() []Fault {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	counts := map[string]int{}
	add := func(list source.List) {
		for _, d := range list {
			if d.Severity == source.Error {
				counts[d.File]++
			}
		}
	}
	add(s.common())
	for _, t := range s.Topics {
		add(t.state.list)
	}
	add(s.tables.lists(func(p string) bool { return len(s.open.needs[p]) > 0 }))
	var out []Fault
	for file, n := range counts {
		f := Fault{File: file, Errors: n}
		if t := s.byPath[file]; t != nil {
			f.Address = urlPath(t.Address())
		}
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b Fault) int { return strings.Compare(a.File, b.File) })
	return out
}
