// Package search makes the search entries of a site: one script file that answers a
// reader's words without a server, and from a disk as well.
//
// Words are brought to their stems here, when the site is built. The script carries the
// vocabulary, each word with its stem, so that a browser needs no stemmer. The package
// does not know pages, audiences or formulas: it is handed plain texts, and whoever hands
// them over answers for what may be found.
package search

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"slices"
	"strings"
)

// Field is where on its page a passage stands. It decides how much a word found in it
// counts.
type Field int

// The fields, as find.js weighs them.
const (
	Title Field = iota
	Heading
	Summary
	Label
	Text
)

// Passage is a text of a page that can be found.
type Passage struct {
	Field Field
	// Anchor is the place on the page to lead to, "" for its top.
	Anchor string
	Text   string
}

// Page is a page that can be found. Its title is found without being among the passages.
type Page struct {
	Address  string // relative to the site's top, escaped as in a link
	Title    string
	Where    string // its section, as readers know it
	Passages []Passage
}

//go:embed find.js
var find string

// Name is the global that the script assigns: a function that takes what a reader typed
// and the most pages wanted, and gives the pages that have it; see find.js.
const Name = "findPages"

// Script writes the entries of all pages as a script. language is the BCP 47 tag of their
// language; words of a language without a stemmer are found as they are written. Equal
// pages make equal bytes.
func Script(pages []Page, language string) []byte {
	e := entries{language: languageOf(language), words: map[string]*stem{}, folds: map[string]*stem{}, stems: map[string]*stem{}, stop: map[string]bool{}}
	e.Pages = make([]any, 0, len(pages))
	for _, word := range strings.Fields(e.language.asked) {
		e.stop[word] = true
	}
	for _, p := range pages {
		e.add(p)
	}
	e.close()
	data, _ := json.Marshal(&e) // strings and integers alone
	var b bytes.Buffer
	b.WriteString("globalThis." + Name + " =\n")
	b.WriteString(strings.TrimSpace(find))
	b.WriteString("(")
	b.Write(data)
	b.WriteString(");\n")
	return b.Bytes()
}

// entries is the data of the script.
type entries struct {
	// Pages are [address, title, section, passages]; passages are [field, text, anchor],
	// the anchor left out where there is none. Passages are numbered through all pages,
	// each page's title first.
	Pages []any `json:"pages"`
	// Stems are [stem, words with that stem, passages]; of the passages the first is a
	// number and each other how far it is from the one before it.
	Stems []any `json:"stems"`
	// Skip are the words that no page is found by.
	Skip string `json:"skip"`

	language language
	words    map[string]*stem // by the word as written; nil for those that no page is found by
	folds    map[string]*stem // by the word as folded
	stems    map[string]*stem // by itself
	stop     map[string]bool  // words as folded
	count    int              // of passages
}

// stem is what several words have in common.
type stem struct {
	words []string // as folded
	at    []int    // the passages that have one of them
}

// stem settles the stem of a word when it is first met, and for good. Words that fold to
// the same spelling get one stem, whichever page comes first.
func (e *entries) stem(word string) *stem {
	if s, ok := e.words[word]; ok {
		return s
	}
	folded := fold(word)
	s := e.folds[folded]
	if s == nil && !e.stop[folded] {
		plain := lower(word)
		if e.language.stop(plain) {
			e.stop[folded] = true
		} else {
			text := fold(e.language.stem(plain, false))
			if s = e.stems[text]; s == nil {
				s = &stem{}
				e.stems[text] = s
			}
			s.words = append(s.words, folded)
			e.folds[folded] = s
		}
	}
	e.words[word] = s
	return s
}

func (e *entries) each(p Page, do func(text string)) {
	do(p.Title)
	for _, x := range p.Passages {
		do(x.Text)
	}
}

func (e *entries) add(p Page) {
	e.each(p, func(text string) {
		eachWord(text, func(word string) {
			if s := e.stem(word); s != nil && (len(s.at) == 0 || s.at[len(s.at)-1] != e.count) {
				s.at = append(s.at, e.count)
			}
		})
		e.count++
	})
	passages := make([]any, 0, len(p.Passages))
	for _, x := range p.Passages {
		if x.Anchor == "" {
			passages = append(passages, []any{x.Field, x.Text})
		} else {
			passages = append(passages, []any{x.Field, x.Text, x.Anchor})
		}
	}
	e.Pages = append(e.Pages, []any{p.Address, p.Title, p.Where, passages})
}

func (e *entries) close() {
	e.Stems = make([]any, 0, len(e.stems))
	for _, text := range sorted(e.stems) {
		s := e.stems[text]
		for i := len(s.at) - 1; i > 0; i-- {
			s.at[i] -= s.at[i-1]
		}
		slices.Sort(s.words)
		e.Stems = append(e.Stems, []any{text, strings.Join(s.words, " "), s.at})
	}
	e.Skip = strings.Join(sorted(e.stop), " ")
}

func sorted[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
