package markdown

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// table writes a table in a box that scrolls by itself on a narrow screen. A box that scrolls must be
// reachable by keyboard and have a name; the number tells tables with the same heads apart. A section
// with a name is a region to assistive software (HTML-AAM 1.0).
func (p *page) table(n *extast.Table) {
	p.tables++
	name := "Table " + strconv.Itoa(p.tables)
	if heads := p.heads(n); heads != "" {
		name += ": " + heads
	}
	p.write(`<section class="wide" tabindex="0"`)
	p.attribute("aria-label", name)
	p.write(">\n<table>\n")
	body := false
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		if _, head := row.(*extast.TableHeader); head {
			p.write("<thead>\n")
			p.row(row, true)
			p.write("</thead>\n")
			continue
		}
		if !body {
			body = true
			p.write("<tbody>\n")
		}
		p.row(row, false)
	}
	if body {
		p.write("</tbody>\n")
	}
	p.write("</table>\n</section>\n")
}

func (p *page) row(row ast.Node, head bool) {
	p.write("<tr>\n")
	for c := row.FirstChild(); c != nil; c = c.NextSibling() {
		cell := c.(*extast.TableCell)
		// an empty head is written as an ordinary cell
		tag, scope := "td", ""
		if head && cell.HasChildren() {
			tag, scope = "th", ` scope="col"`
		}
		p.write("<" + tag + scope)
		switch cell.Alignment {
		case extast.AlignLeft:
			p.write(` class="flush-left"`)
		case extast.AlignCenter:
			p.write(` class="centred"`)
		case extast.AlignRight:
			p.write(` class="flush-right"`)
		}
		p.write(">")
		p.inside(cell)
		p.write("</" + tag + ">\n")
	}
	p.write("</tr>\n")
}

// heads joins the heads of a table's columns, and cuts the result if it is long.
func (p *page) heads(n *extast.Table) string {
	const longest = 120
	head := n.FirstChild()
	if head == nil {
		return ""
	}
	var all []string
	for c := head.FirstChild(); c != nil; c = c.NextSibling() {
		if s := p.d.plain(c, true); s != "" {
			all = append(all, s)
		}
	}
	s := strings.Join(all, ", ")
	if len(s) > longest {
		cut := longest
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		s = s[:cut] + "…"
	}
	return s
}
