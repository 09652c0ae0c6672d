package search

import (
	"cmp"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// appendText writes a text as a JavaScript literal, which is valid JSON too. Characters that could
// end a script element or a line are escaped.
func appendText(b []byte, text string) []byte {
	return append(appendInText(append(b, '"'), text), '"')
}

// appendInText writes a part of a literal. It leaves words as they are.
func appendInText(b []byte, text string) []byte {
	const hex = "0123456789abcdef"
	done := 0
	for at := 0; at < len(text); {
		c := text[at]
		if c >= ' ' && c < utf8.RuneSelf && c != '"' && c != '\\' && c != '<' && c != '>' && c != '&' {
			at++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[at:])
		if c >= utf8.RuneSelf && r != '\u2028' && r != '\u2029' && (r != utf8.RuneError || size > 1) {
			at += size
			continue
		}
		b = append(b, text[done:at]...)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', c)
		case c >= utf8.RuneSelf:
			b = append(b, '\\', 'u', hex[r>>12&15], hex[r>>8&15], hex[r>>4&15], hex[r&15])
		default:
			b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		}
		at += size
		done = at
	}
	return append(b, text[done:]...)
}

// compare orders texts as scripts do, by UTF-16 units. UTF-8 has the same order except for
// characters beyond the basic plane.
func compare(a, b string) int {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	if i == len(a) || i == len(b) {
		return cmp.Compare(len(a), len(b))
	}
	if high := a[i] >= 0xf0; high != (b[i] >= 0xf0) {
		// one is beyond the basic plane: written as surrogates, it comes before U+E000
		if high && b[i] >= 0xee {
			return -1
		} else if !high && a[i] >= 0xee {
			return 1
		}
	}
	return cmp.Compare(a[i], b[i])
}

// hashOf is a hash that find.js computes too: FNV-1a over UTF-16 units.
func hashOf(text string) uint32 {
	h := uint32(2166136261)
	for _, r := range text {
		if r > 0xffff {
			high, low := utf16.EncodeRune(r)
			h = (h ^ uint32(high)) * 16777619
			r = low
		}
		h = (h ^ uint32(r)) * 16777619
	}
	return h
}

// shortName names a part by a hash, so that the name stays when other parts come or go.
func shortName(text string) string { return strconv.FormatUint(uint64(hashOf(text)), 36) }

// shared is the length of the common beginning of two texts, in characters and in bytes. It ends
// after 63 characters, which is the most that a sign can count, or at a character of two UTF-16
// units.
func shared(a, b string) (characters, bytes int) {
	for at, r := range a {
		other, size := utf8.DecodeRuneInString(b[at:])
		if r != other || size == 0 || r > 0xffff || characters == 63 {
			return characters, at
		}
		characters++
	}
	return characters, len(a)
}

// units is the length of a text in UTF-16 units, as scripts count.
func units(text string) (n int) {
	for _, r := range text {
		n++
		if r > 0xffff {
			n++
		}
	}
	return n
}
