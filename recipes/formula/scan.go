// Package formula is the language of a page's formulas: it reads them, infers the
// kind of every part before anything runs, and works them out on plain floats in
// base units. It is the only home of the expression engine, whose parser it uses.
//
// It knows no pages and no YAML: names are resolved by a Scope that the caller gives.
// The tree that Infer returns is also what the browser's script is written from.
package formula

import (
	"strings"
	"unicode/utf8"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// TokenKind sorts the parts of a formula, for reading and for colouring.
type TokenKind uint8

const (
	// Literal is a number or a quantity.
	Literal TokenKind = iota
	// Quoted is a text in quotes.
	Quoted
	// Name is a name of the page, Function one before a bracket, Keyword a word of the
	// language.
	Name
	// Function is a name before an opening bracket.
	Function
	// Keyword is a word of the language.
	Keyword
	// Operator is a sign, Bracket an opening or closing one.
	Operator
	// Bracket opens or closes.
	Bracket
)

// Token is a part of a formula; Start and End are bytes into the normalised text.
type Token struct {
	Kind       TokenKind
	Start, End int
	// Value is set for a Literal, Text for a Quoted.
	Value *quantity.Value
	Text  string
}

// Bounds of a formula, see the page format.
const (
	MostCharacters = 2000
	MostNodes      = 200
	MostLevels     = 64
)

type scan struct {
	text    string // normalised
	back    []int  // offsets in the text as written; nil where nothing moved
	tokens  []Token
	blanked []byte // the text with each literal overwritten by underscores, one byte a rune
	runes   []int  // byte offset of each rune; nil where the text is ASCII
	list    []problemAt
}

type problemAt struct {
	source.Problem
	start, end int
}

func (s *scan) refuse(p source.Problem, start, end int) {
	s.list = append(s.list, problemAt{p, start, end})
}

// word that the language has, and words of the engine that pages do not get.
var keywords = map[string]bool{"and": true, "or": true, "not": true, "if": true, "else": true, "let": true, "true": true, "false": true}

var refusedWords = map[string]string{
	"in":         "Compare with == instead, joined by or.",
	"matches":    "Compare with == a choice instead.",
	"contains":   "Compare with == a choice instead.",
	"startsWith": "Compare with == a choice instead.",
	"endsWith":   "Compare with == a choice instead.",
	"nil":        "Every value has a number here; use a limit to refuse.",
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
	s.read()
	return s
}

// thousands words the zeros of 1,000 as what they are: behind a comma that no blank parts
// from a number before it.
func (s *scan) thousands(t *quantity.Trouble) {
	n := len(s.tokens)
	if t.Code != "leading-zeros" || n < 2 || s.tokens[n-1].End != t.Start || s.text[t.Start-1] != ',' {
		return
	}
	if before := s.tokens[n-2]; before.Kind == Literal && before.End == t.Start-1 {
		t.Problem, t.Start = quantity.Parted(s.text[before.Start:t.End]), before.Start
	}
}

// copyBlank appends n underscores for the runes of text[start:end].
func (s *scan) literal(start, end int) {
	for range utf8.RuneCountInString(s.text[start:end]) {
		s.blanked = append(s.blanked, '_')
	}
}

func (s *scan) read() {
	text := s.text
	levels := 0
	questions := 0
	lets := 0
	compared := make([]bool, 1, 8) // by level: a comparison stands here, and nothing parted it yet
	ascii := true
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 {
			ascii = false
			break
		}
	}
	if !ascii {
		s.runes = make([]int, 0, len(text)+1)
		for i := range text {
			s.runes = append(s.runes, i)
		}
		s.runes = append(s.runes, len(text))
	}
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case c == ' ' || c == '\n':
			s.blanked = append(s.blanked, ' ')
			i++
			continue
		case c >= '0' && c <= '9', c == '-' && s.scaleLiteral(i), c == '.' && i+1 < len(text) && isDigit(text[i+1]) && !s.afterOperand():
			if questions == 0 {
				if end := clock(text[i:]); end > 0 {
					if _, t := quantity.Parse(text[i : i+end]); t != nil {
						s.refuse(t.Problem, i, i+end)
					}
				}
			}
			v, end, t := quantity.ReadInFormula(text, i)
			if t != nil {
				s.thousands(t)
				s.refuse(t.Problem, t.Start, t.End)
				end = max(end, t.End, i+1)
				for end < len(text) && isWord(text[end]) {
					end++
				}
			}
			end = min(end, len(text))
			s.tokens = append(s.tokens, Token{Kind: Literal, Start: i, End: end, Value: &v})
			s.literal(i, end)
			if end < len(text) && isWord(text[end]) && t == nil {
				word := text[end:]
				if j := strings.IndexAny(word, " \n()+-*/,"); j > 0 {
					word = word[:j]
				}
				s.refuse(source.OperatorMissing(word), end, end+len(word))
				return
			}
			i = end
			continue
		case isLetter(c):
			end := i + 1
			for end < len(text) && isWord(text[end]) {
				end++
			}
			word := text[i:end]
			kind := Name
			switch {
			case keywords[word]:
				kind = Keyword
				if word == "let" {
					lets++
				}
				if word == "and" || word == "or" {
					compared[len(compared)-1] = false
				}
			case refusedWords[word] != "" && !(word == "in" && s.afterDot()):
				s.refuse(source.NotAllowed("the word "+word, refusedWords[word]), i, end)
				kind = Keyword
			case nextIs(text[end:], '('):
				kind = Function
			case c == '_':
				s.refuse(source.NameUnderscore(word), i, end)
			}
			s.tokens = append(s.tokens, Token{Kind: kind, Start: i, End: end})
			s.blanked = append(s.blanked, word...)
			i = end
			continue
		case c == '"' || c == '\'':
			if n := len(s.tokens); n > 0 && s.tokens[n-1].End == i && s.tokens[n-1].Kind <= Keyword {
				// the engine would see one name in the two
				s.refuse(source.OperatorMissing("the quote"), i, i+1)
				return
			}
			end := i + 1
			for end < len(text) && text[end] != c {
				end++
			}
			if end == len(text) {
				s.refuse(source.QuoteOpen(), i, i+1)
				return
			}
			s.tokens = append(s.tokens, Token{Kind: Quoted, Start: i, End: end + 1, Text: text[i+1 : end]})
			s.literal(i, end+1)
			i = end + 1
			if i < len(text) && isWord(text[i]) {
				s.refuse(source.OperatorMissing(text[i:i+1]), i, i+1)
				return
			}
			continue
		case c >= 0x80:
			r, size := utf8.DecodeRuneInString(text[i:])
			s.refuse(foreignSign(r), i, i+size)
			s.blanked = append(s.blanked, '+')
			i += size
			continue
		}
		size := 1
		two := ""
		if i+1 < len(text) {
			two = text[i : i+2]
		}
		switch {
		case two == "**":
			size = 2
		case two == "==" || two == "!=" || two == "<=" || two == ">=" || c == '<' || c == '>':
			if strings.HasSuffix(two, "=") {
				size = 2
			}
			if compared[len(compared)-1] {
				s.refuse(source.NotAllowed("a chained comparison", "Write a < b and b < c."), i, i+size)
			}
			compared[len(compared)-1] = true
		case two == "&&":
			s.refuse(source.NotAllowed("&&", "Write and."), i, i+2)
			size = 2
			compared[len(compared)-1] = false
		case two == "||":
			s.refuse(source.NotAllowed("||", "Write or."), i, i+2)
			size = 2
			compared[len(compared)-1] = false
		case two == "::":
			s.refuse(source.NotAllowed("::", "Call the function by its name alone."), i, i+2)
			size = 2
		case two == "//" || two == "/*":
			s.refuse(source.NotAllowed("a comment", "Explain the formula in the text of the page."), i, i+2)
			return
		case two == "..":
			s.refuse(source.NotAllowed("a range", "Compare with <= on both sides instead."), i, i+2)
			size = 2
		case two == "?." || two == "??":
			s.refuse(source.NotAllowed(two, "Every name has a value here; leave it out."), i, i+2)
			size = 2
		case two == "=>" || two == "->":
			s.refuse(source.NotAllowed(two, "Write one formula; there are no functions inside it."), i, i+2)
			size = 2
		case c == ';':
			if lets--; lets < 0 {
				s.refuse(source.NotAllowed("a second result after ;", "; stands only after let. Make two figures."), i, i+1)
			}
			compared[len(compared)-1] = false
		case c == ',' || c == ':':
			compared[len(compared)-1] = false
		case c == '?':
			questions++
			compared[len(compared)-1] = false
			j := i + 1
			for j < len(text) && text[j] == ' ' {
				j++
			}
			if j < len(text) && text[j] == ':' {
				s.refuse(source.NotAllowed("?: without a middle", "Write condition ? value : other value."), i, j+1)
			}
		case c == '|':
			s.refuse(source.NotAllowed("a pipe", "Write the call around its value: f(x)."), i, i+1)
		case c == '!':
			s.refuse(source.NotAllowed("!", "Write not."), i, i+1)
		case c == '&':
			s.refuse(source.NotAllowed("&", "Write and."), i, i+1)
		case c == '%':
			s.refuse(source.PercentSign(), i, i+1)
		case c == '#' || c == '@' || c == '$' || c == '\\' || c == '~' || c == '`':
			s.refuse(source.NotAllowed(string(c), "A formula has names, quantities, operators and calls."), i, i+1)
		case c == '[' || c == ']':
			s.refuse(source.NotAllowed("a list or an index", "Use lookup over a data file, or a ? b : c."), i, i+1)
		}
		kind := Operator
		switch c {
		case '(', '{':
			kind = Bracket
			if levels++; levels > MostLevels {
				s.refuse(source.FormulaTooDeep(MostLevels), i, i+1)
				return
			}
			if c == '{' {
				compared[len(compared)-1] = false
			}
			compared = append(compared, false)
		case ')', '}':
			kind = Bracket
			levels--
			if len(compared) > 1 {
				compared = compared[:len(compared)-1]
			}
		}
		s.tokens = append(s.tokens, Token{Kind: kind, Start: i, End: i + size})
		s.blanked = append(s.blanked, text[i:i+size]...)
		i += size
	}
}

// scaleLiteral tells whether the minus at i belongs to a temperature on a scale: no
// operand stands before it, and what follows is a number of °C or °F.
func (s *scan) scaleLiteral(i int) bool {
	if i+1 >= len(s.text) || !isDigit(s.text[i+1]) || s.afterOperand() {
		return false
	}
	v, _, t := quantity.ReadInFormula(s.text, i+1)
	return t == nil && v.Kind == quantity.Scale
}

// afterOperand tells whether the last token can be the left side of an operator.
func (s *scan) afterOperand() bool {
	if len(s.tokens) == 0 {
		return false
	}
	t := s.tokens[len(s.tokens)-1]
	switch t.Kind {
	case Literal, Quoted, Name, Function:
		return true
	case Keyword:
		w := s.text[t.Start:t.End]
		return w == "true" || w == "false"
	case Bracket:
		return s.text[t.Start] == ')' || s.text[t.Start] == '}'
	}
	return false
}

func (s *scan) afterDot() bool {
	return len(s.tokens) > 0 && s.text[s.tokens[len(s.tokens)-1].Start] == '.'
}

// clock finds 10:30 and 1:100 at the start of a text.
func clock(text string) int {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	if n == 0 || n+1 >= len(text) || text[n] != ':' || !isDigit(text[n+1]) {
		return 0
	}
	for n++; n < len(text) && isDigit(text[n]); {
		n++
	}
	return n
}

func foreignSign(r rune) source.Problem {
	switch r {
	case '×', '·', '∙', '⋅':
		return source.ForeignSign(r, "*")
	case '÷', '∕', '⁄':
		return source.ForeignSign(r, "/")
	case '≤':
		return source.ForeignSign(r, "<=")
	case '≥':
		return source.ForeignSign(r, ">=")
	case '≠':
		return source.ForeignSign(r, "!=")
	case '–', '—':
		return source.ForeignSign(r, "-")
	case '“', '”', '„', '‘', '’':
		return source.ForeignSign(r, `"`)
	}
	return source.ForeignSign(r, "")
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }
func isWord(c byte) bool   { return isLetter(c) || isDigit(c) }

func nextIs(text string, c byte) bool {
	text = strings.TrimLeft(text, " \n")
	return text != "" && text[0] == c
}

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
