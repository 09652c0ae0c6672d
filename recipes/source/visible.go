package source

import (
	"fmt"
	"strings"
	"unicode"
)

// Visible writes the characters of a text that a terminal acts on instead of showing them,
// escapes and signs that change the direction of what follows, as \u and their number.
func Visible(text string) string {
	if strings.IndexFunc(text, acted) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if acted(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// acted tells control characters but the line end, and format characters but the soft hyphen
// and those that join letters and signs.
func acted(r rune) bool {
	switch r {
	case '\n', '\u00ad', '\u200c', '\u200d':
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf)
}
