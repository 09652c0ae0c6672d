package markdown

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// plain is the text below a node as it would be read aloud, in one line: with code, with alternative
// texts for pictures, and without raw HTML and footnote marks. If asked, it has the plain texts of
// placements.
func (d *Document) plain(n ast.Node, placements bool) string {
	return strings.Join(strings.Fields(string(d.plainInto(nil, n, placements))), " ")
}

// Plain is the document's text with the plain texts of its placements, in a line for each paragraph,
// heading, cell or line of code, without raw HTML.
func (d *Document) Plain() string {
	var out []string
	var walk func(n ast.Node)
	walk = func(n ast.Node) {
		switch n := n.(type) {
		case *ast.CodeBlock, *ast.FencedCodeBlock:
			out = append(out, strings.TrimRight(string(n.Lines().Value(d.source)), "\n"))
			return
		case *ast.HTMLBlock, *ast.LinkReferenceDefinition:
			return
		}
		first := n.FirstChild()
		if first != nil && first.Type() == ast.TypeInline {
			if s := d.plain(n, true); s != "" {
				out = append(out, s)
			}
			return
		}
		for c := first; c != nil; c = c.NextSibling() {
			walk(c)
		}
	}
	walk(d.root)
	return strings.Join(out, "\n")
}

// headingText is a heading's text without its placements and with its spaces unchanged; its
// anchor is made from it.
func (d *Document) headingText(n ast.Node) string {
	var dst []byte
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if _, is := c.(*placementNode); !is {
			dst = d.plainInto(dst, c, false)
		}
	}
	return strings.TrimSpace(string(dst))
}

func (d *Document) plainInto(dst []byte, n ast.Node, placements bool) []byte {
	switch n := n.(type) {
	case *ast.Text:
		if n.IsRaw() {
			dst = append(dst, n.Segment.Value(d.source)...)
		} else {
			dst = resolved(dst, n.Segment.Value(d.source))
		}
		if n.SoftLineBreak() || n.HardLineBreak() {
			dst = append(dst, ' ')
		}
		return dst
	case *ast.AutoLink:
		return append(dst, n.Label(d.source)...)
	case *placementNode:
		if placements {
			return append(dst, n.placement.Plain...)
		}
		return append(dst, ' ')
	case *ast.RawHTML, *extast.FootnoteLink, *extast.FootnoteBacklink, *extast.TaskCheckBox:
		return dst
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		dst = d.plainInto(dst, c, placements)
	}
	return dst
}
