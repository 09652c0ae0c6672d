package site

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// boundKind is what a placement turned out to place.
type boundKind uint8

const (
	placesNothing boundKind = iota // reported
	placesGiven
	placesFigure
	placesFormula
	placesLiteral
	placesCaution
	placesBlock
	placesGrid
	placesChart
)

// bound is a placement and what it places.
type bound struct {
	at      *markdown.Placement
	kind    boundKind
	given   *sheet.Given
	figure  *sheet.Figure
	caution int
	grid    *sheet.Grid
	chart   *sheet.Chart
	block   string
	node    *formula.Node
	show    quantity.Show
	hasShow bool
	literal string
	// placed is its place among the page's placed formulas, from 1; 0 where it has none.
	placed int
}

// number tells whether the placement shows a computed or given number.
func (b bound) number() bool {
	switch b.kind {
	case placesGiven, placesFigure, placesFormula, placesGrid, placesChart:
		return true
	case placesBlock:
		return b.block != "cautions"
	}
	return false
}

// text is a body or a text of the front matter with its placements bound.
type text struct {
	document *markdown.Document
	bound    []bound
}

// stepTexts are the texts of one step; a document is nil where the step has none.
type stepTexts struct {
	do, aim, note, agitate, caution text
}

// handling lists the texts of the front matter that tell what to take and what to do.
// Cautions and limits are not among them: they name what must not be met.
func (b *binder) handling() []text {
	out := append(append([]text{}, b.supplies...), b.tools...)
	for _, s := range b.steps {
		out = append(out, s.do, s.aim, s.note, s.agitate)
	}
	return out
}

// binder holds all texts of a page.
type binder struct {
	body            text
	limits          []text
	cautions        []text
	supplies, tools []text
	steps           []stepTexts
	captions        map[string]text // of tables and charts, by name
	placed          map[string]bool // blocks and cautions that the body places
	plain           []markdown.Text // the body's, until substances were looked for in them
}

var blocks = map[string]bool{"given": true, "figures": true, "cautions": true, "arithmetic": true, "checks": true, "steps": true}

// bind finds what every placement of a page means, checks its links, and looks for
// quantities typed by hand.
func (s *Site) bind(t *Topic) {
	b := &binder{placed: map[string]bool{}, captions: map[string]text{}}
	t.values = b
	sh := t.Sheet
	ok := t.Resolved
	report := func(d source.Diagnostic) {
		if !s.hidden(d) {
			t.list = append(t.list, d)
			return
		}
		t.Resolved = false
	}
	bound := func(p sheet.Prose, refusal, inline bool) text {
		doc, list := markdown.ParseText(p.Text, p.Place, inline)
		t.list = append(t.list, list...)
		x := text{document: doc}
		for _, at := range doc.Placements() {
			x.bound = append(x.bound, s.placement(t, at, ok, report, true, refusal))
		}
		s.links(t, doc)
		return x
	}
	written := func(p sheet.Prose, refusal, inline bool) text {
		x := bound(p, refusal, inline)
		handTyped(x.document.Texts(), report)
		return x
	}
	prose := func(p sheet.Prose, refusal bool) text { return written(p, refusal, true) }
	optional := func(p *sheet.Prose, inline bool) text {
		if p == nil {
			return text{}
		}
		return written(*p, false, inline)
	}
	for _, l := range sh.Limits {
		b.limits = append(b.limits, prose(l.Text, l.Kind == sheet.Refuse))
	}
	for _, c := range sh.Cautions {
		b.cautions = append(b.cautions, prose(c.Text, false))
	}
	for _, p := range sh.Supplies {
		b.supplies = append(b.supplies, prose(p, false))
	}
	for _, p := range sh.Tools {
		b.tools = append(b.tools, prose(p, false))
	}
	for _, st := range sh.Steps {
		x := stepTexts{do: prose(st.Do, false), note: optional(st.Note, false)}
		if st.AimText != nil { // its tolerance is typed
			x.aim = bound(*st.AimText, false, true)
		}
		if st.Agitate != nil {
			x.agitate = optional(st.Agitate.Text, true)
		}
		if st.Own != nil {
			x.caution = prose(st.Own.Text, false)
		}
		b.steps = append(b.steps, x)
	}
	for _, g := range sh.Grids {
		b.captions[g.Name] = prose(g.Caption, false)
	}
	for _, c := range sh.Charts {
		b.captions[c.Name] = prose(c.Caption, false)
	}
	b.body.document = t.Body
	for _, at := range t.Body.Placements() {
		x := s.placement(t, at, ok, report, false, false)
		switch x.kind {
		case placesBlock:
			b.placed[x.block] = true
		case placesCaution:
			b.placed[sh.Cautions[x.caution].Name] = true
		case placesGrid:
			b.placed[x.grid.Name] = true
		case placesChart:
			b.placed[x.chart.Name] = true
		}
		b.body.bound = append(b.body.bound, x)
	}
	s.links(t, t.Body)
	b.plain = t.Body.Texts()
	handTyped(b.plain, report)
	if t.list.Errors() == 0 {
		t.unplaced(report)
	}
	t.leaf = s.leaf(t)
}

// unplaced reports steps, tables and charts that stand nowhere in the page's text.
func (t *Topic) unplaced(report func(source.Diagnostic)) {
	placed := t.values.placed
	if len(t.Sheet.Steps) > 0 && !placed["steps"] {
		report(source.StepsUnplaced().At(t.Sheet.StepsAt))
	}
	for _, g := range t.Sheet.Grids {
		if !placed[g.Name] {
			report(source.Unplaced("table", g.Name).At(g.Span))
		}
	}
	for _, c := range t.Sheet.Charts {
		if !placed[c.Name] {
			report(source.Unplaced("chart", c.Name).At(c.Span))
		}
	}
}

// readText reads and binds one text of a page without reporting anything.
func (s *Site) readText(t *Topic, p sheet.Prose) text {
	doc, _ := markdown.ParseText(p.Text, p.Place, true)
	x := text{document: doc}
	for _, at := range doc.Placements() {
		x.bound = append(x.bound, s.placement(t, at, t.Resolved, func(source.Diagnostic) {}, true, false))
	}
	return x
}

func handTyped(texts []markdown.Text, report func(source.Diagnostic)) {
	for _, x := range texts {
		find := quantity.Typed
		if x.Heading { // a heading names things: "After 3 minutes"
			find = quantity.Find
		}
		for _, f := range find(x.Text) {
			report(source.HandTyped(f.Text, f.Written).At(x.At(f.Start, f.End)))
		}
	}
}

// placement binds one pair of braces. ok tells whether the page's kinds are known; where
// they are not, only what cannot be any name is reported.
func (s *Site) placement(t *Topic, at *markdown.Placement, ok bool, report func(source.Diagnostic), inText, refusal bool) bound {
	sh := t.Sheet
	b := bound{at: at}
	name := at.Formula
	if blocks[name] {
		switch {
		case inText:
			report(source.BlockInText(name).At(at.FormulaSpan))
		case at.Show != "":
			report(source.BlockHasShow(name).At(at.Span))
		case !at.Block:
			report(source.BlockInLine(name).At(at.Span))
		default:
			b.kind, b.block = placesBlock, name
		}
		return b
	}
	for i, c := range sh.Cautions {
		if c.Name != name {
			continue
		}
		switch {
		case inText:
			report(source.BlockInText(name).At(at.FormulaSpan))
		case !at.Block:
			report(source.BlockInLine(name).At(at.Span))
		default:
			b.kind, b.caution = placesCaution, i
		}
		return b
	}
	alone := func(kind boundKind) {
		switch {
		case inText:
			report(source.BlockInText(name).At(at.FormulaSpan))
		case at.Show != "":
			report(source.BlockHasShow(name).At(at.Span))
		case !at.Block:
			report(source.BlockInLine(name).At(at.Span))
		default:
			b.kind = kind
		}
	}
	for _, g := range sh.Grids {
		if g.Name == name {
			b.grid = g
			alone(placesGrid)
			return b
		}
	}
	for _, c := range sh.Charts {
		if c.Name == name {
			b.chart = c
			alone(placesChart)
			return b
		}
	}
	place := func(start, end int) source.Span { return at.FormulaSpan.Sub(start, end) }
	if v, trouble := quantity.Parse(name); trouble == nil {
		b.kind, b.literal = placesLiteral, v.Text
		s.show(&b, v.Kind, at, report)
		if b.hasShow {
			b.literal = b.show.Format(v.Base).Text
		}
		return b
	}
	if g := sh.GivenNamed(name); g != nil {
		b.kind, b.given = placesGiven, g
		s.show(&b, g.Kind, at, report)
		return b
	}
	if f := sh.Figure(name); f != nil {
		if refusal {
			report(source.FigureInRefusal(name).At(at.FormulaSpan))
			return b
		}
		b.kind, b.figure = placesFigure, f
		s.show(&b, f.Kind, at, report)
		return b
	}
	if sh.Misnamed(name) {
		return b
	}
	f, list := formula.Parse(name, place)
	if f == nil {
		for _, d := range list {
			report(d)
		}
		return b
	}
	if alone, is := f.Alone(); is {
		names := append(sh.Scope().Symbols(), blockNames()...)
		for _, c := range sh.Cautions {
			names = append(names, c.Name)
		}
		for _, g := range sh.Grids {
			names = append(names, g.Name)
		}
		for _, c := range sh.Charts {
			names = append(names, c.Name)
		}
		report(source.UnknownPlacement(alone, source.Nearest(alone, names)).At(at.FormulaSpan))
		return b
	}
	if !ok {
		return b
	}
	if refusal {
		for _, r := range f.References() {
			if sh.Figure(r.Name) != nil {
				report(source.FigureInRefusal(r.Name).At(place(r.Start, r.End)))
				return b
			}
		}
	}
	node, list := formula.Infer(f, sh.Scope())
	for _, d := range list {
		report(d)
	}
	if node == nil {
		return b
	}
	b.kind, b.node = placesFormula, node
	unit, _ := node.FirstUnit()
	b.show = quantity.DefaultShow(node.Kind, unit)
	if show, is := sh.ShowOf(name); is {
		b.show = show
	}
	s.show(&b, node.Kind, at, report)
	return b
}

func blockNames() []string {
	return []string{"given", "figures", "cautions", "arithmetic", "checks", "steps"}
}

// show reads what follows the last "in".
func (s *Site) show(b *bound, kind quantity.Kind, at *markdown.Placement, report func(source.Diagnostic)) {
	if strings.TrimSpace(at.Show) == "" || kind.Sort == quantity.Unknown {
		return
	}
	show, trouble := quantity.ParseShow(at.Show, kind)
	if trouble != nil {
		report(trouble.Problem.At(at.ShowSpan.Sub(trouble.Start, min(trouble.End, len(at.Show)))))
		return
	}
	b.show, b.hasShow = show, true
}
