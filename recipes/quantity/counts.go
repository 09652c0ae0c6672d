package quantity

import (
	"math/big"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Counted things are kinds of their own, so that millilitres for each roll cannot be
// multiplied by sheets. Their words are units only after a number or inside a joined unit,
// so that a page may still use them as names: IsUnit and Lookup do not know them.

// builtInCounts are what every lab counts.
var builtInCounts = []string{"roll", "sheet", "print", "frame", "bottle", "cartridge", "sachet", "order"}

// Count is a counted thing, by the word for one and the word for several.
type Count struct{ One, Several string }

// counts are the units by both words, and those that labs added. Words are only ever added, since
// all labs of a process share them.
var counts = struct {
	sync.RWMutex
	byWord map[string]Unit
	own    []Count
}{byWord: map[string]Unit{}}

func init() {
	for _, word := range builtInCounts {
		addCount(countOf(word))
	}
}

func addCount(c Count) {
	u := Unit{Text: c.One, Kind: Kind{Counts: c.One + "1"}, Factor: 1, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}
	counts.byWord[c.One], counts.byWord[c.Several] = u, u
}

// LetCount makes words counted things, in the singular or the plural as a lab's settings have
// them.
func LetCount(words []string) {
	for _, word := range words {
		c := countOf(word)
		counts.Lock()
		if _, known := counts.byWord[c.One]; !known {
			addCount(c)
			counts.own = append(counts.own, c)
		}
		counts.Unlock()
	}
}

// OwnCounts lists what labs count besides what is built in.
func OwnCounts() []Count {
	counts.RLock()
	defer counts.RUnlock()
	return slices.Clone(counts.own)
}

// Counts lists what is built in.
func Counts() []Count {
	var out []Count
	for _, word := range builtInCounts {
		out = append(out, countOf(word))
	}
	return out
}

// IsCount reports whether a word is one for a counted thing.
func IsCount(word string) bool {
	_, ok := countNamed(word)
	return ok
}

func countNamed(word string) (Unit, bool) {
	counts.RLock()
	defer counts.RUnlock()
	u, ok := counts.byWord[word]
	return u, ok
}

func countWords() []string {
	counts.RLock()
	defer counts.RUnlock()
	var out []string
	for word := range counts.byWord {
		out = append(out, word)
	}
	slices.Sort(out)
	return out
}

// OtherNumber is a counted thing's word in the other number: rolls for roll, roll for rolls.
func OtherNumber(word string) string {
	if u, ok := countNamed(word); ok && u.Text != word {
		return u.Text
	}
	return countOf(word).Several
}

// oddPlurals are things that a lab may count whose singular ends in s, so that no rule can tell it
// from a plural.
var oddPlurals = []Count{{"lens", "lenses"}, {"canvas", "canvases"}, {"chassis", "chassis"}, {"iris", "irises"}, {"gas", "gases"}, {"series", "series"}}

func oddPlural(word string) (c Count, ok bool) {
	i := slices.IndexFunc(oddPlurals, func(c Count) bool { return word == c.One || word == c.Several })
	if i < 0 {
		return Count{}, false
	}
	return oddPlurals[i], true
}

// countOf gives both words for a counted thing, from either of them.
func countOf(word string) Count {
	if c, ok := oddPlural(word); ok {
		return c
	}
	one := word
	switch {
	case strings.HasSuffix(word, "ies") && len(word) > 4:
		one = word[:len(word)-3] + "y"
	case strings.HasSuffix(word, "xes"), strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "shes"), strings.HasSuffix(word, "sses"):
		one = word[:len(word)-2]
	case strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss"):
		one = word[:len(word)-1]
	}
	return Count{one, several(one)}
}

func several(one string) string {
	if c, ok := oddPlural(one); ok {
		return c.Several
	}
	vowel := func(c byte) bool { return strings.IndexByte("aeiou", c) >= 0 }
	switch n := len(one); {
	case strings.HasSuffix(one, "y") && n > 1 && !vowel(one[n-2]):
		return one[:n-1] + "ies"
	case strings.HasSuffix(one, "s"), strings.HasSuffix(one, "x"), strings.HasSuffix(one, "ch"), strings.HasSuffix(one, "sh"):
		return one + "es"
	}
	return one + "s"
}

// InNumber is a unit as written after a number: words take the plural after anything but one.
// Of a joined unit only the first word does: 2 rolls/day.
func InNumber(number, unit string) string {
	if number == "1" || number == "-1" || number == "+1" {
		return unit
	}
	n := nameLength(unit)
	if n == 0 || n < len(unit) && unit[n] != '/' {
		return unit
	}
	switch word := unit[:n]; word {
	case "day", "week", "month", "year":
		return word + "s" + unit[n:]
	default:
		if u, ok := countNamed(word); ok && u.Text == word {
			return several(word) + unit[n:]
		}
	}
	return unit
}

// Plural is a unit as the title of an axis has it.
func Plural(unit string) string { return InNumber("", unit) }

// joinCounts multiplies powers of counted things, written as "roll1 sheet-1", or divides
// them; false says that a power leaves the range.
func joinCounts(a, b string, sign int) (string, bool) {
	if b == "" || a == "" && sign > 0 {
		return a + b, true
	}
	powers := map[string]int{}
	add := func(text string, sign int) {
		for part := range strings.FieldsSeq(text) {
			name, power := countPower(part)
			powers[name] += sign * power
		}
	}
	add(a, 1)
	add(b, sign)
	var parts []string
	ok := true
	for name, power := range powers {
		if power != 0 {
			parts = append(parts, name+strconv.Itoa(power))
		}
		ok = ok && power >= -9 && power <= 9
	}
	slices.Sort(parts)
	return strings.Join(parts, " "), ok
}

// countPower splits "sheet-1".
func countPower(part string) (name string, power int) {
	i := strings.IndexAny(part, "-0123456789")
	power, _ = strconv.Atoi(part[i:])
	return part[:i], power
}
