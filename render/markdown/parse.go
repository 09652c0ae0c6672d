package markdown

import (
	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// Parse parses file.Text[start:] as the body of a page. Diagnostics have exact places in file. The
// document can be used even if there are errors.
func Parse(file *source.File, start int) (*Document, source.List) {
	start = min(max(start, 0), len(file.Text))
	return read(bodyReader, []byte(file.Text[start:]), true, false, func(from, to int) source.Span {
		return file.Span(start+from, start+to)
	})
}

// ParseText parses a short text: a step's note, a limit's text, a caption. place finds the span in the
// file for a range of bytes of the text, since the file may write it with escapes. With inlineOnly
// nothing becomes a heading, list, table or other block. Headings of a text have no anchors, and a
// text has no footnotes: both are numbered for the page as a whole.
func ParseText(text string, place func(start, end int) source.Span, inlineOnly bool) (*Document, source.List) {
	reader := textReader
	if inlineOnly {
		reader = inlineReader
	}
	return read(reader, []byte(text), false, inlineOnly, place)
}

func read(reader parser.Parser, src []byte, body, inline bool, place func(start, end int) source.Span) (d *Document, list source.List) {
	d = &Document{root: ast.NewDocument(), source: src, place: place, inline: inline}
	if len(src) > largest {
		return d, source.List{source.BodyTooLarge().At(place(largest, largest+1))}
	}
	if at := tooDense(src); at >= 0 {
		return d, source.List{source.MarkupTooDense().At(place(at, at+1))}
	}
	defer func() {
		// a panic in goldmark must not end the build: it is an error of this page
		if recover() != nil {
			d = &Document{root: ast.NewDocument(), source: src, place: place, inline: inline}
			list = source.List{source.BodyUnreadable().At(place(0, 0))}
		}
	}()
	list = d.parse(reader, body)
	return d, list
}

// parse is read without the bounds on size and without recovery from panics.
func (d *Document) parse(reader parser.Parser, body bool) source.List {
	pc := parser.NewContext()
	s := newState()
	pc.Set(stateKey, s)
	d.root = reader.Parse(text.NewReader(d.source), parser.WithContext(pc)).(*ast.Document)
	c := collector{d: d, body: body, notes: s.notes}
	c.walk(d.root, within{})
	return append(s.refusals(d), append(c.list, c.unused(s.notes)...)...)
}
