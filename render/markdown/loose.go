package markdown

import (
	"bytes"
	"unicode"
	"unicode/utf8"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"
)

// looseBraces reports braces that stayed text but look as if a placement was meant. It counts open
// braces within a line, so that the closing brace of one that was reported, or written as \{, is not
// reported as well.
type looseBraces struct {
	lineStart, lineEnd int
	open               int
	said               int
}

// mostLoose is how many of them are reported on a page.
const mostLoose = 50

// looseReach is how far from a brace its partner is looked for.
const looseReach = 400

// looseShown is how much is marked after a brace that never closes.
const looseShown = 40

// text looks in a piece of text for braces, comments and footnote marks that seem to be meant as
// such.
func (c *collector) text(n *ast.Text, in within) {
	if n.IsRaw() {
		return
	}
	src := c.d.source
	for i := n.Segment.Start; i < n.Segment.Stop; i++ {
		switch src[i] {
		case '\\':
			if i+1 < n.Segment.Stop && util.IsPunct(src[i+1]) {
				i++
				if src[i] == '{' {
					c.loose.on(src, i)
					c.loose.open++
				}
			}
		case '{':
			c.openBrace(i, in)
		case '}':
			c.closeBrace(i)
		case '<':
			if bytes.HasPrefix(src[i:n.Segment.Stop], []byte(commentBegins)) {
				c.say(source.CommentNotClosed(), i, i+len(commentBegins))
			}
		case '[':
			if c.body && i+1 < len(src) && src[i+1] == '^' {
				c.mark(i)
			}
		}
	}
}

func (l *looseBraces) on(src []byte, at int) {
	if l.lineEnd > 0 && at >= l.lineStart && at <= l.lineEnd {
		return
	}
	start := bytes.LastIndexByte(src[:at], '\n') + 1
	if start != l.lineEnd+1 {
		// a brace that opened on the line just above may close here
		l.open = 0
	}
	l.lineStart = start
	if i := bytes.IndexByte(src[at:], '\n'); i >= 0 {
		l.lineEnd = at + i
	} else {
		l.lineEnd = len(src)
	}
}

func (c *collector) openBrace(at int, in within) {
	src := c.d.source
	c.loose.on(src, at)
	c.loose.open++
	stop := min(c.loose.lineEnd, at+looseReach)
	if in.stop > 0 {
		stop = min(stop, in.stop)
	}
	rest := src[at:stop]
	if opensPlacement(rest) {
		_, end := trimmed(src, at, stop)
		behind := src[stop:max(stop, min(c.loose.lineEnd, stop+looseReach))]
		c.brace(source.BraceNotClosed(in.cell && bytes.IndexByte(behind, '|') >= 0), at, min(end, at+looseShown))
		return
	}
	n := bytes.IndexByte(rest, '}')
	if n < 0 {
		return
	}
	inner := rest[1:n]
	start, end := trimmed(src, at+1, at+n)
	what := string(src[start:end])
	first, _ := utf8.DecodeRune(inner)
	switch {
	case start == end:
		c.brace(source.BracesEmpty(), at, at+n+1)
	case first == '{':
		c.brace(source.BracesDoubled(), at, at+1)
	case unicode.IsSpace(first) && opensPlacement(src[start-1:end]):
		c.brace(source.BraceBeforeBlank(what), at, at+n+1)
	case bytes.IndexFunc(inner, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) >= 0:
		c.brace(source.BraceOpensNothing(what), at, at+n+1)
	}
}

func (c *collector) closeBrace(at int) {
	src := c.d.source
	c.loose.on(src, at)
	if c.loose.open > 0 {
		c.loose.open--
		return
	}
	before := bytes.TrimRight(src[max(c.loose.lineStart, at-looseReach):at], " \t")
	r, _ := utf8.DecodeLastRune(before)
	if unicode.IsLetter(r) || unicode.IsDigit(r) || r == ')' || r == '}' || r == '%' || r == '"' {
		c.brace(source.BraceNotOpened(), at, at+1)
	}
}

func (c *collector) brace(p source.Problem, start, end int) {
	if c.loose.said++; c.loose.said <= mostLoose {
		c.say(p, start, end)
	}
}

// mark reports a footnote mark that stayed text, since no footnote has its name.
func (c *collector) mark(at int) {
	src := c.d.source
	rest := src[at+2 : min(len(src), at+2+looseReach)]
	n := bytes.IndexByte(rest, ']')
	if n <= 0 || bytes.ContainsAny(rest[:n], " \n[") {
		return
	}
	c.brace(source.NoteMissing(string(rest[:n])), at, at+n+3)
}

func trimmed(src []byte, start, end int) (int, int) {
	s := bytes.TrimLeftFunc(src[start:end], unicode.IsSpace)
	start = end - len(s)
	return start, start + len(bytes.TrimRightFunc(s, unicode.IsSpace))
}
