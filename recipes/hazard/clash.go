package hazard

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clash is an incompatibility as it touches one page.
type Clash struct {
	ID   string
	Kind string // do-not-mix, do-not-contact, order-of-addition, ignition, property
	Word string // ANSI Z535.6: DANGER, WARNING, CAUTION or NOTICE
	// One and Other name the page's substances on each side. If a side has
	// none, the page only warns of what the other must not meet; OneWords and
	// OtherWords say what the sides are.
	One, Other           []string
	OneWords, OtherWords string
	Happens, Do          string
	Gases                []Gas
	FromMemory           bool // the effect was recalled, not read
	Sources              []string
	Note                 string
}

func ansiRank(word string) int {
	return slices.Index([]string{"NOTICE", "CAUTION", "WARNING", "DANGER"}, word)
}

// side gives, for each row of the list that a page's substances are or contain,
// their names on the page.
type side map[string][]string // ID of a row of the list to names on the page

// clashes sorts the incompatibilities of a page: both sides on it, one side on
// it (warned of), and orders of addition. The last are for what is corrosive as
// used: a dilute acid needs no order, and a rule shown where it does not apply is
// soon ignored where it does.
func clashes(present, strong side) (meet, warned, order []Clash) {
	list := Built()
	for i := range list.Incompatibilities {
		inc := &list.Incompatibilities[i]
		on := present
		if inc.Kind == "order-of-addition" {
			on = strong
		}
		one, other := withoutCommon(on.names(inc.OneIs), on.names(inc.OtherIs))
		if len(one)+len(other) == 0 {
			continue
		}
		c := Clash{ID: inc.ID, Kind: inc.Kind, Word: inc.Word, One: one, Other: other, OneWords: inc.One, OtherWords: inc.Other,
			Happens: inc.Happens, Do: inc.Do, Note: inc.Note, FromMemory: inc.Provenance["effect"].Status != "read", Sources: inc.Provenance["effect"].Source}
		for _, id := range inc.Gases {
			if g := list.gases[id]; g != nil {
				c.Gases = append(c.Gases, *g)
			}
		}
		switch {
		case inc.Kind == "order-of-addition":
			order = append(order, c)
		case len(one) > 0 && len(other) > 0:
			meet = append(meet, c)
		default:
			warned = append(warned, c)
		}
	}
	for _, l := range [][]Clash{meet, warned, order} {
		slices.SortStableFunc(l, func(a, b Clash) int { return cmp.Compare(ansiRank(b.Word), ansiRank(a.Word)) })
	}
	return meet, warned, order
}

// withoutCommon takes a name that is on both sides, a mixture that holds both parts,
// off the side where it would only meet itself.
func withoutCommon(one, other []string) (left, right []string) {
	switch {
	case len(other) == 1 && slices.Contains(one, other[0]) && len(one) > 1:
		return slices.DeleteFunc(one, func(n string) bool { return n == other[0] }), other
	case len(one) == 1 && slices.Contains(other, one[0]):
		return one, slices.DeleteFunc(other, func(n string) bool { return n == one[0] })
	}
	return one, other
}

func (p side) names(ids []string) []string {
	var out []string
	for _, id := range ids {
		for _, n := range p[id] {
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	slices.Sort(out)
	return out
}

// and joins names: `a`, `a and b`, `a, b and c`.
func and(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func upperFirst(s string) string {
	r, width := utf8.DecodeRuneInString(s)
	if width == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[width:]
}
