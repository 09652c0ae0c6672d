package quantity

import "strings"

// Typed lists what Find lists and, besides, what people write by hand but pages do not read
// as a quantity: units as words (3 minutes, 2 litres), degrees without their sign (20 C,
// 68 degrees F), a hyphen before the unit (a 500-ml tank), and parts with a colon or with
// spaces (1:20, 1 + 20). A number in words does not count, since running text is full of them
// (half a stop, every two minutes); nor does a date, since a text says when something was
// done, nor what may be a time of day, an angle or the year of a standard (10:30, 90
// degrees, 6:1993).
func Typed(text string) []Found { return find(text, true) }

// notSpoken are words of meant that usually mean something else in running text.
var notSpoken = map[string]bool{"in": true, "c": true, "f": true, "d": true, "mo": true, "ins": true, "mos": true, "bars": true}

// typed is the length of such a form at the start of a text, 0 for none, and how a page
// would write it, "" if that is not known. before is the byte in front of it.
func typed(text string, before byte) (int, string) {
	n, number := numberAsTyped(text)
	if before == '-' || before == '/' || before == ':' {
		before = '-'
	} else if size, added := partsAsTyped(text); size > 0 {
		return size, number + "+" + added
	}
	at, hyphen := n, false
	if strings.HasPrefix(text[at:], "-") {
		at, hyphen = at+1, true
	} else {
		at += blanks(text[at:])
	}
	written := func(unit string) string {
		if number == "" || unit == "" {
			return ""
		}
		return number + " " + unit
	}
	if size, unit := degrees(text[at:], hyphen, number); size > 0 && before != '-' {
		return at + size, written(unit)
	}
	size := letters(text[at:])
	word := text[at : at+size]
	if size == 0 || endsInWord(text, at+size) {
		return 0, ""
	}
	if word == "per" && strings.HasPrefix(text[at+size:], " cent") && !endsInWord(text, at+size+5) {
		return at + size + 5, written("%")
	}
	if n, units := spelled(text[at:]); len(units) > 0 && units[0] != "°C" && (n > 3 || word == "oz") {
		unit := ""
		if len(units) == 1 {
			unit = units[0]
		}
		return at + n, written(unit)
	}
	unit := meantBy(word)
	is := unit != "" && !notSpoken[word] && size > 1
	if !is && hyphen && size > 1 {
		if u, used, ok := ReadUnit(word); ok && used == size && u.Kind.Money == 0 {
			unit, is = u.Text, true
		}
	}
	if !is {
		return 0, ""
	}
	return at + size, written(unit)
}

// numberAsTyped is the length of a number with its decimals, and the number as a page
// writes it, "" if its comma may separate thousands.
func numberAsTyped(text string) (int, string) {
	n := digits(text)
	for n < len(text)-1 && (text[n] == '.' || text[n] == ',') && isDigit(text[n+1]) {
		n += 1 + digits(text[n+1:])
	}
	number := text[:n]
	if i := strings.IndexByte(number, ','); i >= 0 && len(number)-i-1 == 3 {
		return n, ""
	}
	return n, strings.Replace(number, ",", ".", 1)
}

// partsAsTyped reads 1:20 and 1 + 20: its length, 0 for none, and the parts added.
func partsAsTyped(text string) (int, string) {
	n := digits(text)
	if n != 1 || text[0] == '0' || n >= len(text) {
		return 0, ""
	}
	at, colon := n+1, text[n] == ':'
	if !colon {
		if !strings.HasPrefix(text[n:], " + ") {
			return 0, ""
		}
		at = n + 3
	}
	m := digits(text[at:])
	if m == 0 || m > 3 || endsInWord(text, at+m) || at+m < len(text)-1 && strings.IndexByte(":.,", text[at+m]) >= 0 && isDigit(text[at+m+1]) {
		return 0, ""
	}
	switch added := text[at : at+m]; {
	case added[0] == '0', !colon && found(text[at:]) > 0:
		return 0, ""
	case text[0] == '1', colon && (m == 3 || m == 2 && added >= "60"):
		return at + m, added
	}
	return 0, ""
}

// degrees reads C, F and degrees in words: the length, 0 for none, and the unit.
func degrees(text string, hyphen bool, number string) (int, string) {
	at, said := 0, false
	if strings.HasPrefix(text, "°") {
		at, said = len("°"), true
	} else if size := letters(text); size > 0 {
		switch text[:size] {
		case "degrees", "degree", "deg":
			at, said = size, true
			if text[:size] == "deg" && strings.HasPrefix(text[at:], ".") {
				at++
			}
		}
	}
	start := at
	at += blanks(text[at:])
	size := letters(text[at:])
	unit := ""
	switch word := text[at : at+size]; word {
	case "C", "Celsius", "celsius", "centigrade":
		unit = "°C"
	case "F", "Fahrenheit", "fahrenheit":
		unit = "°F"
	}
	end := at + size
	if unit != "" && !hyphen && !endsInWord(text, end) && (said || size == 1 && (end == len(text) || strings.IndexByte("-/'", text[end]) < 0)) {
		return end, unit
	}
	// Angles look the same: these are the usual ones.
	if said && !endsInWord(text, start) && number != "45" && number != "90" && number != "180" && number != "360" {
		return start, "°C"
	}
	return 0, ""
}

func blanks(text string) int { return len(text) - len(strings.TrimLeft(text, " ")) }

func letters(text string) int {
	n := 0
	for n < len(text) && isLetter(text[n]) {
		n++
	}
	return n
}
