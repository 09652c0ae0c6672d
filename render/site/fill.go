package site

import (
	"bytes"
	"fmt"
	"html/template"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/render/markdown"
)

// filler writes the texts of a page at one case.
type filler struct {
	topic *Topic
	run   *sheet.Case
	// block makes a block that the body places.
	block func(name string) template.HTML
	// grid and chart make a table and a chart that the body places.
	grid  func(g *sheet.Grid) template.HTML
	chart func(c *sheet.Chart) template.HTML
	// caution makes a caution that the body places.
	caution func(i int) template.HTML
	// href turns a link's destination in the content into one on the site.
	href func(destination string) string
	size func(destination string) (width, height int)
	// mark names a placement for the page's script; nil where the text is in no script.
	mark func(b bound) string
}

// shown is what a placement says at this case; ok is false where the number is withdrawn.
func (f *filler) shown(b bound) (quantity.Shown, bool) {
	switch b.kind {
	case placesLiteral:
		return quantity.Shown{Text: b.literal}, true
	case placesGiven:
		base := f.run.Frame.V[b.given.Slot]
		if b.hasShow {
			return b.show.Format(base), true
		}
		return b.given.Shown(base), true
	}
	if f.run.Refused() {
		return quantity.Shown{}, false
	}
	switch b.kind {
	case placesFigure:
		if b.hasShow {
			return b.show.Format(f.run.Frame.V[b.figure.Slot]), true
		}
		return f.run.Shown(b.figure), true
	case placesFormula:
		f.run.Frame.Reset()
		f.run.Room()
		v := b.node.Eval(&f.run.Frame)
		if f.run.Frame.Fault != formula.None {
			return quantity.Shown{}, false
		}
		return b.show.Format(v), true
	}
	return quantity.Shown{}, false
}

// fill sets the HTML of a text's placements.
func (f *filler) fill(x text) {
	if x.document == nil {
		return
	}
	for _, b := range x.bound {
		switch b.kind {
		case placesNothing:
			b.at.HTML, b.at.Plain = "", ""
		case placesBlock:
			b.at.HTML = string(f.block(b.block))
		case placesCaution:
			b.at.HTML = string(f.caution(b.caution))
		case placesGrid:
			b.at.HTML = string(f.grid(b.grid))
		case placesChart:
			b.at.HTML = string(f.chart(b.chart))
		default:
			v, ok := f.shown(b)
			if !ok {
				b.at.HTML, b.at.Plain = string(noNumber), "no number"
				continue
			}
			b.at.Plain = v.Text
			attributes := ""
			if f.mark != nil {
				attributes = f.mark(b)
			}
			b.at.HTML = string(quantityHTML(v.Text, attributes))
			if b.at.Block {
				b.at.HTML = "<p>" + b.at.HTML + "</p>"
			}
		}
	}
	for _, l := range x.document.Links() {
		l.Destination = f.href(l.Destination)
	}
	for _, p := range x.document.Pictures() {
		p.Width, p.Height = f.size(p.Destination)
		p.Destination = f.href(p.Destination)
	}
}

// html fills a text and writes it.
func (f *filler) html(x text, opt markdown.RenderOptions) template.HTML {
	if x.document == nil {
		return ""
	}
	f.fill(x)
	var b bytes.Buffer
	if err := x.document.Render(&b, opt); err != nil {
		return template.HTML("<!-- " + template.HTMLEscapeString(fmt.Sprint(err)) + " -->")
	}
	return template.HTML(b.String())
}
