package markdown

import (
	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// Parse reads file.Text[start:] as the body of a page. Diagnostics carry exact
// places in file. The document can be used whatever they say.
func Parse(file *source.File, start int) (*Document, source.List) {
	start = min(max(start, 0), len(file.Text))
	return read(bodyReader, []byte(file.Text[start:]), true, false, func(from, to int) source.Span {
		return file.Span(start+from, start+to)
	})
}

// ParseText reads a short text: a step's note, a limit's text, a caption. text
// is what it says, and place gives the span in its file for a range of bytes in
// text, since the file may write it with escapes. With inlineOnly nothing in it
// becomes a heading, list, table or other block. Headings of a text have no
// anchors, and a text has no footnotes: both are counted page by page.
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
		// A fault in a reader that is not ours must not take the build down: it
		// stops this page alone, and says so.
		if recover() != nil {
			d = &Document{root: ast.NewDocument(), source: src, place: place, inline: inline}
			list = source.List{source.BodyUnreadable().At(place(0, 0))}
		}
	}()
	list = d.parse(reader, body)
	return d, list
}

// parse is read without its guards.
func (d *Document) parse(reader parser.Parser, body bool) source.List {
	pc := parser.NewContext()
	s := newState()
	pc.Set(stateKey, s)
	d.root = reader.Parse(text.NewReader(d.source), parser.WithContext(pc)).(*ast.Document)
	c := collector{d: d, body: body, notes: s.notes}
	c.walk(d.root, within{})
	return append(s.refusals(d), append(c.list, c.unused(s.notes)...)...)
}
