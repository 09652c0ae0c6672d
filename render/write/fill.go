package write

import (
	"bytes"
	"fmt"
	"html/template"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/markdown"
	"labsite/render/work"
)

// filler writes the texts of a page with the values of one case.
type filler struct {
	page *work.Page
	run  *prove.Case
	// block makes a block that the body places.
	block func(b page.Block) template.HTML
	// grid and chart make a table and a chart that the body places.
	grid  func(g *page.Grid) template.HTML
	chart func(c *page.Chart) template.HTML
	// caution makes a caution that the body places.
	caution func(i int) template.HTML
	// href turns a link's destination in the content into one on the site.
	href func(destination string) string
	size func(destination string) (width, height int)
	// mark gives the attributes by which the page's script finds a placement; nil if no script
	// updates the text.
	mark func(b work.Bound) string
	// asOf says as of which day a value was worked out, as HTML; nil if the text does not say.
	asOf func(n *formula.Node) string
}

// shown is what a placement shows; ok is false if the number is withdrawn.
func (f *filler) shown(b work.Bound) (quantity.Shown, bool) {
	switch b.Kind {
	case work.PlacesLiteral:
		return quantity.Shown{Text: b.Literal}, true
	case work.PlacesGiven:
		if b.HasShow {
			return f.run.Write(b.Given.Slot, b.Show.Format), true
		}
		return f.run.ShownGiven(b.Given), true
	}
	if f.run.Refused() && !b.InRefusal {
		return quantity.Shown{}, false
	}
	switch b.Kind {
	case work.PlacesFigure:
		if b.HasShow {
			return f.run.Write(b.Figure.Slot, b.Show.Format), true
		}
		return f.run.Shown(b.Figure), true
	case work.PlacesFormula:
		return f.run.WriteFormula(b.Node, b.Show)
	}
	return quantity.Shown{}, false
}

// place fills in a text's placements, and the addresses of its links and pictures.
func (f *filler) place(x work.Text) {
	if x.Document == nil {
		return
	}
	for _, b := range x.Bound {
		switch b.Kind {
		case work.PlacesNothing:
			b.At.HTML, b.At.Plain = "", ""
		case work.PlacesBlock:
			b.At.HTML = string(f.block(b.Block))
		case work.PlacesCaution:
			b.At.HTML = string(f.caution(b.Caution))
		case work.PlacesGrid:
			b.At.HTML = string(f.grid(b.Grid))
		case work.PlacesChart:
			b.At.HTML = string(f.chart(b.Chart))
		default:
			v, ok := f.shown(b)
			if !ok {
				b.At.HTML, b.At.Plain = string(noNumber), "no number"
				continue
			}
			b.At.Plain = prove.Plain(v)
			attributes := ""
			if f.mark != nil {
				attributes = f.mark(b)
			}
			b.At.HTML = string(shownHTML(v, attributes))
			if f.asOf != nil {
				b.At.HTML += f.asOf(nodeOf(b))
			}
			if b.At.Block {
				b.At.HTML = "<p>" + b.At.HTML + "</p>"
			}
		}
	}
	for _, l := range x.Document.Links() {
		l.Destination = f.href(l.Destination)
	}
	for _, p := range x.Document.Pictures() {
		p.Width, p.Height = f.size(p.Destination)
		p.Destination = f.href(p.Destination)
	}
}

// nodeOf is the formula whose value a placement shows; nil for a given value: one that is a day
// needs no other day beside it.
func nodeOf(b work.Bound) *formula.Node {
	if b.Kind == work.PlacesFigure {
		return b.Figure.Node
	}
	return b.Node
}

// html fills a text and writes it.
func (f *filler) html(x work.Text, opt markdown.RenderOptions) template.HTML {
	if x.Document == nil {
		return ""
	}
	f.place(x)
	var b bytes.Buffer
	if err := x.Document.Render(&b, opt); err != nil {
		return template.HTML("<!-- " + template.HTMLEscapeString(fmt.Sprint(err)) + " -->")
	}
	return template.HTML(b.String())
}
