package work

import (
	"hash/fnv"
	"strings"
	"unicode"
	"unicode/utf8"

	"labsite/recipes/hazard"
)

// WordSet holds the words of a page's texts as a bit set of their hashes (a Bloom filter with
// one hash): it may claim a word that is not there, but never misses one. That is enough to
// rule out that a text names a substance.
type WordSet struct{ Bits []uint64 }

const wordBits = 2048

// add adds the words of a text.
func (w *WordSet) add(text string) {
	if w.Bits == nil {
		w.Bits = make([]uint64, wordBits/64)
	}
	eachPlainWord(text, func(h uint32) bool {
		w.Bits[h/64] |= 1 << (h % 64)
		return true
	})
}

// mayName is false if none of the texts can contain this name.
func (w *WordSet) mayName(name string) bool {
	if w.Bits == nil {
		return false
	}
	may := true
	eachPlainWord(name, func(h uint32) bool {
		may = w.Bits[h/64]&(1<<(h%64)) != 0
		return may
	})
	return may
}

// eachPlainWord splits a text into folded words, as the hazard list does when it looks for
// names, and calls do with the hash of each until do returns false.
func eachPlainWord(text string, do func(h uint32) bool) {
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if !do(foldedHash(word) % wordBits) {
			return
		}
	}
}

// foldedHash is the FNV-1a hash of a word as the hazard list folds it. For most words folding only
// means small letters, which takes no memory.
func foldedHash(word string) uint32 {
	h, before := uint32(2166136261), byte(0)
	for i := range len(word) {
		c := word[i]
		if 'A' <= c && c <= 'Z' {
			c += 'a' - 'A'
		}
		if c >= utf8.RuneSelf || before == 'p' && c == 'h' || before == 'u' && c == 'm' {
			return slowHash(word) // it may have a spelling that Fold unifies, such as sulph or aluminum
		}
		h, before = (h^uint32(c))*16777619, c
	}
	return h
}

func slowHash(word string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(hazard.Fold(word)))
	return h.Sum32()
}
