package formula

import (
	"strings"

	"labsite/recipes/source"
)

// refusedWords are words of the engine that pages may not use, with what to do instead.
var refusedWords = map[string]string{
	"in":         "Compare with == instead, joined by or.",
	"matches":    "Compare with == a choice instead.",
	"contains":   "Compare with == a choice instead.",
	"startsWith": "Compare with == a choice instead.",
	"endsWith":   "Compare with == a choice instead.",
	"nil":        "Every value has a number here; use a limit to refuse.",
}

// loops are functions of the engine that go through a list by a rule. Its parser reads their
// arguments in its own way, and would complain about those.
var loops = map[string]bool{
	"all": true, "none": true, "any": true, "one": true, "filter": true, "map": true, "reduce": true, "groupBy": true, "sortBy": true,
	"find": true, "findIndex": true, "findLast": true, "findLastIndex": true,
}

// word reads a name, a function's name or a word of the language.
func (s *scan) word(i int) int {
	text := s.text
	end := i + 1
	for end < len(text) && isWord(text[end]) {
		end++
	}
	word := text[i:end]
	kind := Name
	switch {
	case words[word]:
		kind = Keyword
		switch word {
		case "let":
			s.lets++
		case "and", "or":
			s.endComparison()
		}
	case refusedWords[word] != "" && !(word == "in" && s.afterDot()):
		s.refuse(source.NotAllowed("the word "+word, refusedWords[word]), i, end)
		kind = Keyword
	case nextIs(text[end:], '('):
		kind = Function
		if loops[word] {
			s.refuse(source.NoSuchFunction(word), i, end)
		}
	case word[0] == '_':
		s.refuse(source.NameUnderscore(word), i, end)
	}
	s.tokens = append(s.tokens, Token{Kind: kind, Start: i, End: end})
	s.blanked = append(s.blanked, word...)
	if kind == Function && byName[word] != nil {
		// capitalised, since the engine has its own way with the arguments of its own sum and count
		s.blanked[len(s.blanked)-len(word)] -= 'a' - 'A'
	}
	return end
}

func (s *scan) afterDot() bool {
	return len(s.tokens) > 0 && s.text[s.tokens[len(s.tokens)-1].Start] == '.'
}

func nextIs(text string, c byte) bool {
	text = strings.TrimLeft(text, " \n")
	return text != "" && text[0] == c
}
