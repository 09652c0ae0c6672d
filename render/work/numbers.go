package work

import (
	"cmp"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
)

// Number is a figure of a page at the page's own values, or in a cell of a table.
type Number struct {
	Name  string
	Label string
	Shown string
	Cell  *Cell

	from  string // the column of a cell in a table of rows
	moves bool   // it is in a table whose rows change by themselves
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

// Of is the name of the number's figure.
func (n Number) Of() string {
	if n.Cell != nil {
		return n.Cell.of
	}
	return n.Name
}

// Withheld stands for a number that the page refuses or cannot work out.
const Withheld = "no number"

// Numbers lists the page's figures and the cells of its tables; nil if it is not worked out.
func (p *Page) Numbers() []Number {
	if p.Sheet == nil || !p.Resolved || p.Proof == nil {
		return nil
	}
	return NumbersAt(p.Sheet, p.Proof.Own)
}

// NumbersAt lists them in a case that was worked out.
func NumbersAt(sh *page.Sheet, own *prove.Case) []Number {
	out := []Number{}
	refused := own.Refused() || len(own.Failed) > 0
	for _, f := range sh.Figures {
		n := Number{Name: f.Name, Label: f.Label, Shown: Withheld}
		if !refused {
			n.Shown = recordedText(own.Shown(f))
		}
		out = append(out, n)
	}
	if refused {
		return out
	}
	for _, g := range sh.Grids {
		if g.Of != nil {
			out = append(out, rowsOf(sh, g, own)...)
			continue
		}
		out = append(out, cellsOf(g, own)...)
	}
	return out
}

// cellsOf lists the numbers of a table, named by the values at their heads, so that a new row changes
// none of the others.
func cellsOf(g *page.Grid, run *prove.Case) []Number {
	var out []Number
	for i, row := range prove.Cells(g, run) {
		at := LabelOf(g.Rows.Given.Label, g.Rows.Given.Name) + " " + g.Rows.Values[i].Text
		for k, cell := range row {
			where := at
			if g.Columns != nil {
				where += ", " + LabelOf(g.Columns.Given.Label, g.Columns.Given.Name) + " " + g.Columns.Values[k].Text
			}
			for f, figure := range g.Cells {
				n := Number{Name: g.Name + ": " + figure.Name + " at " + where, Label: LabelOf(figure.Label, figure.Name) + " at " + where, Shown: Withheld,
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

// LabelOf is what readers call a value: its label, or else its name in words.
func LabelOf(label, name string) string { return cmp.Or(label, Words(name)) }

// Words is a name as readers see it if there is no label.
func Words(name string) string {
	out := strings.ReplaceAll(name, "_", " ")
	if out != "" && out[0] >= 'a' && out[0] <= 'z' {
		out = string(out[0]-'a'+'A') + out[1:]
	}
	return out
}

// Guards lists the checks of a figure in words: the cases that expect it and the rules that name it
// or, if there are none, those of what is worked out from it.
func Guards(sh *page.Sheet, name string) []string {
	f := sh.Figure(name)
	if f == nil {
		return nil
	}
	slots := map[int]bool{f.Slot: true}
	if out := checksOf(sh, slots); len(out) > 0 {
		return out
	}
	for _, other := range sh.Sorted {
		if other.Node != nil && restsOn(other.Node, slots) {
			slots[other.Slot] = true
		}
	}
	return checksOf(sh, slots)
}

// checksOf lists the checks of figures in some slots, in words.
func checksOf(sh *page.Sheet, slots map[int]bool) []string {
	var out []string
	for _, c := range sh.Checks {
		if c.Always != nil {
			if c.Node != nil && restsOn(c.Node, slots) {
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

func restsOn(n *formula.Node, slots map[int]bool) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op == formula.Var && slots[n.Slot]
		return !found
	})
	return found
}

// Named finds the given or the figure to which a line of the page's file belongs.
func (p *Page) Named(line int) (given, figure string) {
	if p.Sheet == nil {
		return "", ""
	}
	if end, _ := p.File.Place(p.Sheet.Body); line >= end {
		return "", ""
	}
	best := 0
	for _, g := range p.Sheet.Given {
		if at, _ := p.File.Place(g.Span.Start); at <= line && at > best {
			best, given, figure = at, g.Name, ""
		}
	}
	for _, f := range p.Sheet.Figures {
		if at, _ := p.File.Place(f.Span.Start); at <= line && at > best {
			best, given, figure = at, "", f.Name
		}
	}
	if best == 0 {
		return "", ""
	}
	// a line that begins with a key ends the given values and figures
	for n := best; n <= line; n++ {
		if text := p.File.Line(n); text != "" && text[0] != ' ' && text[0] != '#' {
			return "", ""
		}
	}
	return given, figure
}
