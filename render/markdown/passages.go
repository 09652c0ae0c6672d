package markdown

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// Passage is a paragraph, heading, item or row of a table in plain words.
type Passage struct {
	// Anchor is the id of the heading above it, or its own; "" before the first.
	Anchor string
	// Heading says that it is a heading.
	Heading bool
	// Text is in one line, with an ellipsis for each placement, so that no worked out number is in
	// it.
	Text string
}

const leftOut = "…"

// Passages lists what the document says, in reading order, without code, raw HTML and the contents of
// placements. It reads only what does not change after parsing, so that it may run at the same time as
// a Render of the document.
func (d *Document) Passages() []Passage {
	var out []Passage
	anchor := ""
	add := func(text string, heading bool) {
		if strings.Trim(text, leftOut+" ,.;:") != "" {
			out = append(out, Passage{anchor, heading, text})
		}
	}
	var walk func(n ast.Node)
	walk = func(n ast.Node) {
		switch n := n.(type) {
		case *ast.CodeBlock, *ast.FencedCodeBlock, *ast.HTMLBlock, *ast.LinkReferenceDefinition:
			return
		case *ast.Heading:
			if h := d.headings[d.headingOf[n]]; h.ID != "" {
				anchor = h.ID
			}
			add(d.passage(n), true)
			return
		case *extast.TableRow, *extast.TableHeader:
			var cells []string
			for c := n.FirstChild(); c != nil; c = c.NextSibling() {
				if s := d.passage(c); s != "" {
					cells = append(cells, s)
				}
			}
			add(strings.Join(cells, ", "), false)
			return
		}
		first := n.FirstChild()
		if first != nil && first.Type() == ast.TypeInline {
			add(d.passage(n), false)
			return
		}
		for c := first; c != nil; c = c.NextSibling() {
			walk(c)
		}
	}
	walk(d.root)
	return out
}

func (d *Document) passage(n ast.Node) string {
	return strings.Join(strings.Fields(string(d.passageInto(nil, n))), " ")
}

func (d *Document) passageInto(dst []byte, n ast.Node) []byte {
	if _, ok := n.(*placementNode); ok {
		return append(dst, leftOut...)
	}
	if n.FirstChild() == nil {
		return d.plainInto(dst, n, false)
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		dst = d.passageInto(dst, c)
	}
	return dst
}
