package write

import (
	"html"
	"html/template"
	"strings"
)

// mostWords is how long the first words of a caution may be, in bytes, where it is only recalled.
const mostWords = 90

// firstWords is the beginning of a safety message: its first sentence, or as many words as fit on a
// line.
func firstWords(message template.HTML) template.HTML {
	text := strings.Join(strings.Fields(plainOf(message)), " ")
	if i := strings.Index(text, ". "); i > 0 && i < mostWords {
		return escaped(text[:i+1])
	}
	if len(text) <= mostWords {
		return escaped(text)
	}
	cut := strings.LastIndexByte(text[:mostWords], ' ')
	if cut < 0 {
		return escaped(text)
	}
	return escaped(strings.TrimRight(text[:cut], " ,;:") + "…")
}

// plainOf is the text of a piece of HTML written by the program itself.
func plainOf(h template.HTML) string {
	var b strings.Builder
	rest := string(h)
	for {
		before, after, found := strings.Cut(rest, "<")
		b.WriteString(before)
		if !found {
			return html.UnescapeString(b.String())
		}
		b.WriteByte(' ')
		_, rest, _ = strings.Cut(after, ">")
	}
}
