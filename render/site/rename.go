package site

import (
	"slices"
	"strings"
)

// rename gives the names that a script keeps to itself short ones: each name one short
// name wherever it stands, whatever function it belongs to, so that which of two equal
// names is meant stays as it was. A name keeps its length where it is also the name of a
// property, stands outside every bracket, where other scripts can see it, or means
// something in the browser (browserNames).
//
// It reads declarations, not the language: it must see that a name is declared before it
// touches it, and leaves alone what it does not understand.
func rename(all []piece) []piece {
	s := &scope{}
	for i, p := range all {
		if p.kind > note {
			s.at = append(s.at, i)
		}
		if p.kind == literal && p.text[0] == '`' && strings.Contains(p.text, "${") {
			return all // names stand inside the text
		}
	}
	s.all = all
	s.match()
	s.declare()
	s.keep()
	short := s.names()
	for i := range s.at {
		if p := s.piece(i); s.isName(i) && short[p.text] != "" && !s.isProperty(i) {
			p.text = short[p.text]
		}
	}
	return all
}

// scope is a script while its names are read; places count the pieces that mean anything.
type scope struct {
	all      []piece
	at       []int // of each place, its piece
	pair     []int // of each bracket, the place of its partner; else -1
	inside   []int // of each place, that of the bracket around it, -1 for none
	declared map[string]bool
	kept     map[string]bool // names that stay
}

func (s *scope) piece(i int) *piece { return &s.all[s.at[i]] }

// text is what stands at a place, "" beyond the ends.
func (s *scope) text(i int) string {
	if i < 0 || i >= len(s.at) {
		return ""
	}
	return s.piece(i).text
}

func (s *scope) isName(i int) bool {
	return i >= 0 && i < len(s.at) && s.piece(i).kind == word && !(s.text(i)[0] >= '0' && s.text(i)[0] <= '9')
}

// isProperty tells whether a name stands after a full stop; three of them spread a list.
func (s *scope) isProperty(i int) bool {
	return s.text(i-1) == "." && !(s.text(i-2) == "." && s.text(i-3) == ".")
}

func (s *scope) match() {
	s.pair, s.inside = make([]int, len(s.at)), make([]int, len(s.at))
	var open []int
	for i := range s.at {
		s.pair[i], s.inside[i] = -1, -1
		closes := s.piece(i).kind == sign && strings.Contains(")]}", s.text(i))
		if closes && len(open) > 0 {
			s.pair[i] = open[len(open)-1]
			s.pair[s.pair[i]] = i
			open = open[:len(open)-1]
		}
		if len(open) > 0 {
			s.inside[i] = open[len(open)-1]
		}
		if s.piece(i).kind == sign && strings.Contains("([{", s.text(i)) {
			open = append(open, i)
		}
	}
}

// declare finds the names that the script declares inside a bracket.
func (s *scope) declare() {
	s.declared, s.kept = map[string]bool{}, map[string]bool{}
	for i := range s.at {
		if !s.isName(i) || s.isProperty(i) {
			if s.text(i) == "(" && s.pair[i] > 0 && (s.takes(i) || s.text(s.pair[i]+1) == "=" && s.text(s.pair[i]+2) == ">") {
				s.pattern(i+1, s.pair[i])
			}
			continue
		}
		switch s.text(i) {
		case "const", "let", "var":
			s.list(i + 1)
		case "function", "class":
			if s.isName(i + 1) {
				s.found(i + 1)
			}
		default:
			if s.text(i+1) == "=" && s.text(i+2) == ">" {
				s.found(i)
			}
		}
	}
}

// takes tells whether the bracket holds what a function or a catch takes: a brace follows
// it, and no word that stands before a condition comes before it.
func (s *scope) takes(i int) bool {
	switch s.text(i - 1) {
	case "if", "for", "while", "switch", "with":
		return false
	}
	return s.text(s.pair[i]+1) == "{" && s.isName(i-1)
}

// list reads what a declaration declares, up to its end.
func (s *scope) list(i int) {
	for around := -1; i < len(s.at); i++ {
		if around < 0 {
			around = s.inside[i] + 1
		}
		end := i
		if s.pair[i] > i {
			end = s.pair[i]
		}
		s.pattern(i, end+1)
		for i = end + 1; i < len(s.at); i++ {
			switch t := s.text(i); {
			case t == ";" || t == "of" || t == "in" || s.pair[i] >= 0 && s.pair[i] < i:
				return
			case t == ",":
			default:
				if s.pair[i] > i {
					i = s.pair[i]
				}
				continue
			}
			break
		}
	}
}

// pattern reads the names between two places: `a, {b: c = 1, d}, ...e`. What a name is
// when nothing is given for it is not read.
func (s *scope) pattern(from, to int) {
	around := -2
	for i := from; i < to; i++ {
		if around == -2 {
			around = s.inside[i]
		}
		switch {
		case s.pair[i] > i:
			s.pattern(i+1, s.pair[i])
			i = s.pair[i]
		case s.text(i) == "=":
			for i+1 < to && s.text(i+1) != "," {
				i++
				if s.pair[i] > i {
					i = s.pair[i]
				}
			}
		case s.isName(i) && s.text(i+1) != ":":
			s.found(i)
		}
	}
}

func (s *scope) found(i int) {
	if s.inside[i] < 0 {
		s.kept[s.text(i)] = true
		return
	}
	s.declared[s.text(i)] = true
}

// keep finds the names that must stay: keys of objects, methods, and the two at once where
// `{a}` is short for `{a: a}`.
func (s *scope) keep() {
	for i := range s.at {
		if !s.isName(i) || s.isProperty(i) {
			continue
		}
		inBrace := s.inside[i] >= 0 && s.text(s.inside[i]) == "{" && !s.isBlock(s.inside[i])
		opens := s.text(i-1) == "{" || s.text(i-1) == ","
		switch next := s.text(i + 1); {
		case next == "of" || next == "in" || next == "instanceof":
		case next == ":" && strings.Contains("{},;", s.text(i-1)), // and not the middle of a choice
			s.isName(i + 1), // get, set, static
			inBrace && opens && (next == "," || next == "}" || next == "="),
			next == "(" && s.takes(i+1) && s.text(i-1) != "function" && s.text(i) != "catch" && s.text(i) != "function":
			s.kept[s.text(i)] = true
		}
	}
}

// isBlock tells whether a brace opens a block and not an object: what comes before it can
// stand at the end of a statement or of a function's head.
func (s *scope) isBlock(i int) bool {
	switch t := s.text(i - 1); t {
	case ")", "else", "try", "finally", "do", "{", "}", ";":
		return true
	default:
		return t == ">" && s.text(i-2) == "="
	}
}

// names chooses the short names: the shortest for what stands most often.
func (s *scope) names() map[string]string {
	count, taken := map[string]int{}, map[string]bool{}
	for i := range s.at {
		if s.isName(i) {
			taken[s.text(i)] = true
			if !s.isProperty(i) {
				count[s.text(i)]++
			}
		}
	}
	var wanting []string
	for name := range s.declared {
		if len(name) > 1 && !s.kept[name] && !slices.Contains(browserNames, name) {
			wanting = append(wanting, name)
		}
	}
	slices.SortFunc(wanting, func(a, b string) int {
		if n := count[b] - count[a]; n != 0 {
			return n
		}
		return strings.Compare(a, b)
	})
	short, n := map[string]string{}, 0
	for _, name := range wanting {
		for {
			next := shortName(n)
			if len(next) >= len(name) {
				break
			}
			n++
			if !taken[next] && !slices.Contains(keywords, next) {
				short[name] = next
				break
			}
		}
	}
	return short
}

// shortName is the nth of the names of one letter, then of two.
func shortName(n int) string {
	const letters = "etaoinsrlcdupmhfgbyvkwxqjzETAOINSRLCDUPMHFGBYVKWXQJZ"
	if n < len(letters) {
		return letters[n : n+1]
	}
	n -= len(letters)
	return letters[n/len(letters)%len(letters):][:1] + letters[n%len(letters):][:1]
}

// keywords are the language's own words of two letters.
var keywords = []string{"as", "do", "if", "in", "is", "of"}

// browserNames are names of one word that every browser's window has: a script may declare
// one for itself in one place and mean the window's in another. The HTML Standard's Window,
// as Chromium lists it.
var browserNames = strings.Fields(`alert atob blur btoa caches close closed confirm console crypto document
	escape eval event external fetch find focus frames history length location locationbar menubar name
	navigation navigator open opener origin parent performance personalbar print prompt scheduler screen
	scroll scrollbars self status statusbar stop toolbar top undefined unescape viewport when window`)
