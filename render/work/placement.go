package work

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// placement is a pair of braces to be bound.
type placement struct {
	page    *Page
	at      *markdown.Placement
	kinds   bool // the page's kinds are known
	report  func(source.Diagnostic)
	inText  bool // it is in a text of the front matter, which takes no blocks
	refusal bool // it is in the text of a limit that refuses, which may place no figure
}

// bind finds what the braces place: a block, caution, table or chart; a quantity; a given or a
// figure; or a formula.
func (x placement) bind() Bound {
	sh, name := x.page.Sheet, x.at.Formula
	b := Bound{At: x.at}
	if block, is := page.BlockNamed(name); is {
		if x.alone() {
			b.Kind, b.Block = PlacesBlock, block
		}
		return b
	}
	if x.stands(&b) {
		return b
	}
	if v, trouble := quantity.Parse(name); trouble == nil {
		b.Kind, b.Literal = PlacesLiteral, v.Text
		x.show(&b, v.Kind)
		if b.HasShow {
			b.Literal = b.Show.Format(v.Base).Text
		}
		return b
	}
	if g := sh.GivenNamed(name); g != nil {
		b.Kind, b.Given = PlacesGiven, g
		x.show(&b, g.Kind)
		return b
	}
	if f := sh.Figure(name); f != nil {
		if x.refusal {
			x.report(source.FigureInRefusal(name).At(x.at.FormulaSpan))
			return b
		}
		b.Kind, b.Figure = PlacesFigure, f
		x.show(&b, f.Kind)
		return b
	}
	if !sh.Misnamed(name) {
		x.formula(&b)
	}
	return b
}

// stands binds a name that must stand in a paragraph of its own: a caution, a table or a chart.
func (x placement) stands(b *Bound) bool {
	sh, name := x.page.Sheet, x.at.Formula
	for i, c := range sh.Cautions {
		if c.Name == name {
			if x.aloneButShown() {
				b.Kind, b.Caution = PlacesCaution, i
			}
			return true
		}
	}
	for _, g := range sh.Grids {
		if g.Name == name {
			if b.Grid = g; x.alone() {
				b.Kind = PlacesGrid
			}
			return true
		}
	}
	for _, c := range sh.Charts {
		if c.Name == name {
			if b.Chart = c; x.alone() {
				b.Kind = PlacesChart
			}
			return true
		}
	}
	return false
}

// alone reports whether the braces stand where a block may, and reports if they do not.
func (x placement) alone() bool {
	if !x.inText && x.at.Show != "" {
		x.report(source.BlockHasShow(x.at.Formula).At(x.at.Span))
		return false
	}
	return x.aloneButShown()
}

// aloneButShown is alone for a caution, without the test for a form after "in".
func (x placement) aloneButShown() bool {
	switch {
	case x.inText:
		x.report(source.BlockInText(x.at.Formula).At(x.at.FormulaSpan))
	case !x.at.Block:
		x.report(source.BlockInLine(x.at.Formula).At(x.at.Span))
	default:
		return true
	}
	return false
}

// formula binds braces that hold a formula.
func (x placement) formula(b *Bound) {
	sh, name := x.page.Sheet, x.at.Formula
	place := func(start, end int) source.Span { return x.at.FormulaSpan.Sub(start, end) }
	f, list := formula.Parse(name, place)
	if f == nil {
		x.reportAll(list)
		return
	}
	if alone, is := f.Alone(); is {
		x.report(source.UnknownPlacement(alone, source.Nearest(alone, placeable(sh))).At(x.at.FormulaSpan))
		return
	}
	if !x.kinds {
		return
	}
	if x.refusal {
		for _, r := range f.References() {
			if sh.Figure(r.Name) != nil {
				x.report(source.FigureInRefusal(r.Name).At(place(r.Start, r.End)))
				return
			}
		}
	}
	node, list := formula.Infer(f, sh.Scope())
	x.reportAll(list)
	if node == nil {
		return
	}
	b.Kind, b.Node, b.InRefusal = PlacesFormula, node, x.refusal
	b.Show = node.Show()
	if show, is := sh.ShowOf(name); is {
		b.Show = show
	}
	x.show(b, node.Kind)
}

func (x placement) reportAll(list source.List) {
	for _, d := range list {
		x.report(d)
	}
}

// placeable lists what a page's braces may name.
func placeable(sh *page.Sheet) []string {
	names := append(sh.Scope().Symbols(), page.BlockNames()...)
	for _, c := range sh.Cautions {
		names = append(names, c.Name)
	}
	for _, g := range sh.Grids {
		names = append(names, g.Name)
	}
	for _, c := range sh.Charts {
		names = append(names, c.Name)
	}
	return names
}

// show reads what follows the last "in".
func (x placement) show(b *Bound, kind quantity.Kind) {
	if strings.TrimSpace(x.at.Show) == "" || kind.Sort == quantity.Unknown {
		return
	}
	text, span := x.at.Show, x.at.ShowSpan
	if n := len(text); n > 2 && text[0] == '"' && text[n-1] == '"' { // in quotes, as the front matter needs for "%"
		text, span = text[1:n-1], span.Sub(1, n-1)
	}
	show, trouble := quantity.ParseShow(text, kind)
	if trouble != nil {
		x.report(trouble.Problem.At(span.Sub(trouble.Start, min(trouble.End, len(text)))))
		return
	}
	b.Show, b.HasShow = show, true
}
