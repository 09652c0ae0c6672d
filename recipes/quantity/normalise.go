package quantity

import (
	"strings"
	"unicode"
)

// Normalise replaces the look-alikes that people and editors write by the signs
// that this package reads: any blank by a plain one, Greek mu by the micro sign,
// the masculine ordinal by the degree sign, and so on. Back gives, for an offset in the
// result, the offset in the text that it came from; it is nil where nothing moved.
func Normalise(text string) (out string, back []int) {
	if plain(text) {
		return text, nil
	}
	var b strings.Builder
	put := func(s string, from, size int) {
		for i := range len(s) {
			if i < size {
				back = append(back, from+i)
			} else {
				back = append(back, from+size-1)
			}
		}
		b.WriteString(s)
	}
	for i, r := range text {
		size := len(string(r))
		switch {
		case r == 'μ':
			put("µ", i, size)
		case r == 'º' || r == '˚':
			put("°", i, size)
		case r == '℃':
			put("°C", i, size)
		case r == '℉':
			put("°F", i, size)
		case r == '∆':
			put("Δ", i, size)
		case r == '−':
			put("-", i, size)
		case r != '\n' && unicode.IsSpace(r):
			put(" ", i, size)
		default:
			put(string(r), i, size)
		}
	}
	back = append(back, len(text))
	return b.String(), back
}

func plain(text string) bool {
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 || text[i] < ' ' && text[i] != '\n' {
			return false
		}
	}
	return true
}
