package markdown

import (
	"strings"

	"github.com/yuin/goldmark/ast"
)

func (p *page) htmlBlock(n *ast.HTMLBlock) {
	html := string(n.Lines().Value(p.d.source))
	if n.HasClosure() {
		html += string(n.ClosureLine.Value(p.d.source))
	}
	if p.opt.RawHTML == nil {
		html = strings.TrimRight(withoutComments(html), " \t\n")
		if html == "" {
			return
		}
		p.write("<p>")
		p.text(html)
		p.write("</p>\n")
		return
	}
	p.raw(html)
}

func (p *page) raw(html string) {
	switch {
	case p.opt.RawHTML == nil:
		p.text(withoutComments(html))
	case p.opt.plainElements:
		p.write(p.opt.RawHTML(html))
	default:
		p.balance(p.opt.RawHTML(html))
	}
}

// balance writes raw HTML so that it cannot break what is around it: a tag opened in a paragraph is
// closed with that paragraph at the latest, an end that closes nothing opened in the same place is
// dropped, and a < that starts no tag is escaped.
func (p *page) balance(html string) {
	for html != "" {
		i := strings.IndexByte(html, '<')
		if i < 0 {
			p.write(html)
			return
		}
		p.write(html[:i])
		html = html[i:]
		name, end, length := tag(html)
		if length == 0 {
			p.write("&lt;")
			html = html[1:]
			continue
		}
		whole := html[:length]
		html = html[length:]
		if !end {
			p.write(whole)
			if !void[name] {
				p.open = append(p.open, name)
			}
			continue
		}
		for i := len(p.open) - 1; i >= p.floor; i-- {
			if p.open[i] == name {
				p.closeTo(i)
				break
			}
		}
	}
}

func (p *page) closeTo(n int) {
	for len(p.open) > n {
		last := len(p.open) - 1
		p.write("</" + p.open[last] + ">")
		p.open = p.open[:last]
	}
}

// tag reads the tag with which html starts: its name in lower case, whether it is an end, and its
// length, 0 if there is none.
func tag(html string) (name string, end bool, length int) {
	i := 1
	if i < len(html) && html[i] == '/' {
		end = true
		i++
	}
	start := i
	for i < len(html) && (html[i]|0x20 >= 'a' && html[i]|0x20 <= 'z' || i > start && (html[i] >= '0' && html[i] <= '9' || html[i] == '-')) {
		i++
	}
	if i == start {
		return "", false, 0
	}
	name = strings.ToLower(html[start:i])
	quote := byte(0)
	for ; i < len(html); i++ {
		switch c := html[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '<':
			return "", false, 0
		case c == '>':
			return name, end, i + 1
		}
	}
	return "", false, 0
}

// void are the elements without an end tag (HTML Living Standard, 13.1.2).
var void = map[string]bool{
	"area": true, "base": true, "br": true, "col": true, "embed": true, "hr": true, "img": true, "input": true,
	"link": true, "meta": true, "source": true, "track": true, "wbr": true,
}
