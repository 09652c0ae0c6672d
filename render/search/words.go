package search

import (
	"fmt"
	"slices"
	"strconv"
)

// writer writes the parts of an index whose pages are all added.
type writer struct {
	index *Index
	stamp string
	taken map[string]bool // names of parts in use
}

// take reserves a name for a part that begins with a text; ok is false if another part has it.
func (w *writer) take(kind, text string) (name string, ok bool) {
	name = kind + shortName(text)
	if w.taken[name] {
		return "", false
	}
	w.taken[name] = true
	return name, true
}

func (w *writer) write(name string, content []byte) {
	b := make([]byte, 0, len(content)+80)
	b = fmt.Appendf(b, "%s.take(%q,%q,", Name, w.stamp, name)
	b = appendText(b, string(content))
	w.index.put(Folder+name+".js", append(b, ");\n"...))
}

// A part of the vocabulary is between these sizes, in bytes, and ends where the hash of a stem says
// so, so that a word that comes or goes changes few parts.
const (
	leastWords = 3 << 10
	mostWords  = 8 << 10
)

// run is a part of the vocabulary: from its first stem up to the first of the next part.
type run struct {
	first   string
	entries []byte
}

// vocabulary writes the parts of the vocabulary, and the lists that have a part of their own. It
// returns the first stem of each part, by which the part is named. A word stands with its stem; if
// by its own spelling it would be looked up in another part, that part says which stem it has.
func (w *writer) vocabulary(stems []*stem) (firsts []string) {
	if len(stems) == 0 {
		w.write("words-"+shortName(""), nil)
		return nil
	}
	var runs []run
	home := make([]int, len(stems))
	for i, s := range stems {
		size := 0
		if i > 0 {
			size = len(runs[len(runs)-1].entries)
		}
		if i == 0 || size >= mostWords || size >= leastWords && hashOf(s.text)>>8&7 == 0 {
			if _, ok := w.take("words-", s.text); ok {
				runs = append(runs, run{first: s.text})
				firsts = append(firsts, s.text)
			}
		}
		outside := ""
		if len(s.list) > w.index.bounds.inline {
			if outside, _ = w.take("list-", s.text); outside != "" {
				w.write(outside, s.list)
			}
		}
		home[i] = len(runs) - 1
		r := &runs[home[i]]
		r.entries = s.append(r.entries, outside != "")
	}
	for i, s := range stems {
		for _, word := range s.words {
			at, exact := slices.BinarySearchFunc(firsts, word, compare)
			if !exact {
				at = max(at-1, 0)
			}
			if at != home[i] {
				r := &runs[at]
				r.entries = append(append(append(append(append(r.entries, word...), ",>"...), s.text...), ','), ';')
			}
		}
	}
	for _, r := range runs {
		w.write("words-"+shortName(r.first), r.entries)
	}
	return firsts
}

// append writes an entry of the vocabulary: the stem, its words, and its list, or if that is a part
// of its own, a dot and the number of its pages. A word is written as a sign that tells how many
// characters it shares with the stem, and the rest.
func (s *stem) append(b []byte, outside bool) []byte {
	b = append(append(b, s.text...), ',')
	for i, word := range s.words {
		if i > 0 {
			b = append(b, ' ')
		}
		characters, bytes := shared(word, s.text)
		b = append(append(b, alphabet[characters]), word[bytes:]...)
	}
	b = append(b, ',')
	if outside {
		b = strconv.AppendInt(append(b, '.'), int64(s.pages), 10)
	} else {
		b = append(b, s.list...)
	}
	return append(b, ';')
}
