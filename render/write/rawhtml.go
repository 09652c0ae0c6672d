package write

import (
	"sync"

	"github.com/microcosm-cc/bluemonday"
)

// safeHTML is what raw HTML in a page may hold if the lab's settings let it through: elements that
// mean something in running text, with no attributes but those listed here. No style, no class, no
// id, no link, no form, nothing that runs or loads.
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

// rawHTML sanitises raw HTML in pages; nil, which shows it as text, unless the settings say
// html: true.
func (s *Site) rawHTML() func(string) string {
	if !s.Content.Settings.HTML {
		return nil
	}
	return func(html string) string { return safeHTML().Sanitize(html) }
}
