package markdown

import (
	"strings"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
)

// A comment is a note among writers. It stays out of the page even where other raw HTML is
// shown as text.
const (
	commentBegins = "<!--"
	commentEnds   = "-->"
)

// withoutComments cuts comments out of raw HTML. One that does not end takes the rest along;
// comment reports it.
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

// commentBlock reports a comment in a block of raw HTML that does not end.
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
