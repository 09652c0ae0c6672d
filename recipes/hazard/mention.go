package hazard

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Mention is a substance that a text names. Start and End are bytes of the text.
type Mention struct {
	Start, End int
	Name       string // as the text writes it
	Substance  *Substance
}

// Lookout finds substances in the texts of one page, whose declared names it looks up
// once.
type Lookout struct {
	known   map[*Substance]bool
	numbers map[string]bool
	trees   []*letter
	begins  [utf8.RuneSelf]bool // the ASCII characters with which a name begins, capitals among them
}

// NewLookout is for a page that declares some names (names, synonyms or CAS numbers), and
// for the shop's own sheets, which may be nil.
func NewLookout(declared []string, own *OwnSheets) *Lookout {
	known := map[*Substance]bool{}
	numbers := map[string]bool{}
	list := Built()
	for _, name := range declared {
		s, _ := own.Find(name)
		if s == nil {
			continue
		}
		for _, id := range s.Contains {
			known[list.ids[id]] = true
		}
		known[s] = true
		if s.CAS != "" {
			numbers[s.CAS] = true
		}
	}
	trees := []*letter{list.names.tree}
	if own != nil {
		trees = []*letter{own.names.tree, list.names.tree}
	}
	l := &Lookout{known: known, numbers: numbers, trees: trees}
	for _, tree := range trees {
		for r := range tree.next {
			if r < utf8.RuneSelf {
				l.begins[r], l.begins[unicode.ToUpper(r)] = true, true
			}
		}
	}
	return l
}

// NamedInText finds, in one pass, the substances that a text names and that are not among
// the declared ones. Names match as whole words, whatever their case, the longest first; a
// run of spaces stands for one. A substance counts as declared when the same CAS number is,
// or when it is in a declared mixture of the shop's own.
func (l *Lookout) NamedInText(text string) []Mention {
	var found []Mention
	for at := 0; at < len(text); {
		r, width := utf8.DecodeRuneInString(text[at:])
		if !beginsName(text, at) {
			at += width
			continue
		}
		end, substance := at, (*Substance)(nil)
		for _, tree := range l.trees {
			if r < utf8.RuneSelf && !l.begins[r] {
				break
			}
			if e, s := tree.longest(text, at); e > end {
				end, substance = e, s
			}
		}
		if substance == nil {
			at += width
			if isWord(r) { // on to the end of this word
				for at < len(text) {
					r, width := utf8.DecodeRuneInString(text[at:])
					if !isWord(r) {
						break
					}
					at += width
				}
			}
			continue
		}
		if !l.known[substance] && !(substance.CAS != "" && l.numbers[substance.CAS]) {
			found = append(found, Mention{at, end, text[at:end], substance})
		}
		at = end
	}
	return found
}

func isWord(r rune) bool {
	if r < utf8.RuneSelf {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// beginsName reports whether a name may begin here: not inside a word, and not
// after a locant or a group with its hyphen (`N-`, `2,5-`, `methyl-`), which make
// another substance.
func beginsName(text string, at int) bool {
	before, width := utf8.DecodeLastRuneInString(text[:at])
	if at == 0 || !isWord(before) && before != '-' {
		return true
	}
	if before != '-' {
		return false
	}
	word := text[:at-width]
	start := strings.LastIndexFunc(word, func(r rune) bool { return !isWord(r) }) + 1
	word = strings.ToLower(word[start:])
	return utf8.RuneCountInString(word) > 2 && !strings.HasSuffix(word, "yl")
}

// letter is a node of a tree of names, one letter per level.
type letter struct {
	next  map[rune]*letter
	here  *Substance
	exact string // a short name in capitals, which must be in capitals in the text too
}

func (l *letter) add(name string, s *Substance) {
	key := Fold(name)
	exact := ""
	if len(name) <= 4 && name == strings.ToUpper(name) {
		exact = name
	}
	l.put(key, s, exact)
	if strings.Contains(key, "sulf") {
		l.put(strings.ReplaceAll(key, "sulf", "sulph"), s, exact)
	}
	if strings.Contains(key, "aluminium") {
		l.put(strings.ReplaceAll(key, "aluminium", "aluminum"), s, exact)
	}
}

func (l *letter) put(key string, s *Substance, exact string) {
	for _, r := range key {
		if l.next == nil {
			l.next = map[rune]*letter{}
		}
		child := l.next[r]
		if child == nil {
			child = new(letter)
			l.next[r] = child
		}
		l = child
	}
	if l.here == nil {
		l.here, l.exact = s, exact
	}
}

// longest gives the end of the longest name that begins at a byte of the text
// and ends at the end of a word, and its substance; end is at if there is none.
func (l *letter) longest(text string, at int) (end int, s *Substance) {
	end = at
	for i := at; i < len(text); {
		r, width := utf8.DecodeRuneInString(text[i:])
		if unicode.IsSpace(r) {
			lines := 0
			for i < len(text) {
				r, width = utf8.DecodeRuneInString(text[i:])
				if !unicode.IsSpace(r) {
					break
				}
				if r == '\n' {
					lines++
				}
				i += width
			}
			if lines > 1 { // a new paragraph
				break
			}
			r = ' '
		} else {
			i += width
		}
		if l = l.next[unicode.ToLower(r)]; l == nil {
			break
		}
		if l.here == nil || l.exact != "" && text[at:i] != l.exact {
			continue
		}
		after, _ := utf8.DecodeRuneInString(text[i:])
		if i == len(text) || !isWord(after) || !isWord(r) {
			end, s = i, l.here
		}
	}
	return end, s
}
