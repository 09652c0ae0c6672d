package markdown

import (
	"strconv"

	extast "github.com/yuin/goldmark/extension/ast"
)

// Ids of notes start with a capital, which no anchor of a heading has.

func noteID(index int) string { return "Note-" + strconv.Itoa(index) }

func noteMarkID(index, which int) string {
	id := noteID(index) + "-from"
	if which > 0 {
		id += "-" + strconv.Itoa(which+1)
	}
	return id
}

func (p *page) noteMark(n *extast.FootnoteLink) {
	p.write(`<sup class="note-mark"`)
	p.attribute("id", noteMarkID(n.Index, n.RefIndex))
	p.write(">")
	number := strconv.Itoa(n.Index)
	if p.inLink {
		p.write(number)
	} else {
		p.write("<a")
		p.attribute("href", "#"+noteID(n.Index))
		p.attribute("role", "doc-noteref")
		p.attribute("aria-label", "Note "+number)
		p.write(">" + number + "</a>")
	}
	p.write("</sup>")
}

func (p *page) noteReturn(n *extast.FootnoteBacklink) {
	p.write(" <a")
	p.attribute("href", "#"+noteMarkID(n.Index, n.RefIndex))
	p.attribute("role", "doc-backlink")
	name := "Back from note " + strconv.Itoa(n.Index)
	if n.RefCount > 1 {
		name += ", place " + strconv.Itoa(n.RefIndex+1)
	}
	p.attribute("aria-label", name)
	p.write(">↰</a>")
}

func (p *page) notes(n *extast.FootnoteList) {
	p.write(`<section class="notes" role="doc-endnotes" aria-label="Notes">` + "\n<ol>\n")
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		p.write("<li")
		p.attribute("id", noteID(c.(*extast.Footnote).Index))
		p.write(">\n")
		p.inside(c)
		p.write("</li>\n")
	}
	p.write("</ol>\n</section>\n")
}
