package formula

import (
	"unicode/utf8"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Bounds of a formula, see the page format.
const (
	MostCharacters = 2000
	MostNodes      = 200
	MostLevels     = 64
)

// scan takes a formula apart before the engine's parser sees it: it reads the literals,
// refuses by name what pages may not use, and hands the engine the text with each literal
// blanked out, so that positions stay valid. Each part has a file: scan_literal.go, scan_word.go,
// scan_sign.go.
type scan struct {
	text    string // normalised
	back    []int  // offsets in the text as written; nil if nothing moved
	tokens  []Token
	blanked []byte // the text with each literal overwritten by underscores, one byte a rune
	runes   []int  // byte offset of each rune; nil if the text is ASCII
	list    []problemAt

	levels    int    // brackets that are open
	lists     int    // square ones
	questions int    // ? met so far
	lets      int    // lets that await their ;
	compared  []bool // by level: a comparison is here, and nothing has ended it yet
}

type problemAt struct {
	source.Problem
	start, end int
}

func (s *scan) refuse(p source.Problem, start, end int) {
	s.list = append(s.list, problemAt{p, start, end})
}

func newScan(text string) *scan {
	norm, back := quantity.Normalise(text)
	s := &scan{text: norm, back: back}
	if utf8.RuneCountInString(norm) > MostCharacters {
		s.refuse(source.FormulaTooLong(MostCharacters), 0, len(norm))
		return s
	}
	s.tokens = make([]Token, 0, 2+len(norm)/5) // most formulas fit, few waste much
	s.blanked = make([]byte, 0, len(norm))
	s.compared = make([]bool, 1, 8)
	s.runes = runesOf(norm)
	for i := 0; i < len(norm); {
		i = s.part(i)
	}
	return s
}

// part reads what is at i and gives where the next part begins: the end of the text
// if nothing after it can be read.
func (s *scan) part(i int) int {
	switch c := s.text[i]; {
	case c == ' ' || c == '\n':
		s.blanked = append(s.blanked, ' ')
		return i + 1
	case isDigit(c), c == '-' && s.scaleLiteral(i), c == '.' && i+1 < len(s.text) && isDigit(s.text[i+1]) && !s.afterOperand():
		return s.number(i)
	case isLetter(c):
		return s.word(i)
	case c == '"' || c == '\'':
		return s.quoted(i)
	case c >= utf8.RuneSelf:
		r, size := utf8.DecodeRuneInString(s.text[i:])
		s.refuse(foreignSign(r), i, i+size)
		s.blanked = append(s.blanked, '+')
		return i + size
	}
	return s.sign(i)
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }
func isWord(c byte) bool   { return isLetter(c) || isDigit(c) }

// original turns an offset in the normalised text into one in the text as written.
func (s *scan) original(i int) int {
	if s.back == nil {
		return i
	}
	return s.back[min(max(i, 0), len(s.back)-1)]
}

// at turns a rune offset of the engine into a byte offset of the normalised text.
func (s *scan) at(rune int) int {
	if s.runes == nil {
		return rune
	}
	return s.runes[min(max(rune, 0), len(s.runes)-1)]
}

// tokenAt finds the token that starts at a byte offset.
func (s *scan) tokenAt(start int) (Token, int) {
	lo, hi := 0, len(s.tokens)
	for lo < hi {
		mid := (lo + hi) / 2
		if s.tokens[mid].Start < start {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(s.tokens) && s.tokens[lo].Start == start {
		return s.tokens[lo], lo
	}
	return Token{Start: start, End: start + 1}, -1
}

// runesOf lists the byte offset of each rune and of the end; nil for ASCII.
func runesOf(text string) []int {
	if len(text) == utf8.RuneCountInString(text) {
		return nil
	}
	runes := make([]int, 0, len(text)+1)
	for i := range text {
		runes = append(runes, i)
	}
	return append(runes, len(text))
}
