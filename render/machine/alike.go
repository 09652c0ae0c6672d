package machine

import (
	_ "embed"
	"slices"
	"strings"
	"unicode"
)

// alikeText lists words that mean one thing, a group a line.
//
//go:embed alike.txt
var alikeText string

// alike are its groups, each word between blanks, in lower case.
var alike = readAlike(alikeText)

func readAlike(text string) (groups [][]string) {
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		var group []string
		for word := range strings.SplitSeq(line, ",") {
			group = append(group, wordsAlone(word))
		}
		groups = append(groups, group)
	}
	return groups
}

// wordsAlone is a text as its words alone, in lower case, with a blank before and after each.
func wordsAlone(text string) string {
	var b strings.Builder
	b.Grow(len(text) + 2)
	b.WriteByte(' ')
	inWord := false
	for _, r := range text {
		if r = unicode.ToLower(r); unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
			inWord = true
		} else if inWord {
			b.WriteByte(' ')
			inWord = false
		}
	}
	if inWord {
		b.WriteByte(' ')
	}
	return b.String()
}

// inOtherWords are the words that a page does not say for what it speaks of, in the order of
// the list, each once.
func inOtherWords(texts []string) (out []string) {
	all := wordsAlone(strings.Join(texts, " . "))
	for _, group := range alike {
		if !slices.ContainsFunc(group, func(w string) bool { return strings.Contains(all, w) }) {
			continue
		}
		for _, w := range group {
			if word := strings.TrimSpace(w); !strings.Contains(all, w) && !slices.Contains(out, word) {
				out = append(out, word)
			}
		}
	}
	return out
}
