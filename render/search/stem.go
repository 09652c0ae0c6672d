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

// language is how words of a language are brought to their stems.
type language struct {
	stem func(word string, stopWordsToo bool) string
	stop func(word string) bool
}

var languages = map[string]language{
	"en": {english.Stem, english.IsStopWord},
	"es": {spanish.Stem, spanish.IsStopWord},
	"fr": {french.Stem, french.IsStopWord},
	"hu": {hungarian.Stem, hungarian.IsStopWord},
	"nb": {norwegian.Stem, norwegian.IsStopWord},
	"no": {norwegian.Stem, norwegian.IsStopWord},
	"ru": {russian.Stem, russian.IsStopWord},
	"sv": {swedish.Stem, swedish.IsStopWord},
}

// languageOf finds a language by its BCP 47 tag. The words of any other stay as they
// are written.
func languageOf(tag string) language {
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if l, ok := languages[primary]; ok {
		return l
	}
	return language{func(word string, _ bool) string { return word }, func(string) bool { return false }}
}

// eachWord calls do for each word of a text: a run of letters, marks and numbers, and of
// apostrophes between them. find.js has the same as a pattern and must keep it.
func eachWord(text string, do func(word string)) {
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
				do(text[start:i])
				start = -1
			}
		}
	}
	if start >= 0 {
		do(text[start:])
	}
}

func inWord(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return r != utf8.RuneError && unicode.In(r, unicode.L, unicode.M, unicode.N)
}

// fold takes from a word what a reader may type otherwise: capitals, accents, the curved
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

// lower is a word as stemmers want it.
func lower(word string) string {
	return strings.ToLower(norm.NFC.String(strings.ReplaceAll(word, "’", "'")))
}
