package source

import (
	"fmt"
	"strings"
	"unicode"
)

// Visible writes the characters that a terminal would act on instead of showing (escapes, and
// those that change the direction of text) as \u and their number.
func Visible(text string) string {
	if strings.IndexFunc(text, obeyed) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if obeyed(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// obeyed reports whether a terminal acts on a character: control characters except the line end, and
// format characters except the soft hyphen and those that join letters and symbols.
func obeyed(r rune) bool {
	switch r {
	case '\n', '\u00ad', '\u200c', '\u200d':
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf)
}
