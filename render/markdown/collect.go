package markdown

import (
	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// collector walks a tree once, in reading order, and collects placements, headings, links, pictures,
// and what is wrong with them.
type collector struct {
	d     *Document
	body  bool
	ids   anchors
	notes []*extast.Footnote
	list  source.List
	loose looseBraces
}

// within is what a node is in.
type within struct {
	link, picture, heading, cell bool
	stop                         int // where a cell ends, 0 outside
	depth                        int // how deep inline nodes are nested
}

func (c *collector) say(p source.Problem, start, end int) {
	c.list = append(c.list, p.At(c.d.place(start, end)))
}

func (c *collector) walk(n ast.Node, in within) {
	switch n := n.(type) {
	case *ast.Text:
		c.trimBeforeBreak(n)
		c.text(n, in)
		return
	case *placementNode:
		c.placement(n, in)
		return
	case *ast.AutoLink:
		c.autoLink(n)
		return
	case *ast.HTMLBlock:
		c.commentBlock(n)
		return
	case *ast.CodeSpan, *ast.RawHTML, *ast.CodeBlock, *ast.FencedCodeBlock, *ast.LinkReferenceDefinition:
		return
	case *ast.Heading:
		in.heading = true
		c.children(n, in)
		c.heading(n)
		return
	case *ast.Link:
		in.link = true
		c.link(n)
	case *ast.Image:
		in.picture = true
		c.picture(n)
	case *extast.TableCell:
		in.cell = true
		if n.Lines().Len() > 0 {
			in.stop = n.Lines().At(0).Stop
		}
	}
	if n.Type() == ast.TypeInline && n.HasChildren() {
		if in.depth++; in.depth > deepestRun {
			at := max(n.Pos(), 0)
			c.say(source.MarkupTooDeep(), at, at+1)
			n.RemoveChildren(n)
			return
		}
	}
	c.children(n, in)
}

// trimBeforeBreak removes the spaces before a hard line break from the text before it (CommonMark
// 0.31.2, section 6.7). goldmark leaves some of them, since it looks for a bare address at each.
func (c *collector) trimBeforeBreak(n *ast.Text) {
	before, ok := n.PreviousSibling().(*ast.Text)
	src := c.d.source
	if !ok || !n.HardLineBreak() || before.Segment.Stop != n.Segment.Start || n.Segment.Len() > 0 || src[n.Segment.Stop] != ' ' {
		return
	}
	before.Segment = before.Segment.TrimRightSpace(src)
}

func (c *collector) children(n ast.Node, in within) {
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		c.walk(child, in)
	}
}

func (c *collector) placement(n *placementNode, in within) {
	p := c.d.read(n)
	p.InPicture, p.InLink, p.InHeading, p.InCell = in.picture, in.link, in.heading, in.cell
	if !c.d.inline {
		parent := n.Parent()
		_, paragraph := parent.(*ast.Paragraph)
		_, tight := parent.(*ast.TextBlock)
		p.Block = (paragraph || tight) && parent.ChildCount() == 1
	}
	c.d.placements = append(c.d.placements, p)
}

func (c *collector) heading(n *ast.Heading) {
	start := max(n.Pos(), 0)
	end := start + 1
	if lines := n.Lines(); lines.Len() > 0 {
		end = lines.At(lines.Len() - 1).Stop
	}
	if n.Level == 1 {
		c.say(source.TitleInBody(), start, end)
	}
	if !n.HasChildren() {
		c.say(source.HeadingEmpty(), start, end)
	}
	h := Heading{Level: n.Level, Text: c.d.plain(n, false), Span: c.d.place(start, end)}
	if c.body {
		h.ID = c.ids.id(c.d.headingText(n))
	}
	if c.d.headingOf == nil {
		c.d.headingOf = map[*ast.Heading]int{}
	}
	c.d.headingOf[n] = len(c.d.headings)
	c.d.headings = append(c.d.headings, h)
}

// destination resolves a destination and finds its place.
func (c *collector) destination(n ast.Node, raw []byte) (string, source.Span) {
	start, end := max(n.Pos(), 0), max(n.Pos(), 0)+1
	if i, ok := offsetIn(c.d.source, raw); ok {
		start, end = i, i+len(raw)
	}
	to, span := string(resolved(nil, raw)), c.d.place(start, end)
	if scheme := refusedScheme(to); scheme != "" {
		c.list = append(c.list, source.LinkScheme(scheme).At(span))
	}
	return to, span
}

func (c *collector) link(n *ast.Link) {
	l := &Link{Text: c.d.plain(n, false)}
	l.Destination, l.Span = c.destination(n, n.Destination)
	if !n.HasChildren() {
		at := max(n.Pos(), 0)
		c.say(source.LinkWithoutText(), at, at+1)
	}
	c.addLink(n, l)
}

func (c *collector) autoLink(n *ast.AutoLink) {
	label := n.Label(c.d.source)
	l := &Link{Text: string(label)}
	start, _ := offsetIn(c.d.source, label)
	l.Span = c.d.place(start, start+len(label))
	l.Destination = string(n.URL(c.d.source))
	if n.AutoLinkType == ast.AutoLinkEmail {
		l.Destination = "mailto:" + l.Destination
	}
	if scheme := refusedScheme(l.Destination); scheme != "" {
		c.list = append(c.list, source.LinkScheme(scheme).At(l.Span))
	}
	c.addLink(n, l)
}

func (c *collector) addLink(n ast.Node, l *Link) {
	if c.d.linkOf == nil {
		c.d.linkOf = map[ast.Node]*Link{}
	}
	c.d.linkOf[n] = l
	c.d.links = append(c.d.links, l)
}

func (c *collector) picture(n *ast.Image) {
	p := &Picture{document: c.d, node: n}
	p.Destination, p.Span = c.destination(n, n.Destination)
	if !saysSomething(c.d, n) {
		at := max(n.Pos(), 0)
		c.say(source.PictureWithoutText(), at, at+2)
	}
	if c.d.pictureOf == nil {
		c.d.pictureOf = map[*ast.Image]*Picture{}
	}
	c.d.pictureOf[n] = p
	c.d.pictures = append(c.d.pictures, p)
}

// saysSomething reports whether a node has text; a placement counts as text, even though it is not yet
// filled in.
func saysSomething(d *Document, n ast.Node) bool {
	if _, ok := n.(*placementNode); ok {
		return true
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if saysSomething(d, c) {
			return true
		}
	}
	return n.Type() == ast.TypeInline && !n.HasChildren() && d.plain(n, false) != ""
}

// unused reports footnotes without a mark in the text, since they are not shown.
func (c *collector) unused(notes []*extast.Footnote) (list source.List) {
	for _, n := range notes {
		if n.Index < 0 {
			at := max(n.Pos(), 0)
			list = append(list, source.NoteUnused(string(n.Ref)).At(c.d.place(at, at+len("[^]")+len(n.Ref))))
		}
	}
	return list
}
