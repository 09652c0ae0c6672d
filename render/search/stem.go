package search

import (
	"regexp"
	"strings"
	"unicode"

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

// words is what counts as a word. find.js has the same pattern and must keep it.
var words = regexp.MustCompile(`[\p{L}\p{M}\p{N}]+(?:['’][\p{L}\p{M}\p{N}]+)*`)

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
