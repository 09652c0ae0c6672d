package search

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// formed is a word with its stem.
type formed struct {
	word string
	stem *stem
}

// starts writes a merged list for each beginning whose words and lists would be too much to load.
// It returns those beginnings in order.
func (w *writer) starts(stems []*stem) (all []string) {
	var words []formed
	for _, s := range stems {
		for _, word := range s.words {
			words = append(words, formed{word, s})
		}
	}
	slices.SortFunc(words, func(a, b formed) int { return compare(a.word, b.word) })
	m := &merger{pages: w.index.pages, best: make([]float64, w.index.pages), places: make([][]byte, w.index.pages)}
	var below func(words []formed, start string)
	below = func(words []formed, start string) {
		for len(words) > 0 {
			_, size := utf8.DecodeRuneInString(words[0].word[len(start):])
			if size == 0 { // the word that is the beginning itself
				words = words[1:]
				continue
			}
			longer := words[0].word[:len(start)+size]
			n := 1
			for n < len(words) && strings.HasPrefix(words[n].word, longer) {
				n++
			}
			if w.heavy(words[:n]) {
				if name, ok := w.take("start-", longer); ok {
					w.write(name, m.merge(words[:n], longer))
					all = append(all, longer)
				}
				below(words[:n], longer)
			}
			words = words[n:]
		}
	}
	below(words, "")
	return all
}

// heavy reports whether words and their lists are too much to load. A single stem never is.
func (w *writer) heavy(words []formed) bool {
	bytes, stems := 0, 0
	var last *stem
	for _, f := range words {
		bytes += len(f.word)
		if f.stem != last { // a stem that comes back later counts again, which matters little
			bytes += len(f.stem.text) + len(f.stem.list)
			stems++
			last = f.stem
		}
	}
	return stems > 1 && bytes > w.index.bounds.beginning
}

// merger merges many lists into one.
type merger struct {
	pages  int
	best   []float64 // by page: the most that any word counts
	places [][]byte  // by page: the places of that word
}

// merge makes the list of all words with a beginning. How much a word counts depends on how rare it
// is and on how much of it is typed, as in find.js. The list begins with how much level 0 counts.
func (m *merger) merge(words []formed, start string) []byte {
	clear(m.best)
	certainty := map[*stem]float64{}
	for _, f := range words {
		s := 1.0
		if f.word != start {
			s = .3 + .5*float64(units(start))/float64(units(f.word))
		}
		certainty[f.stem] = max(certainty[f.stem], s)
	}
	top := 0.0
	var last *stem
	for _, f := range words {
		if f.stem == last {
			continue
		}
		last = f.stem
		counts := certainty[f.stem] * math.Log(1+float64(m.pages)/float64(f.stem.pages)) * fieldWeights[Title]
		eachPage(f.stem.list, func(page int, level byte, places []byte) {
			if c := counts * shares[level]; c > m.best[page] {
				m.best[page], m.places[page] = c, places
				top = max(top, c)
			}
		})
	}
	b := append(strconv.AppendFloat(nil, top, 'g', 4, 64), ' ')
	before := -1
	for page, c := range m.best {
		if c > 0 {
			b = append(appendStep(b, page-before, level(c/top)), m.places[page]...)
			before = page
		}
	}
	return b
}

// shares are how much each level counts, relative to level 0.
var shares = func() (out [levels]float64) {
	for i := range out {
		out[i] = math.Pow(levelStep, float64(i))
	}
	return
}()
