package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Found is a quantity in running text.
type Found struct {
	Start, End int
	Text       string
	Written    string // as a page writes it, where that is known
}

// Find lists the quantities that a text holds: a number and a unit, with or without a
// space, a dilution, a duration. A bare number does not count, nor does a number inside a
// longer word. Offsets are bytes of text.
func Find(text string) []Found { return find(text, false) }

func find(text string, alsoTyped bool) []Found {
	norm, back := Normalise(text)
	at := func(i int) int {
		if back == nil {
			return i
		}
		return back[i]
	}
	var out []Found
	for i := 0; i < len(norm); {
		if !isDigit(norm[i]) || i > 0 && (isWordByte(norm[i-1]) || norm[i-1] == '.' || norm[i-1] == ',' || letterBefore(norm[:i])) {
			i++
			continue
		}
		end, written := found(norm[i:]), ""
		if end > 0 {
			written = asWritten(norm[i : i+end])
		} else if alsoTyped {
			before := byte(' ')
			if i > 0 && !(norm[i-1] == '-' && (i == 1 || norm[i-2] == ' ')) {
				before = norm[i-1]
			}
			end, written = typed(norm[i:], before)
		}
		if end == 0 {
			for i < len(norm) && (isDigit(norm[i]) || norm[i] == '.' || norm[i] == ',') {
				i++
			}
			continue
		}
		start := i
		if i > 0 && norm[i-1] == '-' && (i == 1 || norm[i-2] == ' ') {
			start--
			if written != "" {
				written = "-" + written
			}
		}
		out = append(out, Found{at(start), at(i + end), text[at(start):at(i+end)], written})
		i += end
	}
	return out
}

// asWritten is how a page writes a quantity that was found: 500 ml for 500ml.
func asWritten(text string) string {
	if _, t := Parse(text); t == nil {
		return text
	}
	n, number := numberAsTyped(text)
	u, _, ok := ReadUnit(strings.TrimLeft(text[n:], " "))
	if number == "" || !ok {
		return ""
	}
	return number + " " + u.Text
}

// letterBefore reports whether a text ends in a letter beyond ASCII; a dash is not one.
func letterBefore(text string) bool {
	r, _ := utf8.DecodeLastRuneInString(text)
	return r >= 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

func isWordByte(c byte) bool { return isLetter(c) || isDigit(c) }

// found is the length of the quantity at the start of a text, 0 for none.
func found(text string) int {
	r := &reader{text: text}
	if v, ok, _ := r.dilution(); ok && !endsInWord(text, r.pos) && v.Form == Dilution {
		return r.pos
	}
	n := digits(text)
	if n < len(text)-1 && text[n] == ':' && isDigit(text[n+1]) {
		return 0 // a time of day, a chapter and verse
	}
	r = &reader{text: text}
	if v, t := r.quantity(); t == nil && (v.Unit.Text != "" || v.Form == Duration) && !endsInWord(text, r.pos) {
		return r.pos
	}
	// 500ml, 0,5 ml, 68°F
	for n < len(text)-1 && (text[n] == '.' || text[n] == ',') && isDigit(text[n+1]) {
		n += 1 + digits(text[n+1:])
	}
	blanks := 0
	for n+blanks < len(text) && text[n+blanks] == ' ' {
		blanks++
	}
	u, size, ok := ReadUnit(text[n+blanks:])
	if ok && !endsInWord(text, n+blanks+size) && (blanks > 0 || u.Text != "" && size > 0) && u.Text != "" {
		if blanks == 0 && u.Kind.Money != 0 {
			return 0
		}
		return n + blanks + size
	}
	return 0
}

func endsInWord(text string, i int) bool { return i < len(text) && isWordByte(text[i]) }
