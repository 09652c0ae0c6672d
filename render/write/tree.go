package write

import (
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
	"labsite/render/work"
)

// Branch is one number in the tree that shows how a number came about.
type Branch struct {
	// Kind is "figure", "given", "set" (a given that is set by the page that draws on its page),
	// "placed" (a formula in a text), "time" (how long a step takes) or "data".
	Kind    string `json:"kind"`
	Page    string `json:"page"`
	Name    string `json:"name"`
	Label   string `json:"label"`
	Shown   string `json:"shown"`
	Formula string `json:"formula,omitempty"`
	// Numbers is the formula with numbers in place of names.
	Numbers string   `json:"numbers,omitempty"`
	Source  string   `json:"source,omitempty"`
	Owner   string   `json:"owner,omitempty"`
	Line    int      `json:"line"`
	Column  int      `json:"column"`
	Text    string   `json:"text"`
	Guards  []string `json:"guards,omitempty"`
	Inputs  []Branch `json:"inputs,omitempty"`
}

// Ask names a number of a page: a figure or given by Name; a placement by the place of its formula in
// its file; a cell of a table; or how long a step takes.
type Ask struct {
	Page, Name string
	// Written is line and column, "12:5". From is the base of the part for a text of a page drawn
	// on, and "" for the page's own texts.
	Written, From string
	// Table names a table, whose cell is in Row and Column and shows the Figure-th of
	// its figures, all from 0.
	Table               string
	Row, Column, Figure int
	// Step is a step, from 1; 0 for none.
	Step int
}

// mostBranches bounds a tree; a figure seen before is shown without its inputs.
const mostBranches = 200

// Tree shows how a number of a page came about, at the page's own values or at those of the table's
// cell. ok is false if the page has no such number.
func Tree(d *work.Desk, ask Ask) (b Branch, ok bool) {
	from := d.Content.Page(ask.Page)
	if from == nil {
		return b, false
	}
	t := d.Make(from)
	if t.Sheet == nil || t.Proof == nil || !t.Resolved {
		return b, false
	}
	g := &grower{desk: d, left: mostBranches, seen: map[grown]bool{}}
	own := at{sheet: t.Sheet, run: t.Proof.Own}
	switch {
	case ask.Table != "":
		for _, x := range t.Sheet.Grids {
			if x.Name != ask.Table || ask.Figure < 0 || ask.Figure >= len(x.Cells) {
				continue
			}
			if cells := prove.Cells(x, own.run); ask.Row >= 0 && ask.Row < len(cells) && ask.Column >= 0 && ask.Column < len(cells[ask.Row]) {
				own.run = cells[ask.Row][ask.Column].Run
				return g.branch(own, x.Cells[ask.Figure].Name)
			}
		}
		return b, false
	case ask.Step > 0:
		if ask.Step > len(t.Sheet.Steps) {
			return b, false
		}
		return g.time(own, ask.Step)
	case ask.Written != "":
		return placedTree(g, t, ask)
	}
	return g.branch(own, ask.Name)
}

// placedTree is the tree of a placement.
func placedTree(g *grower, full *work.Page, ask Ask) (b Branch, ok bool) {
	where, from := at{sheet: full.Sheet, run: full.Proof.Own}, full
	texts := full.Texts.All()
	if ask.From != "" {
		base, err := strconv.Atoi(ask.From)
		if err != nil {
			return b, false
		}
		if where, ok = inside(where, base); !ok {
			return b, false
		}
		other := g.desk.Content.Page(where.sheet.File.Path)
		if other == nil {
			return b, false
		}
		from = g.desk.Resolved(other)
		texts = nil
		for _, l := range where.sheet.Limits {
			texts = append(texts, from.ReadText(l.Text))
		}
		for _, c := range where.sheet.Cautions {
			texts = append(texts, from.ReadText(c.Text))
		}
	}
	for _, x := range texts {
		for _, p := range x.Bound {
			if writtenAt(p.At.FormulaSpan) == ask.Written {
				return g.placed(where, from, p)
			}
		}
	}
	return b, false
}

// at is a page in one case; for a page drawn on, also by which use and from which page.
type at struct {
	sheet *page.Sheet
	run   *prove.Case
	use   *page.Use
	from  *at
}

// within is the page of a use, at the values that it has there.
func (a at) within(u *page.Use) at {
	run := a.run.Inside(u)
	if run == nil {
		run = prove.OwnCase(u.Sheet)
	}
	return at{u.Sheet, run, u, &a}
}

// inside is the page drawn on, near or far, whose block begins at base.
func inside(a at, base int) (at, bool) {
	part := a.sheet.PartAt(base)
	if part == nil {
		return a, false
	}
	return a.part(part), true
}

// part is the page of a part, reached through the pages that lead to it.
func (a at) part(p *page.Part) at {
	if owner := p.Owner(); owner != nil {
		a = a.part(owner)
	}
	return a.within(p.Use)
}

// set is how the page that draws on this one sets a given of it; nil if it does not.
func (a at) set(name string) *page.UseSetting {
	if a.use == nil {
		return nil
	}
	for i := range a.use.At {
		if a.use.At[i].Name == name {
			return &a.use.At[i]
		}
	}
	return nil
}

type grower struct {
	desk *work.Desk
	left int
	seen map[grown]bool
}

// grown is a figure in one case: a page that is drawn on twice has each figure twice.
type grown struct {
	run    *prove.Case
	figure *page.Figure
}

func (b *Branch) standsAt(span source.Span) {
	if span.File == nil {
		return
	}
	b.Page = span.File.Path
	b.Line, b.Column = span.File.Place(span.Start)
	b.Text = strings.TrimSpace(span.File.Line(b.Line))
}

func (g *grower) branch(a at, name string) (Branch, bool) {
	g.left--
	b := Branch{Page: a.sheet.File.Path, Name: name}
	if given := a.sheet.GivenNamed(name); given != nil {
		b.Kind, b.Label, b.Shown = "given", given.Label, a.run.ShownGiven(given).Text
		set := a.set(name)
		if set == nil {
			b.Source, b.Owner = given.Source, given.Owner
			b.standsAt(given.Span)
			return b, true
		}
		b.Kind = "set"
		b.standsAt(set.Span)
		g.formula(&b, *a.from, set.Formula)
		return b, true
	}
	f := a.sheet.Figure(name)
	if f == nil {
		return b, false
	}
	b.Kind, b.Label, b.Shown = "figure", f.Label, work.Withheld
	if !a.run.Refused() && len(a.run.Failed) == 0 {
		b.Shown = a.run.Shown(f).Text
	}
	b.standsAt(f.Span)
	b.Guards = work.Guards(a.sheet, name)
	if f.Formula == nil {
		return b, true
	}
	if span := f.Formula.Span(); span.File != nil {
		if line, _ := span.File.Place(span.Start); line != b.Line {
			b.standsAt(span) // the keys of the figure are on separate lines
		}
	}
	seen := grown{a.run, f}
	if g.seen[seen] {
		b.Formula, b.Numbers = f.Formula.Normal(), numbersIn(a, f.Formula)
		return b, true
	}
	g.seen[seen] = true
	g.formula(&b, a, f.Formula)
	return b, true
}

// formula adds a formula to a branch, with its numbers and inputs.
func (g *grower) formula(b *Branch, a at, f *formula.Formula) {
	b.Formula, b.Numbers = f.Normal(), numbersIn(a, f)
	done := map[string]bool{}
	for _, ref := range f.References() {
		full := ref.Name
		if ref.Of != "" {
			full = ref.Of + "." + ref.Name
		}
		if done[full] || g.left <= 0 {
			continue
		}
		done[full] = true
		of, found := a, ref.Of == ""
		for _, u := range a.sheet.Uses {
			if u.Name == ref.Of && u.Sheet != nil {
				of, found = a.within(u), true
			}
		}
		if found {
			if in, ok := g.branch(of, ref.Name); ok {
				in.Name = full
				b.Inputs = append(b.Inputs, in)
			}
			continue
		}
		for _, d := range a.sheet.Data {
			if d.Name == ref.Of {
				b.Inputs = append(b.Inputs, Branch{Kind: "data", Page: d.Path, Name: full, Line: 1, Column: 1})
			}
		}
	}
}

// numbersIn is a formula with the numbers of a case in place of names.
func numbersIn(a at, f *formula.Formula) string {
	if a.run.Refused() {
		return f.Normal()
	}
	return a.run.WithNumbers(f)
}

// placed is the tree of a placement: a figure or given as it is shown there, or a formula that stands
// only in the text.
func (g *grower) placed(a at, from *work.Page, p work.Bound) (b Branch, ok bool) {
	shown := work.Withheld
	if v, ok := (&filler{page: from, run: a.run}).shown(p); ok {
		shown = v.Text
	}
	switch p.Kind {
	case work.PlacesGiven:
		b, ok = g.branch(a, p.Given.Name)
	case work.PlacesFigure:
		b, ok = g.branch(a, p.Figure.Name)
	case work.PlacesFormula, work.PlacesLiteral:
		g.left--
		b = Branch{Kind: "placed", Name: p.At.Formula}
		b.standsAt(p.At.FormulaSpan)
		if f, _ := formula.Parse(p.At.Formula, nil); f != nil && p.Kind == work.PlacesFormula {
			g.formula(&b, a, f)
			if len(b.Inputs) == 1 && b.Inputs[0].Name == b.Formula { // just a value of a page drawn on
				b = b.Inputs[0]
			}
		}
		ok = true
	}
	b.Shown = shown
	return b, ok
}

// time is the tree of how long a step takes.
func (g *grower) time(a at, step int) (b Branch, ok bool) {
	rows, _, fine := a.run.Process()
	if len(rows) < step || rows[step-1].Step.For == nil {
		return b, false
	}
	row := rows[step-1]
	if name, alone := row.Step.For.Alone(); alone {
		if b, ok = g.branch(a, name); ok {
			return b, true
		}
	}
	b = Branch{Kind: "time", Name: "step " + strconv.Itoa(step), Shown: work.Withheld}
	if fine {
		b.Shown = row.Shown.Text
	}
	b.standsAt(row.Step.For.Span())
	g.formula(&b, a, row.Step.For)
	return b, true
}
