package write

import (
	"sync"

	"github.com/microcosm-cc/bluemonday"
)

// safeHTML is what raw HTML in a page may hold where the lab's settings let it through:
// elements that mean something in running text, without attributes but titles, spans of
// cells and plain links. No style, no class, no id, no form, nothing that runs or loads.
var safeHTML = sync.OnceValue(func() *bluemonday.Policy {
	p := bluemonday.NewPolicy()
	p.AllowElements("abbr", "b", "bdi", "bdo", "br", "cite", "code", "dd", "del", "details", "dfn", "div", "dl", "dt", "em",
		"hr", "i", "ins", "kbd", "li", "mark", "ol", "p", "q", "ruby", "rp", "rt", "s", "samp", "small", "span", "strong",
		"sub", "summary", "sup", "table", "tbody", "td", "tfoot", "th", "thead", "time", "tr", "u", "ul", "var", "wbr")
	p.AllowAttrs("title").OnElements("abbr", "dfn")
	p.AllowAttrs("datetime").OnElements("time")
	p.AllowAttrs("dir").Matching(bluemonday.Direction).OnElements("bdo", "bdi", "p", "span", "div")
	p.AllowAttrs("colspan", "rowspan").Matching(bluemonday.Integer).OnElements("td", "th")
	p.AllowAttrs("open").OnElements("details")
	p.AllowNoAttrs().OnElements("span")
	return p
})

// rawHTML is how the site's pages treat raw HTML: shown as text, or sanitised where the
// settings say html: true.
func (s *Site) rawHTML() func(string) string {
	if !s.Content.Settings.HTML {
		return nil
	}
	return func(html string) string { return safeHTML().Sanitize(html) }
}
