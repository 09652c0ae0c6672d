package markdown

import (
	"bytes"
	"sort"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// Text is a piece of plain text as it is read. Emphasis and links do not end it, and a line end within a
// paragraph is a space, since a number and its unit belong together across both. Placements, code, raw
// HTML, autolinks, pictures and hard line breaks end it.
type Text struct {
	// Text has its escapes and character references resolved.
	Text string
	// Span is from its first to its last character in the file.
	Span source.Span
	// Heading says that it is in a heading, Picture that it is in a picture's alternative text.
	Heading, Picture bool

	place  func(start, end int) source.Span
	pieces []piece
}

// piece maps a part of a Text to its source.
type piece struct {
	at, length      int  // in Text
	source, written int  // in the source: offset and length
	same            bool // both are the same bytes
}

// length is the length of the text, from its pieces.
func (t *Text) length() int {
	last := t.pieces[len(t.pieces)-1]
	return last.at + last.length
}

// At is the place in the file of Text[start:end].
func (t Text) At(start, end int) source.Span {
	first, _ := t.find(start)
	_, last := t.find(max(start, end-1))
	if end <= start {
		last = first
	}
	return t.place(first, last)
}

// find is the place in the source of the byte at an offset: its start and end or, if the source writes it
// in another way, those of the whole piece.
func (t Text) find(at int) (start, end int) {
	i := sort.Search(len(t.pieces), func(i int) bool { return t.pieces[i].at > at }) - 1
	p := t.pieces[max(i, 0)]
	if p.same {
		at = min(max(at-p.at, 0), p.length)
		return p.source + at, min(p.source+at+1, p.source+p.length)
	}
	return p.source, p.source + p.written
}

// Texts lists the pieces of plain text outside braces, code, raw HTML and link targets, in reading
// order.
func (d *Document) Texts() []Text {
	g := gatherer{d: d, text: make([]byte, 0, len(d.source)), pieces: make([]piece, 0, 16+len(d.source)/32)}
	g.walk(d.root)
	g.cut()
	all := string(g.text)
	for i := range g.texts {
		t := &g.texts[i]
		from := g.begun[i]
		t.Text = all[from : from+t.length()]
	}
	return g.texts
}

// gatherer keeps the texts and pieces of a document one after another in shared slices, since there are
// many of them; the present text begins at from and its pieces at first.
type gatherer struct {
	d                *Document
	texts            []Text
	begun            []int // where each text begins in text
	text             []byte
	pieces           []piece
	from, first      int
	heading, picture bool
}

func (g *gatherer) walk(n ast.Node) {
	switch n := n.(type) {
	case *ast.Text:
		g.add(n)
		return
	case *ast.CodeSpan, *ast.RawHTML, *ast.AutoLink, *placementNode,
		*extast.TaskCheckBox, *extast.FootnoteLink, *extast.FootnoteBacklink,
		*ast.CodeBlock, *ast.FencedCodeBlock, *ast.HTMLBlock, *ast.LinkReferenceDefinition:
		g.cut()
		return
	case *ast.Image:
		g.cut()
		outer := g.picture
		g.picture = true
		g.children(n)
		g.cut()
		g.picture = outer
		return
	case *ast.Heading:
		g.cut()
		g.heading = true
		g.children(n)
		g.cut()
		g.heading = false
		return
	}
	if n.Type() == ast.TypeBlock {
		g.cut()
	}
	g.children(n)
}

func (g *gatherer) children(n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		g.walk(c)
	}
}

func (g *gatherer) add(n *ast.Text) {
	src := g.d.source
	start, stop := n.Segment.Start, n.Segment.Stop
	for i := start; i < stop; {
		c := src[i]
		if !n.IsRaw() && (c == '\\' || c == '&' || c == 0) {
			if s, size := reference(src[i:stop]); size > 0 {
				g.verbatim(start, i)
				g.piece(s, i, size)
				i += size
				start = i
				continue
			}
		}
		i++
	}
	g.verbatim(start, stop)
	switch {
	case n.HardLineBreak():
		g.cut()
	case n.SoftLineBreak() && len(g.text) > g.from:
		g.piece(" ", stop, 1)
	}
}

func (g *gatherer) verbatim(start, stop int) {
	if start == stop {
		return
	}
	if last := len(g.pieces) - 1; last >= g.first {
		p := &g.pieces[last]
		if p.same && p.source+p.written == start {
			p.length += stop - start
			p.written = p.length
			g.text = append(g.text, g.d.source[start:stop]...)
			return
		}
	}
	g.pieces = append(g.pieces, piece{at: len(g.text) - g.from, length: stop - start, source: start, written: stop - start, same: true})
	g.text = append(g.text, g.d.source[start:stop]...)
}

func (g *gatherer) piece(text string, at, written int) {
	g.pieces = append(g.pieces, piece{at: len(g.text) - g.from, length: len(text), source: at, written: written})
	g.text = append(g.text, text...)
}

func (g *gatherer) cut() {
	if len(g.text) == g.from {
		return
	}
	if len(bytes.TrimSpace(g.text[g.from:])) > 0 {
		t := Text{Heading: g.heading, Picture: g.picture, place: g.d.place, pieces: g.pieces[g.first:len(g.pieces):len(g.pieces)]}
		t.Span = t.At(0, len(g.text)-g.from)
		g.texts, g.begun = append(g.texts, t), append(g.begun, g.from)
		g.from, g.first = len(g.text), len(g.pieces)
		return
	}
	g.text, g.pieces = g.text[:g.from], g.pieces[:g.first]
}
