package markdown

import (
	"strconv"
	"strings"
	"unicode"
)

// anchors makes the ids of headings, each only once.
type anchors struct {
	used map[string]bool
	last map[string]int // the last number put after a name
}

// id makes an anchor of a heading's plain text: in lower case, with spaces as "-", letters, digits, "-"
// and "_" kept, and all else dropped; "section" if nothing is left, and "-1", "-2" after a name that is
// taken. No id has an ASCII capital, so that ids with one are free for other uses.
func (a *anchors) id(text string) string {
	if a.used == nil {
		a.used, a.last = map[string]bool{}, map[string]int{}
	}
	name := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return '-'
		case r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r):
			return r
		}
		return -1
	}, strings.ToLower(text))
	if name == "" {
		name = "section"
	}
	id := name
	for a.used[id] {
		a.last[name]++
		id = name + "-" + strconv.Itoa(a.last[name])
	}
	a.used[id] = true
	return id
}
