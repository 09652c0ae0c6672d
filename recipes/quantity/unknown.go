package quantity

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/source"
)

// Words that people write for a unit, and the unit that they mean; plurals as well.
var meant = map[string]string{
	"in": "inch", "feet": "ft", "foot": "ft", "sec": "s", "second": "s", "minute": "min", "hr": "h", "hour": "h",
	"d": "day", "wk": "week", "yr": "year", "mo": "month", "c": "°C", "C": "°C", "F": "°F", "f": "°F", "degC": "°C", "degF": "°F",
	"cc": "ml", "ccm": "ml", "ltr": "l", "litre": "l", "liter": "l", "millilitre": "ml", "milliliter": "ml", "centilitre": "cl", "centiliter": "cl",
	"gm": "g", "gram": "g", "gramme": "g", "kilo": "kg", "kilogram": "kg", "milligram": "mg",
	"metre": "m", "meter": "m", "centimetre": "cm", "centimeter": "cm", "millimetre": "mm", "millimeter": "mm", "micron": "µm",
	"kelvin": "K", "percent": "%", "pct": "%", "sqm": "m2", "sqin": "sq_inch", "sqft": "sq_ft",
	"teaspoon": "tsp", "tablespoon": "tbsp", "EV": "stop", "ev": "stop", "M": "mol/l",
}

// meantBy is the unit that a word stands for, "" if that is uncertain.
func meantBy(word string) string {
	if unit := meant[word]; unit != "" {
		return unit
	}
	one := strings.TrimSuffix(word, "s")
	switch {
	case len(one) < 2 || one == word:
		return ""
	case IsUnit(one) || IsCount(one):
		return one
	}
	return meant[one]
}

// A saying is a way to write a unit in several words, or in one of unclear meaning: a regular
// expression, and the units that it can stand for; none if the nearest spelling would be a wrong
// guess. Capital letters count as small ones. A page's script uses the same expressions.
type saying struct {
	words string
	units []string
	start *regexp.Regexp
}

const (
	inUS      = `(?:us|u\.s\.) ?`
	inBritain = `(?:uk|u\.k\.|imp(?:\.|erial)?)[ _]?`
	square    = `sq(?:uare)?[._ ]+`
	cubic     = `cu(?:bic)?[._ ]+`
	ofDegree  = `(?:deg(?:rees?|\.)?|°)`
)

// sayings are compiled when a word is met that is no unit.
var sayings = sync.OnceValue(loadSayings)

func loadSayings() []saying {
	var out []saying
	add := func(words string, units ...string) {
		out = append(out, saying{words, units, regexp.MustCompile("^(?:" + words + ")")})
	}
	// On a page pint, quart and gal are those of the US: these words are in doubt only in
	// another spelling, or in a reader's field.
	for _, m := range []struct{ us, words string }{
		{"fl_oz", `fl(?:uid)?[._ ]*(?:oz|ounces?)\.?|fl\.?`}, {"pint", `p(?:in)?ts?`}, {"quart", `q(?:uar)?ts?`}, {"gal", `gal(?:lon)?s?`},
	} {
		add(m.words, m.us, "imp_"+m.us)
		add(inUS+"(?:"+m.words+")", m.us)
		add(inBritain+"(?:"+m.words+")", "imp_"+m.us)
	}
	add(`ozs?|ounces?`, "oz_av", "oz_ap", "fl_oz", "imp_fl_oz")
	add(square+`m(?:et(?:er|re)s?)?`, "m2")
	add(square+`cm`, "cm2")
	add(square+`in(?:ch(?:es)?|\.)?`, "sq_inch")
	add(square+`f(?:oo|ee)?t\.?`, "sq_ft")
	add(cubic+`c(?:m|entimet(?:er|re)s?)`, "cm3")
	add(cubic+`in(?:ch(?:es)?|\.)?`, "inch3")
	add(ofDegree+" ?c", "°C")
	add(ofDegree+" ?f", "°F")
	add(ofDegree, "°C", "°F")
	add("gr", "g", "grain")
	add("pounds?", "lb", "GBP")
	add("mils?|mi|us")
	return out
}

// measures are words for two units, by the name of the US one: what it is, and how large the
// two are.
var measures = map[string][3]string{
	"fl_oz": {"a fluid ounce", "29.57 ml", "28.41 ml"}, "pint": {"a pint", "473.2 ml", "568.3 ml"},
	"quart": {"a quart", "946.4 ml", "1137 ml"}, "gal": {"a gallon", "3.785 l", "4.546 l"},
}

// spelled reads a saying at the start of a text: its length, 0 for none, and its units.
func spelled(text string) (int, []string) {
	low := strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r - 'A' + 'a'
		}
		return r
	}, text)
	for _, s := range sayings() {
		if n := len(s.start.FindString(low)); n > 0 && !endsInWord(text, n) {
			return n, s.units
		}
	}
	return 0, nil
}

// unknownUnit suggests what was meant by the start of a text, which is not a unit, and says
// how much of it to mark; before is the text that leads up to it, number and space included.
func unknownUnit(text, before string) (source.Problem, int) {
	marked, units := spelled(text)
	name := text[:marked]
	if marked == 0 {
		marked = nameLength(text)
		name = strings.TrimRight(text[:marked], "0123456789")
		units = proposed(name)
	}
	if len(units) > 1 && units[0] == "oz_av" {
		return source.WhichOunce(before), marked
	}
	if len(units) > 1 && units[1] == "imp_"+units[0] {
		m := measures[units[0]]
		return source.WhichMeasure(m[0], before, units[0], m[1], m[2]), marked
	}
	var offers []string
	for _, u := range units {
		offers = append(offers, before+u)
	}
	return source.UnknownUnit(name, offers...), marked
}

// shows lists what may have been meant by a show that is not a unit.
func shows(text string) []string {
	if n, units := spelled(text); n == len(text) {
		return units
	}
	return proposed(text)
}

// Words are other ways of writing units than those of the table. They are offered a correction,
// never read. The script of a page has the same.
type Words struct {
	// Meant are words, each with the unit that it stands for.
	Meant map[string]string
	// Sayings are regular expressions, each followed by the units that it can stand for.
	Sayings [][]string
	// Measures are words for two units, by the name of the US one: what it is, and the sizes
	// of the US and the imperial one.
	Measures map[string][3]string
}

// Meant gives the words.
func Meant() Words {
	w := Words{Meant: maps.Clone(meant), Measures: maps.Clone(measures)}
	for _, s := range sayings() {
		w.Sayings = append(w.Sayings, slices.Concat([]string{s.words}, s.units))
	}
	return w
}

// proposed lists the units that a word may stand for: the nearest, or all that are equally near.
// A wrong proposal is worse than none, so more than four are none.
func proposed(name string) []string {
	if m := meantBy(name); m != "" {
		return []string{m}
	}
	if same := units.byLower[strings.ToLower(name)]; len(same) > 0 {
		return same[:1]
	}
	if low := strings.ToLower(name); IsCount(low) {
		return []string{low}
	}
	code := len(name) == 3 && strings.ToUpper(name) == name
	best := 3
	var out []string
	for _, c := range slices.Concat(units.names, countWords()) {
		if !code && len(c) == 3 && strings.ToUpper(c) == c {
			continue // a currency
		}
		switch far := unlike(name, c); {
		case far < best:
			best, out = far, []string{c}
		case far == best && best < 3:
			u, _, _ := ReadUnit(c)
			last, _, _ := ReadUnit(out[len(out)-1])
			if u.Text != last.Text {
				out = append(out, c)
			}
		}
	}
	if len(out) > 4 {
		return nil
	}
	return out
}

// unlike ranks how far a word is from a unit's name: 0 if a letter was left out or typed
// twice, 1 if two letters changed places, 2 if a long word has one wrong letter, 3 for
// anything farther. A word of one letter is near none.
func unlike(word, name string) int {
	if len(word) < 2 {
		return 3
	}
	if word[0] == name[0] && oneLonger(name, word) || doubled(word, name) {
		return 0
	}
	if swapped(word, name) {
		return 1
	}
	if len(name) >= 4 && (oneLonger(word, name) || oneLonger(name, word) || oneOff(word, name) || len(word) >= 7 && source.Nearest(word, []string{name}) != "") {
		return 2
	}
	return 3
}

// oneLonger reports whether a is b with one more letter.
func oneLonger(a, b string) bool {
	if len(a) != len(b)+1 {
		return false
	}
	i := 0
	for i < len(b) && a[i] == b[i] {
		i++
	}
	return a[i+1:] == b[i:]
}

// doubled reports whether a word is a name with one letter typed twice.
func doubled(word, name string) bool {
	for i := 1; i < len(word); i++ {
		if word[i] == word[i-1] && word[:i]+word[i+1:] == name {
			return true
		}
	}
	return false
}

func swapped(word, name string) bool {
	for i := 1; i < len(word) && len(word) == len(name); i++ {
		if word[i] != word[i-1] && word[:i-1]+word[i:i+1]+word[i-1:i]+word[i+1:] == name {
			return true
		}
	}
	return false
}

// oneOff reports whether two words of one length have one letter that differs.
func oneOff(a, b string) bool {
	off := 0
	for i := 0; i < len(a) && len(a) == len(b); i++ {
		if a[i] != b[i] {
			off++
		}
	}
	return off == 1
}
