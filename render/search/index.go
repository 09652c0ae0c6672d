package search

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strings"
)

// Index gathers the pages of a site. It is used by one goroutine at a time.
type Index struct {
	put      func(name string, b []byte)
	code     string // of the first file
	language language
	words    map[string]*stem // by word as written
	folds    map[string]*stem // by word as folded
	stems    map[string]*stem // by its text, those that pages are found by
	stop     map[string]bool  // words that no page is found by, folded
	groups   []*group         // words that mean one thing

	pages    int      // added so far
	uses     []useRun // of pages that are not for reading
	passages int      // added so far, of all pages
	touched  []*stem
	entry    parsed    // of the page being added
	stemsOf  []*stem   // of its words
	order    [2]uint64 // a hash over the addresses in their order

	chunk      []byte // the pages of the current part
	chunkPages int
	chunkFirst int
	chunks     []byte   // how many pages each full part has
	held       [][]byte // full parts, as long as everything may fit in one file
	heldBytes  int
	parted     bool // the site is more than one file
	bounds     bounds
}

// bounds are sizes in bytes at which data becomes a part of its own.
type bounds struct {
	whole     int // the data of a site of one file
	inline    int // a list that stands beside its stem
	beginning int // words with a common beginning and their lists, before they are merged into one list
}

// usual are the bounds of published sites; tests set others.
var usual = bounds{whole: 256 << 10, inline: 1 << 10, beginning: 32 << 10}

// NewIndex begins the search of a site. language is the BCP 47 tag of its pages; words of a
// language without a stemmer are found as they are written. alike are groups of words that mean one
// thing; see alike.go. Add and Close call put with each file, named relative to the site's top; put
// may keep the bytes, and never gets a name twice. Equal pages make equal files, and editing a page
// changes the part that it is in and those of the words that came or went.
func NewIndex(language string, alike [][]string, put func(name string, b []byte)) *Index {
	x := &Index{put: put, code: Code(), bounds: usual, language: languageOf(language), words: map[string]*stem{}, folds: map[string]*stem{}, stems: map[string]*stem{}, stop: map[string]bool{}}
	for _, word := range strings.Fields(x.language.asked) {
		x.stop[word] = true
	}
	x.addGroups(alike)
	return x
}

// UseCode sets what the first file has in place of Code: the same expression, minified.
func (x *Index) UseCode(code string) { x.code = code }

// stem is what several words have in common.
type stem struct {
	text   string
	passed bool     // no page is found by it
	begins []member // members of groups that begin with it
	words  []string // folded
	list   []byte   // its pages; see list.go
	pages  int      // how many they are
	last   int      // the last of them, plus one

	// What the page being added has of it.
	passage int // the number of the last passage with it, from 1
	best    [mostPlaces]place
	places  int
}

// place is a passage that has a word.
type place struct {
	level byte // how much a word counts there, 0 the most
	mark  byte // tells it from most other passages of the page
}

// Add takes the next page of the site. It keeps nothing of the page's texts. A page whose Entry
// cannot be read is found by its title alone; see Entry.Check.
func (x *Index) Add(p Page) {
	if p.Entry == "" {
		p.Entry = Ready(p.Title, p.Passages)
	}
	x.use(p.Use)
	e := &x.entry
	if e.read(p.Entry) != nil {
		_ = e.read(Ready(p.Title, nil))
	}
	x.stemsOf = x.stemsOf[:0]
	for _, word := range e.words {
		x.stemsOf = append(x.stemsOf, x.stem(word))
	}
	for _, passage := range e.places {
		x.passage(passage)
	}
	for _, s := range x.touched {
		s.settle(x.pages)
	}
	x.touched = x.touched[:0]
	x.count(p.Address)
	x.text(p, e)
	x.pages++
}

// useRun is a run of pages with the same use.
type useRun struct {
	first, pages int
	use          Use
}

// use notes what the page being added is for.
func (x *Index) use(u Use) {
	if n := len(x.uses) - 1; u == Read {
		return
	} else if n >= 0 && x.uses[n].use == u && x.uses[n].first+x.uses[n].pages == x.pages {
		x.uses[n].pages++
		return
	}
	x.uses = append(x.uses, useRun{x.pages, 1, u})
}

// passage indexes the words of a passage.
func (x *Index) passage(p parsedPassage) {
	x.passages++
	for at, number := range p.words {
		s := x.stemsOf[number]
		if len(s.begins) > 0 {
			x.alikeAt(p, at)
		}
		if !s.passed {
			x.note(s, p.place)
		}
	}
}

// note notes that the current passage has a stem.
func (x *Index) note(s *stem, p place) {
	if s.passage == x.passages {
		return
	}
	s.passage = x.passages
	if s.places == 0 {
		x.touched = append(x.touched, s)
	}
	s.take(p)
}

// take keeps the passages in which the stem counts most, the best first.
func (s *stem) take(p place) {
	at := s.places
	for at > 0 && s.best[at-1].level > p.level {
		at--
	}
	if at == mostPlaces {
		return
	}
	if s.places < mostPlaces {
		s.places++
	}
	copy(s.best[at+1:s.places], s.best[at:])
	s.best[at] = p
}

// stem chooses the stem of a word when it first appears, for good. Words that fold to the same
// spelling get the same stem, whichever page comes first.
func (x *Index) stem(word string) *stem {
	if s, ok := x.words[word]; ok {
		return s
	}
	word = strings.Clone(word) // or it would keep the whole text in memory
	folded := fold(word)
	s := x.folds[folded]
	if s == nil {
		s = x.newWord(word, folded)
		x.folds[folded] = s
	}
	x.words[word] = s
	return s
}

// newWord chooses the stem of a word that is new in every spelling.
func (x *Index) newWord(word, folded string) *stem {
	plain := lower(word)
	if folded == "" || x.stop[folded] || !isRatio(word) && x.language.stop(plain) {
		if folded != "" {
			x.stop[folded] = true
		}
		return &stem{text: folded, passed: true}
	}
	text := folded
	if !isRatio(word) {
		if stemmed := fold(x.language.stem(plain, false)); stemmed != "" {
			text = stemmed
		}
	}
	s := x.stems[text]
	if s == nil {
		s = &stem{text: text}
		x.stems[text] = s
	}
	if !isRatio(word) {
		s.words = append(s.words, folded)
	}
	return s
}

// sortedStems sorts all stems, and the words of each, in the order in which a script compares
// texts.
func (x *Index) sortedStems() []*stem {
	all := make([]*stem, 0, len(x.stems))
	for _, s := range x.stems {
		slices.SortFunc(s.words, compare)
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b *stem) int { return compare(a.text, b.text) })
	return all
}

// count adds an address to the stamp.
func (x *Index) count(address string) {
	h := fnv.New128a()
	fmt.Fprintf(h, "%x %x %s", x.order[0], x.order[1], address)
	var sum [16]byte
	h.Sum(sum[:0])
	for i := range x.order {
		x.order[i] = 0
		for _, b := range sum[i*8 : i*8+8] {
			x.order[i] = x.order[i]<<8 | uint64(b)
		}
	}
}

// stamp tells one numbering of pages from another. Parts carry it, so that parts of two versions of
// a site are not mixed if they number the pages differently.
func (x *Index) stamp() string { return fmt.Sprintf("%x", x.order[0]) }

func sorted[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, compare)
	return keys
}

// fieldWeights are how much a word counts in each field; find.js has the same ones and says where
// they come from.
var fieldWeights = [...]float64{Title: 9, Heading: 5, Summary: 4, Label: 2.5, Text: 1}

// How much a word counts is kept as a level, each worth levelStep times the one before.
const (
	levels    = 16
	levelStep = .787
)

// levelOf is the level of a weight, relative to the greatest there is.
func levelOf(weight float64) byte {
	return level(weight / fieldWeights[Title])
}

// level is the level of a share, where 1 is the most that anything counts.
func level(share float64) byte {
	return byte(max(0, min(levels-1, math.Round(math.Log(share)/math.Log(levelStep)))))
}
