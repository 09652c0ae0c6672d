package chart

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// num writes a coordinate to a tenth of a unit.
func num(v float64) string {
	v = math.Round(v*10) / 10
	if v == 0 {
		v = 0 // never -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// exact writes a number so that a script reads the same one.
func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// escape makes a text safe inside an element and inside a quoted attribute. Characters that XML does not
// allow become the replacement character.
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&#34;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\t' || r == '\n' || r == '\r':
			b.WriteByte(' ')
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff:
			b.WriteRune(utf8.RuneError)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// markup collects elements.
type markup struct{ strings.Builder }

// attributes writes pairs of a name and a value, without those whose value is empty.
func (m *markup) attributes(pairs []string) {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			m.WriteString(" " + pairs[i] + `="` + escape(pairs[i+1]) + `"`)
		}
	}
}

func (m *markup) open(name string, pairs ...string) {
	m.WriteString("<" + name)
	m.attributes(pairs)
	m.WriteString(">")
}

func (m *markup) close(name string) { m.WriteString("</" + name + ">\n") }

func (m *markup) empty(name string, pairs ...string) {
	m.WriteString("<" + name)
	m.attributes(pairs)
	m.WriteString("/>\n")
}

func (m *markup) text(name, content string, pairs ...string) {
	m.open(name, pairs...)
	m.WriteString(escape(content))
	m.close(name)
}

// prefix makes the caller's id safe as the beginning of other ids.
func prefix(id string) string {
	return strings.Map(func(r rune) rune {
		if r < utf8.RuneSelf && (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return r
		}
		return '-'
	}, id)
}
