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
	e := entries{language: languageOf(language), folds: map[string]string{}, stems: map[string]string{}, stop: map[string]bool{}, forms: map[string]map[string]bool{}, at: map[string][]int{}}
	e.Pages = make([]any, 0, len(pages))
	for _, word := range strings.Fields(e.language.asked) {
		e.stop[word] = true
	}
	for _, p := range pages {
		e.learn(p)
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
	folds    map[string]string          // word as written → as folded
	stems    map[string]string          // word as folded → stem
	stop     map[string]bool            // words as folded
	forms    map[string]map[string]bool // stem → words
	at       map[string][]int           // stem → passages
	count    int                        // of passages
}

// learn settles the stem of each word of a page. Words that fold to the same spelling
// get one stem, whichever page comes first.
func (e *entries) learn(p Page) {
	e.each(p, func(text string) { eachWord(text, e.word) })
}

func (e *entries) word(word string) {
	if _, ok := e.folds[word]; ok {
		return
	}
	folded := fold(word)
	e.folds[word] = folded
	if _, ok := e.stems[folded]; ok || e.stop[folded] {
		return
	}
	plain := lower(word)
	if e.language.stop(plain) {
		e.stop[folded] = true
		return
	}
	stem := fold(e.language.stem(plain, false))
	e.stems[folded] = stem
	if e.forms[stem] == nil {
		e.forms[stem] = map[string]bool{}
	}
	e.forms[stem][folded] = true
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
			stem, ok := e.stems[e.folds[word]]
			if at := e.at[stem]; ok && (len(at) == 0 || at[len(at)-1] != e.count) {
				e.at[stem] = append(at, e.count)
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
	e.Stems = make([]any, 0, len(e.at))
	for _, stem := range sorted(e.at) {
		at := e.at[stem]
		for i := len(at) - 1; i > 0; i-- {
			at[i] -= at[i-1]
		}
		e.Stems = append(e.Stems, []any{stem, strings.Join(sorted(e.forms[stem]), " "), at})
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
