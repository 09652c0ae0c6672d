package search

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/kljensen/snowball/english"
	"github.com/kljensen/snowball/french"
	"github.com/kljensen/snowball/hungarian"
	"github.com/kljensen/snowball/norwegian"
	"github.com/kljensen/snowball/russian"
	"github.com/kljensen/snowball/spanish"
	"github.com/kljensen/snowball/swedish"
	"golang.org/x/text/unicode/norm"
)

// language says how words of a language are stemmed.
type language struct {
	stem func(word string, stopWordsToo bool) string
	stop func(word string) bool
	// asked are words that readers use to ask. They are no reason to find nothing where pages lack
	// them.
	asked string
}

var languages = map[string]language{
	"en": {english.Stem, english.IsStopWord, "a an are can could do does how i is it me much my of should the to we what when where which who why will would you your"},
	"es": {stem: spanish.Stem, stop: spanish.IsStopWord},
	"fr": {stem: french.Stem, stop: french.IsStopWord},
	"hu": {stem: hungarian.Stem, stop: hungarian.IsStopWord},
	"nb": {stem: norwegian.Stem, stop: norwegian.IsStopWord},
	"no": {stem: norwegian.Stem, stop: norwegian.IsStopWord},
	"ru": {stem: russian.Stem, stop: russian.IsStopWord},
	"sv": {stem: swedish.Stem, stop: swedish.IsStopWord},
}

// languageOf finds a language by its BCP 47 tag. Words of an unknown one are not stemmed.
func languageOf(tag string) language {
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if l, ok := languages[primary]; ok {
		return l
	}
	return language{stem: func(word string, _ bool) string { return word }, stop: func(string) bool { return false }}
}

// eachWord calls do for each word of a text: a run of letters, marks and numbers, and of
// apostrophes between them. The pattern in find.js must match the same.
func eachWord(text string, do func(word string)) {
	eachWordAt(text, func(start, end int) { do(text[start:end]) })
}

// eachWordAt is eachWord with byte offsets.
func eachWordAt(text string, do func(start, end int)) {
	start := -1
	for i, r := range text {
		switch {
		case inWord(r):
			if start < 0 {
				start = i
			}
		case start >= 0 && (r == '\'' || r == '’'):
			if next, _ := utf8.DecodeRuneInString(text[i+utf8.RuneLen(r):]); inWord(next) {
				continue
			}
			fallthrough
		default:
			if start >= 0 {
				do(start, i)
				start = -1
			}
		}
	}
	if start >= 0 {
		do(start, len(text))
	}
}

func inWord(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return r != utf8.RuneError && unicode.In(r, unicode.L, unicode.M, unicode.N)
}

// fold removes from a word what a reader may type differently: capitals, accents, the curved
// apostrophe. find.js folds in the same way.
func fold(word string) string {
	s := strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.M, r):
			return -1
		case r == '’':
			return '\''
		}
		return r
	}, norm.NFD.String(word))
	return strings.ReplaceAll(strings.ToLower(s), "ς", "σ")
}

// lower is a word in the form that stemmers expect.
func lower(word string) string {
	return strings.ToLower(norm.NFC.String(strings.ReplaceAll(word, "’", "'")))
}
