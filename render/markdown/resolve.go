package markdown

import (
	"unicode/utf8"

	"github.com/yuin/goldmark/util"
)

// reference reads an escape or a character reference at the start of src (CommonMark 0.31.2, sections 2.4
// and 2.5): what it stands for and how many bytes it takes, 0 if there is neither.
func reference(src []byte) (string, int) {
	switch src[0] {
	case 0:
		return "\ufffd", 1
	case '\\':
		if len(src) > 1 && util.IsPunct(src[1]) {
			return string(src[1:2]), 2
		}
	case '&':
		return characterReference(src)
	}
	return "", 0
}

func characterReference(src []byte) (string, int) {
	if len(src) > 3 && src[1] == '#' {
		start, base, most := 2, rune(10), 7
		if src[2] == 'x' || src[2] == 'X' {
			start, base, most = 3, 16, 6
		}
		var r rune
		i := start
		for ; i < len(src) && i-start <= most; i++ {
			d := digit(src[i])
			if d < 0 || d >= base {
				break
			}
			r = r*base + d
		}
		if i == start || i-start > most || i == len(src) || src[i] != ';' {
			return "", 0
		}
		if r == 0 || !utf8.ValidRune(r) {
			r = utf8.RuneError
		}
		return string(r), i + 1
	}
	const longestName = 33 // CounterClockwiseContourIntegral and its like
	i := 1
	for i < len(src) && i <= longestName && util.IsAlphaNumeric(src[i]) {
		i++
	}
	if i == 1 || i == len(src) || src[i] != ';' {
		return "", 0
	}
	entity, ok := util.LookUpHTML5EntityByName(string(src[1:i]))
	if !ok {
		return "", 0
	}
	return string(entity.Characters), i + 1
}

func digit(c byte) rune {
	switch {
	case c >= '0' && c <= '9':
		return rune(c - '0')
	case c >= 'a' && c <= 'f':
		return rune(c-'a') + 10
	case c >= 'A' && c <= 'F':
		return rune(c-'A') + 10
	}
	return -1
}

// resolved appends src with its escapes and references resolved.
func resolved(dst, src []byte) []byte {
	done := 0
	for i := 0; i < len(src); {
		if c := src[i]; c == '\\' || c == '&' || c == 0 {
			if s, n := reference(src[i:]); n > 0 {
				dst = append(append(dst, src[done:i]...), s...)
				i += n
				done = i
				continue
			}
		}
		i++
	}
	return append(dst, src[done:]...)
}

// escaped appends text as HTML, for use between tags and in double quotes.
func escaped[T string | []byte](dst []byte, text T) []byte {
	done := 0
	for i := 0; i < len(text); i++ {
		var e string
		switch text[i] {
		case '&':
			e = "&amp;"
		case '<':
			e = "&lt;"
		case '>':
			e = "&gt;"
		case '"':
			e = "&quot;"
		case 0:
			e = "\ufffd"
		default:
			continue
		}
		dst = append(append(dst, text[done:i]...), e...)
		done = i + 1
	}
	return append(dst, text[done:]...)
}

// resolvedEscaped is escaped after resolved, without a copy in between.
func resolvedEscaped(dst, src []byte) []byte {
	done := 0
	for i := 0; i < len(src); {
		switch src[i] {
		case '\\', '&':
			if s, n := reference(src[i:]); n > 0 {
				dst = escaped(append(dst, src[done:i]...), s)
				i += n
				done = i
				continue
			}
			if src[i] == '&' {
				dst = append(append(dst, src[done:i]...), "&amp;"...)
				done = i + 1
			}
		case '<', '>', '"', 0:
			dst = escaped(append(dst, src[done:i]...), src[i:i+1])
			done = i + 1
		}
		i++
	}
	return append(dst, src[done:]...)
}
