package markdown

import (
	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
)

// Document is a body or text that has been read.
type Document struct {
	root   *ast.Document
	source []byte
	place  func(start, end int) source.Span
	inline bool // only what is within a line

	placements []*Placement
	headings   []Heading
	links      []*Link
	pictures   []*Picture

	headingOf map[*ast.Heading]int
	linkOf    map[ast.Node]*Link
	pictureOf map[*ast.Image]*Picture
}

// Placement is a pair of braces and what is between them.
type Placement struct {
	// Text is all between the braces, without spaces at its ends. Formula is
	// what is before the last " in " outside quotes and brackets, Show what
	// is after it, "" if there is none. A dilution that is alone
	// (1 in 100) is all formula.
	Text, Formula, Show string
	// Span holds the braces too. ShowSpan is empty where Show is.
	FormulaSpan, ShowSpan, Span source.Span
	// Block says that the placement is alone in its paragraph: HTML then
	// takes the place of the whole paragraph and brings its own <p> where it
	// wants one.
	Block bool
	// InPicture says that it is in a picture's alternative text, where only
	// Plain is used; InLink, InHeading and InCell where its HTML must suit a
	// link's text, a heading or a cell of a table.
	InPicture, InLink, InHeading, InCell bool

	// HTML and Plain are filled in before Render: what to write, already safe,
	// and the same as plain text. Empty ones write nothing.
	HTML, Plain string
}

// Heading is a heading of the body.
type Heading struct {
	// Level is 2 to 6.
	Level int
	// ID is its anchor, used once in the document; "" in a text that is not a body.
	ID string
	// Text is its plain text without placements.
	Text string
	// Span is where it is, from its first sign to the end of its text.
	Span source.Span
}

// Link is a link of the text, an autolink included.
type Link struct {
	// Destination is where it leads, with escapes and references resolved. What
	// it holds when Render is called is written, unless its scheme is refused.
	Destination string
	// Text is the plain text that is linked, without placements.
	Text string
	// Span is the place of the destination; for a link by reference, in its
	// definition; for an empty destination, the place of the link.
	Span source.Span

	original string
}

// Picture is an image of the text.
type Picture struct {
	// Destination is as in Link.
	Destination string
	// Width and Height are in CSS pixels; where one is 0 neither is written.
	Width, Height int
	// Span is the place of the destination, as in Link.
	Span source.Span

	document *Document
	node     *ast.Image
}

// Alt is the picture's alternative text, with the plain texts of the placements
// in it as they are now.
func (p *Picture) Alt() string { return p.document.plain(p.node, true) }

// Placements gives those of the document in reading order, footnotes last.
func (d *Document) Placements() []*Placement { return d.placements }

// Headings gives those of the document in reading order.
func (d *Document) Headings() []Heading { return d.headings }

// Links gives those of the document in reading order.
func (d *Document) Links() []*Link { return d.links }

// Pictures gives those of the document in reading order.
func (d *Document) Pictures() []*Picture { return d.pictures }
