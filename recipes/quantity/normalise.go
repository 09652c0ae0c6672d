package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Normalise replaces look-alikes that people and editors write with the signs that this
// package reads: any kind of space with a plain one, the Greek mu with the micro sign, the
// masculine ordinal with the degree sign, and so on. back maps offsets in the result to offsets in
// the text; it is nil if nothing moved.
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

// plain reports whether a text has nothing to replace.
func plain(text string) bool {
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 {
			return plainRunes(text[i:])
		}
		if text[i] < ' ' && text[i] != '\n' {
			return false
		}
	}
	return true
}

func plainRunes(text string) bool {
	for _, r := range text {
		switch r {
		case 'μ', 'º', '˚', '℃', '℉', '∆', '−', utf8.RuneError:
			return false
		}
		if r != '\n' && r != ' ' && (r < ' ' || unicode.IsSpace(r)) {
			return false
		}
	}
	return true
}
