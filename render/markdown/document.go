package markdown

import (
	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
)

// Document is a body or text that was parsed.
type Document struct {
	root   *ast.Document
	source []byte
	place  func(start, end int) source.Span
	inline bool // it has no blocks but paragraphs

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
	// Text is all between the braces, trimmed. Formula is the part before the last " in " outside
	// quotes and brackets, and Show the part after it, "" if there is none. A dilution alone
	// (1 in 100) is all Formula.
	Text, Formula, Show string
	// Span includes the braces. ShowSpan is empty if Show is.
	FormulaSpan, ShowSpan, Span source.Span
	// Block says that the placement is alone in its paragraph. HTML then replaces the whole
	// paragraph, and has its own <p> if it needs one.
	Block bool
	// InPicture says that it is in a picture's alternative text, where only Plain is used. InLink,
	// InHeading and InCell say that its HTML must suit the text of a link, a heading or a cell of
	// a table.
	InPicture, InLink, InHeading, InCell bool

	// HTML and Plain are filled in before Render: what to write, already safe, and the same as plain
	// text. If they are empty, nothing is written.
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
	// Span is from its first character to the end of its text.
	Span source.Span
}

// Link is a link of the text, an autolink included.
type Link struct {
	// Destination is where it leads, with escapes and references resolved. The caller may change it
	// before Render, which writes it unless its scheme is refused.
	Destination string
	// Text is its plain text, without placements.
	Text string
	// Span is the place of the destination; of a link by reference, that in its definition; if the
	// destination is empty, that of the link.
	Span source.Span

	original string
}

// Picture is an image of the text.
type Picture struct {
	// Destination is as in Link.
	Destination string
	// Width and Height are in CSS pixels; if one is 0, neither is written.
	Width, Height int
	// Span is the place of the destination, as in Link.
	Span source.Span

	document *Document
	node     *ast.Image
}

// Alt is the picture's alternative text, with the present plain texts of its placements.
func (p *Picture) Alt() string { return p.document.plain(p.node, true) }

// Placements lists the placements in reading order, footnotes last.
func (d *Document) Placements() []*Placement { return d.placements }

// Headings lists the headings in reading order.
func (d *Document) Headings() []Heading { return d.headings }

// Links lists the links in reading order.
func (d *Document) Links() []*Link { return d.links }

// Pictures lists the pictures in reading order.
func (d *Document) Pictures() []*Picture { return d.pictures }
