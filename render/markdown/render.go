package markdown

import (
	"fmt"
	"io"
	"strconv"
	"sync"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// RenderOptions say how a document is written.
type RenderOptions struct {
	// Anchors gives headings of a page's body their ids and a link to themselves.
	Anchors bool
	// RawHTML gets each piece of raw HTML, often a single tag, and returns what of it may be on the
	// page. The result is then balanced: elements left open are closed with what is around them, and
	// ends without a start are dropped. If it is nil, raw HTML is shown as text.
	RawHTML func(html string) string
	// HighlightCode gets the language and text of a fenced block that names its language, and
	// returns what to write between <code> and </code>, already safe; "" for a language that it
	// does not know. It may be nil.
	HighlightCode func(language, code string) string

	// Lines says that blocks of a page's body get the line on which they begin in the file, as
	// data-line, for the preview.
	Lines bool

	// plainElements writes only the elements of CommonMark's own examples, for tests that compare
	// with them.
	plainElements bool
}

// Render writes the document as HTML in one piece, or returns an error and writes nothing. The only
// errors to expect are those of w.
func (d *Document) Render(w io.Writer, opt RenderOptions) error {
	buffer := buffers.Get().(*[]byte)
	p := page{d: d, opt: opt, b: (*buffer)[:0]}
	p.inside(d.root)
	err := p.err
	if err == nil {
		_, err = w.Write(p.b)
	}
	if cap(p.b) <= largest {
		*buffer = p.b
		buffers.Put(buffer)
	}
	return err
}

var buffers = sync.Pool{New: func() any { return new([]byte) }}

// page is a document being written.
type page struct {
	d      *Document
	opt    RenderOptions
	b      []byte
	inLink bool
	tables int
	err    error

	open  []string // elements that raw HTML opened, see balance
	floor int      // how many of them were opened outside the element being written
}

func (p *page) write(s string) { p.b = append(p.b, s...) }
func (p *page) text(s string)  { p.b = escaped(p.b, s) }

// attribute writes a name and a value; value is plain text.
func (p *page) attribute(name, value string) {
	p.write(" " + name + `="`)
	p.text(value)
	p.write(`"`)
}

// inside writes the children of a node, and closes what raw HTML left open in them.
func (p *page) inside(n ast.Node) {
	floor := p.floor
	p.floor = len(p.open)
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		p.node(c)
	}
	p.closeTo(p.floor)
	p.floor = floor
}

// element writes the children of a node in an element.
func (p *page) element(tag, afterStart string, n ast.Node, afterEnd string) {
	p.write("<" + tag + ">" + afterStart)
	p.inside(n)
	p.write("</" + tag + ">" + afterEnd)
}

func (p *page) node(n ast.Node) {
	switch n := n.(type) {
	case *ast.Paragraph:
		p.paragraph(n)
	case *ast.TextBlock:
		p.inside(n)
		if n.NextSibling() != nil && n.HasChildren() {
			p.write("\n")
		}
	case *ast.Heading:
		p.heading(n)
	case *ast.Blockquote:
		p.element("blockquote", "\n", n, "\n")
	case *ast.List:
		p.list(n)
	case *ast.ListItem:
		p.listItem(n)
	case *ast.ThematicBreak:
		p.write("<hr>\n")
	case *ast.CodeBlock:
		p.code(n, nil)
	case *ast.FencedCodeBlock:
		p.code(n, n.Language(p.d.source))
	case *ast.HTMLBlock:
		p.htmlBlock(n)
	case *ast.LinkReferenceDefinition:
	case *extast.Table:
		p.table(n)
	case *extast.DefinitionList:
		p.element("dl", "\n", n, "\n")
	case *extast.DefinitionTerm:
		p.element("dt", "", n, "\n")
	case *extast.DefinitionDescription:
		afterStart := "\n"
		if n.IsTight {
			afterStart = ""
		}
		p.element("dd", afterStart, n, "\n")
	case *extast.FootnoteList:
		p.notes(n)
	default:
		p.inline(n)
	}
}

// inline writes an inline node.
func (p *page) inline(n ast.Node) {
	switch n := n.(type) {
	case *ast.Text:
		p.textNode(n)
	case *placementNode:
		p.write(n.placement.HTML)
	case *ast.Emphasis:
		if n.Level == 2 {
			p.element("strong", "", n, "")
		} else {
			p.element("em", "", n, "")
		}
	case *extast.Strikethrough:
		p.element("del", "", n, "")
	case *ast.CodeSpan:
		p.codeSpan(n)
	case *ast.Link:
		p.link(n)
	case *ast.AutoLink:
		p.autoLink(n)
	case *ast.Image:
		p.picture(n)
	case *ast.RawHTML:
		p.raw(string(n.Segments.Value(p.d.source)))
	case *extast.TaskCheckBox:
		p.task(n)
	case *extast.FootnoteLink:
		p.noteMark(n)
	case *extast.FootnoteBacklink:
		p.noteReturn(n)
	default:
		// an unknown kind of node is a bug of this package, and must not be dropped silently
		p.err = fmt.Errorf("render/markdown cannot write a %s", n.Kind())
	}
}

func (p *page) paragraph(n *ast.Paragraph) {
	if p.d.inline {
		p.inside(n)
		if n.NextSibling() != nil {
			p.write("<br>\n")
		}
		return
	}
	if only, ok := n.FirstChild().(*placementNode); ok && only.placement.Block {
		p.inside(n)
		p.write("\n")
		return
	}
	p.write("<p")
	p.line(n)
	p.write(">")
	p.inside(n)
	p.write("</p>\n")
}

// line writes the line on which a block begins, as an attribute.
func (p *page) line(n ast.Node) {
	if !p.opt.Lines {
		return
	}
	for n != nil && (n.Type() == ast.TypeInline || n.Lines().Len() == 0) {
		n = n.FirstChild()
	}
	if n == nil {
		return
	}
	at := n.Lines().At(0).Start
	span := p.d.place(at, at)
	if span.File == nil {
		return
	}
	line, _ := span.File.Place(span.Start)
	p.attribute("data-line", strconv.Itoa(line))
}

func (p *page) heading(n *ast.Heading) {
	level := n.Level
	if !p.opt.plainElements {
		level = max(level, 2)
	}
	tag := "h" + strconv.Itoa(level)
	h := p.d.headings[p.d.headingOf[n]]
	p.write("<" + tag)
	p.line(n)
	anchored := p.opt.Anchors && h.ID != ""
	if anchored {
		p.attribute("id", h.ID)
	}
	p.write(">")
	p.inside(n)
	if anchored {
		p.write(` <a class="here"`)
		p.attribute("href", "#"+string(util.URLEscape([]byte(h.ID), false)))
		name := "Link to this part"
		if said := p.d.plain(n, true); said != "" {
			name += ": " + said
		}
		p.attribute("aria-label", name)
		p.write(">↳</a>")
	}
	p.write("</" + tag + ">\n")
}

func (p *page) list(n *ast.List) {
	tag := "ul"
	if n.IsOrdered() {
		tag = "ol"
	}
	p.write("<" + tag)
	if n.IsOrdered() && n.Start != 1 {
		p.attribute("start", strconv.Itoa(n.Start))
	}
	p.write(">\n")
	p.inside(n)
	p.write("</" + tag + ">\n")
}

func (p *page) listItem(n *ast.ListItem) {
	first := n.FirstChild()
	p.write("<li")
	p.line(n)
	if first != nil {
		if _, ok := first.FirstChild().(*extast.TaskCheckBox); ok {
			p.write(` class="task"`)
		}
	}
	p.write(">")
	if _, tight := first.(*ast.TextBlock); first != nil && !tight {
		p.write("\n")
	}
	p.inside(n)
	p.write("</li>\n")
}

// task writes a checkbox with its task as its name. It can be ticked like one on paper, but the tick is
// not saved.
func (p *page) task(n *extast.TaskCheckBox) {
	p.write(`<input type="checkbox"`)
	name := p.d.plain(n.Parent(), true)
	if name == "" {
		name = "Task"
	}
	p.attribute("aria-label", name)
	if n.IsChecked {
		p.write(" checked")
	}
	p.write("> ")
}

func (p *page) code(n ast.Node, language []byte) {
	code := n.Lines().Value(p.d.source)
	// a long line scrolls within the block, so the block must be reachable by keyboard
	p.write("<pre")
	p.line(n)
	if !p.opt.plainElements {
		p.write(` tabindex="0"`)
	}
	p.write("><code")
	name := string(resolved(nil, language))
	if name != "" {
		p.attribute("class", "language-"+name)
	}
	p.write(">")
	coloured := ""
	if name != "" && p.opt.HighlightCode != nil {
		coloured = p.opt.HighlightCode(name, string(code))
	}
	if coloured != "" {
		p.write(coloured)
	} else {
		p.b = escaped(p.b, code)
	}
	p.write("</code></pre>\n")
}

func (p *page) codeSpan(n *ast.CodeSpan) {
	p.write("<code>")
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		value := c.(*ast.Text).Segment.Value(p.d.source)
		if last := len(value) - 1; last >= 0 && value[last] == '\n' {
			p.b = append(escaped(p.b, value[:last]), ' ')
		} else {
			p.b = escaped(p.b, value)
		}
	}
	p.write("</code>")
}

func (p *page) textNode(n *ast.Text) {
	value := n.Segment.Value(p.d.source)
	if n.IsRaw() {
		p.b = escaped(p.b, value)
		return
	}
	p.b = resolvedEscaped(p.b, value)
	if n.HardLineBreak() {
		p.write("<br>\n")
	} else if n.SoftLineBreak() {
		p.write("\n")
	}
}

// address writes a destination as an attribute, or nothing if it runs something.
func (p *page) address(name, destination string) {
	if !runs(destination) {
		p.attribute(name, string(util.URLEscape([]byte(destination), false)))
	}
}

func (p *page) title(raw []byte) {
	if raw != nil {
		p.write(` title="`)
		p.b = resolvedEscaped(p.b, raw)
		p.write(`"`)
	}
}

func (p *page) link(n *ast.Link) {
	p.write("<a")
	p.address("href", p.d.linkOf[n].Destination)
	p.title(n.Title)
	p.write(">")
	outer := p.inLink
	p.inLink = true
	p.inside(n)
	p.inLink = outer
	p.write("</a>")
}

func (p *page) autoLink(n *ast.AutoLink) {
	label := string(n.Label(p.d.source))
	if p.inLink && !p.opt.plainElements {
		p.text(label)
		return
	}
	p.write("<a")
	p.address("href", p.d.linkOf[n].Destination)
	p.write(">")
	p.text(label)
	p.write("</a>")
}

func (p *page) picture(n *ast.Image) {
	pic := p.d.pictureOf[n]
	if runs(pic.Destination) {
		p.text(pic.Alt())
		return
	}
	p.write("<img")
	p.address("src", pic.Destination)
	p.attribute("alt", pic.Alt())
	p.title(n.Title)
	if pic.Width > 0 && pic.Height > 0 {
		// only a picture of known size may load late, since the text below must not jump
		p.attribute("width", strconv.Itoa(pic.Width))
		p.attribute("height", strconv.Itoa(pic.Height))
		p.write(` loading="lazy" decoding="async"`)
	}
	p.write(">")
}
