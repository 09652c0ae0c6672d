package search

import (
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Words that a mistyped one may mean are found by a half of it, since one wrong letter leaves the
// beginning or the end intact. A mistyped word of n letters, at least leastMistyped, is looked up
// by its first (n-1)/2 letters and by its last ones, all but the letter between the halves; find.js
// does the same. Every word is listed under the halves that it shares with a mistyped word of the
// same length, or of one letter more or less, in the part that the hash of the half chooses.
//
// Two or more wrong letters are mostly vowels and doubled letters: tempreture, devellopper. So a
// word is also listed under its bones; see bonesOf.
const leastMistyped = 5

// leastBones is the fewest letters that bones must have for a word to be looked up by them.
const leastBones = 4

// bonesOf is a word without the vowels after its first letter, without doubled letters, and
// with f for ph; find.js does the same.
func bonesOf(word string) string {
	var b strings.Builder
	last := rune(0)
	for i, r := range strings.ReplaceAll(word, "ph", "f") {
		if r == last || i > 0 && strings.ContainsRune("aeiouy", r) {
			continue
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

// nearWords is roughly how many words a part holds.
const nearWords = 1000

// near writes those parts and returns how many there are, a power of two.
func (w *writer) near(stems []*stem) int {
	words := 0
	for _, s := range stems {
		words += len(s.words)
	}
	parts := 1 << bits.Len(uint(4*words/nearWords))
	all := make([][]byte, parts)
	for _, s := range stems {
		for _, word := range s.words {
			for _, part := range nearOf(word, uint32(parts)) {
				all[part] = append(append(all[part], word...), ' ')
			}
		}
	}
	for i, b := range all {
		w.write("near-"+strconv.Itoa(i), []byte(strings.TrimSuffix(string(b), " ")))
	}
	return parts
}

// nearOf lists the parts that a word belongs to, each once.
func nearOf(word string, parts uint32) []uint32 {
	out := halvesOf(word, parts)
	if bones := bonesOf(word); utf8.RuneCountInString(bones) >= leastBones {
		if part := hashOf("="+bones) % parts; !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	return out
}

// halvesOf lists the parts that a word belongs to by its halves, each once.
func halvesOf(word string, parts uint32) (out []uint32) {
	if len(word) < leastMistyped-1 {
		return nil
	}
	letters := utf16.Encode([]rune(word))
	add := func(end byte, half []uint16) {
		h := (uint32(2166136261) ^ uint32(end)) * 16777619
		for _, u := range half {
			h = (h ^ uint32(u)) * 16777619
		}
		part := h % parts
		for _, had := range out {
			if had == part {
				return
			}
		}
		out = append(out, part)
	}
	for n := max(leastMistyped, len(letters)-1); n <= len(letters)+1; n++ {
		first := (n - 1) / 2
		last := n - 1 - first
		if first <= len(letters) && last <= len(letters) {
			add('<', letters[:first])
			add('>', letters[len(letters)-last:])
		}
	}
	return out
}
