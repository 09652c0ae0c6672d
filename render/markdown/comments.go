package markdown

import (
	"strings"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
)

// A comment is a note for other writers. It is left out of the page even if other raw HTML is shown as
// text.
const (
	commentBegins = "<!--"
	commentEnds   = "-->"
)

// withoutComments cuts comments out of raw HTML. The rest is lost with one that does not end, which
// commentBlock reports.
func withoutComments(html string) string {
	var out strings.Builder
	for {
		before, rest, is := strings.Cut(html, commentBegins)
		out.WriteString(before)
		if !is {
			return out.String()
		}
		_, html, _ = strings.Cut(rest, commentEnds)
	}
}

// commentBlock reports a comment that does not end in a block of raw HTML.
func (c *collector) commentBlock(n *ast.HTMLBlock) {
	lines := n.Lines()
	if lines.Len() == 0 {
		return
	}
	start, end := lines.At(0).Start, lines.At(lines.Len()-1).Stop
	if n.HasClosure() {
		end = n.ClosureLine.Stop
	}
	html := string(c.d.source[start:end])
	at := strings.LastIndex(html, commentBegins)
	if at >= 0 && !strings.Contains(html[at:], commentEnds) {
		c.say(source.CommentNotClosed(), start+at, start+at+len(commentBegins))
	}
}
