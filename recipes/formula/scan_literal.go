package formula

import (
	"strings"
	"unicode/utf8"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// literal adds a literal's token, and hides it from the engine.
func (s *scan) literal(t Token) {
	s.tokens = append(s.tokens, t)
	for range utf8.RuneCountInString(s.text[t.Start:t.End]) {
		s.blanked = append(s.blanked, '_')
	}
}

// number reads a number or a quantity.
func (s *scan) number(i int) int {
	text := s.text
	if s.questions == 0 { // after ? a colon may separate two branches
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
	s.literal(Token{Kind: Literal, Start: i, End: end, Value: &v})
	if end < len(text) && isWord(text[end]) && t == nil {
		word := text[end:]
		if j := strings.IndexAny(word, " \n()+-*/,"); j > 0 {
			word = word[:j]
		}
		s.refuse(source.OperatorMissing(word), end, end+len(word))
		return len(text)
	}
	return end
}

// quoted reads a text in quotes.
func (s *scan) quoted(i int) int {
	text := s.text
	if n := len(s.tokens); n > 0 && s.tokens[n-1].End == i && s.tokens[n-1].Kind <= Keyword {
		if !strings.Contains(text[i+1:], text[i:i+1]) {
			s.refuse(source.NotOpened(text[i:i+1]), i, i+1)
			return len(text)
		}
		// the engine would see one name in the two
		s.refuse(source.OperatorMissing("the quote"), i, i+1)
		return len(text)
	}
	end := i + 1
	for end < len(text) && text[end] != text[i] {
		end++
	}
	if end == len(text) && strings.TrimSpace(text[i+1:]) == "" && i > 0 {
		s.refuse(source.NotOpened(text[i:i+1]), i, i+1)
		return end
	}
	if end == len(text) {
		s.refuse(source.QuoteOpen(), i, i+1)
		return end
	}
	s.literal(Token{Kind: Quoted, Start: i, End: end + 1, Text: text[i+1 : end]})
	end++
	if end < len(text) && isWord(text[end]) {
		s.refuse(source.OperatorMissing(text[end:end+1]), end, end+1)
		return len(text)
	}
	return end
}

// thousands rewords the complaint about the leading zeros of 000 in 1,000: they directly follow a
// comma that directly follows a number.
func (s *scan) thousands(t *quantity.Trouble) {
	n := len(s.tokens)
	if t.Code != "leading-zeros" || n < 2 || s.tokens[n-1].End != t.Start || s.text[t.Start-1] != ',' {
		return
	}
	if before := s.tokens[n-2]; before.Kind == Literal && before.End == t.Start-1 {
		t.Problem, t.Start = quantity.SeparatorProblem(s.text[before.Start:t.End]), before.Start
	}
}

// scaleLiteral reports whether the minus at i belongs to a temperature on a scale: no
// operand is before it, and what follows is a number of °C or °F.
func (s *scan) scaleLiteral(i int) bool {
	if i+1 >= len(s.text) || !isDigit(s.text[i+1]) || s.afterOperand() {
		return false
	}
	v, _, t := quantity.ReadInFormula(s.text, i+1)
	return t == nil && v.Kind == quantity.Scale
}

// afterOperand reports whether the last token can be the left side of an operator.
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
