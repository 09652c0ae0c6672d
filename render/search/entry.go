package search

import (
	"encoding/binary"
	"errors"
	"math"
	"strconv"
	"sync"
	"unicode/utf8"
)

// Entry is what one page adds to an index, made from its title and its passages alone, so that it
// can be kept from one index to the next: texts as they are published, and the words of each
// passage. Its bytes are:
//
//   - the length of the title's literal, and of all that is published
//   - a text after its length: that literal, what goes between the brackets of the list of
//     passages, and the names of ratios, which are not published
//   - the number of different words; for each, in the order of first use, how far its start is
//     from that of the one before in that text, and its length
//   - the number of passages, the title being the first; for each the level and the mark of a
//     place, the number of its words, and which they are, in order
//
// Numbers are varints, as encoding/binary writes them.
type Entry string

var errEntry = errors.New("the search entry of a page cannot be read")

// Ready makes the entry of a page.
func Ready(title string, passages []Passage) Entry {
	r := readies.Get().(*readying)
	defer readies.Put(r)
	r.reset()
	r.passage(Title, title)
	n := len(r.text)
	for i, p := range passages {
		if i > 0 {
			r.text = append(r.text, ',')
		}
		r.text = strconv.AppendInt(append(r.text, '['), int64(p.Field), 10)
		r.text = append(r.text, ',')
		r.passage(p.Field, p.Text)
		if p.Anchor != "" {
			r.text = appendText(append(r.text, ','), p.Anchor)
		}
		r.text = append(r.text, ']')
	}
	published := len(r.text)
	r.ratios(passages)
	out := make([]byte, 0, len(r.text)+len(r.words)+len(r.places)+5*binary.MaxVarintLen32)
	out = binary.AppendUvarint(binary.AppendUvarint(out, uint64(n)), uint64(published))
	out = append(binary.AppendUvarint(out, uint64(len(r.text))), r.text...)
	out = append(binary.AppendUvarint(out, uint64(len(r.seen))), r.words...)
	out = append(binary.AppendUvarint(out, uint64(r.passages)), r.places...)
	return Entry(out)
}

// readying makes entries one after another, with the same buffers.
type readying struct {
	text, words, places []byte
	last                int            // where the last new word begins in text
	seen                map[string]int // the number of each word
	here                []int          // words of the current passage
	passages            int
}

var readies = sync.Pool{New: func() any { return &readying{seen: map[string]int{}} }}

func (r *readying) reset() {
	clear(r.seen)
	r.text, r.words, r.places, r.last, r.passages = r.text[:0], r.words[:0], r.places[:0], 0, 0
}

// passage writes a text as a literal, and notes its words.
func (r *readying) passage(field Field, text string) {
	r.passages++
	r.here = r.here[:0]
	r.text = append(r.text, '"')
	done := 0
	eachWordAt(text, func(start, end int) {
		r.text = appendInText(r.text, text[done:start])
		at, word := len(r.text), text[start:end]
		r.text = append(r.text, word...)
		done = end
		r.word(word, at)
	})
	r.text = append(appendInText(r.text, text[done:]), '"')
	r.place(field, text)
}

// word notes a word that begins at an offset of the text.
func (r *readying) word(word string, at int) {
	number, met := r.seen[word]
	if !met {
		number = len(r.seen)
		r.seen[word] = number
		r.words = binary.AppendUvarint(binary.AppendUvarint(r.words, uint64(at-r.last)), uint64(len(word)))
		r.last = at
	}
	r.here = append(r.here, number)
}

// ratios notes the dilutions that passages mention, as passages of their own.
func (r *readying) ratios(passages []Passage) {
	for _, p := range passages {
		if len(p.Ratios) == 0 {
			continue
		}
		r.passages++
		r.here = r.here[:0]
		names := []string{ratioSign}
		for _, text := range p.Ratios {
			names = append(names, ratioName(text))
		}
		for _, name := range names {
			r.word(name, len(r.text))
			r.text = append(r.text, name...)
		}
		r.place(p.Field, p.Text)
	}
}

// place ends a passage: it notes its level, its mark and its words.
func (r *readying) place(field Field, text string) {
	level := levelOf(fieldWeights[field] / (1 + float64(utf8.RuneCountInString(text))/400))
	r.places = append(r.places, level, byte(hashOf(text)&31))
	r.places = binary.AppendUvarint(r.places, uint64(len(r.here)))
	for _, number := range r.here {
		r.places = binary.AppendUvarint(r.places, uint64(number))
	}
}

// parsed is a parsed entry. Its slices are reused for the next one.
type parsed struct {
	title, passages string
	words           []string
	places          []parsedPassage
	numbers         []int
}

type parsedPassage struct {
	place place
	words []int // by their number
}

// Check returns an error if the bytes are not an entry.
func (e Entry) Check() error {
	p := checks.Get().(*parsed)
	defer checks.Put(p)
	return p.read(e)
}

var checks = sync.Pool{New: func() any { return new(parsed) }}

// entryReader reads the numbers and texts of an entry.
type entryReader struct {
	left string
	bad  bool
}

// number reads a number that may be at most most.
func (r *entryReader) number(most int) int {
	var v uint64
	for i := 0; i < len(r.left) && i < binary.MaxVarintLen32; i++ {
		c := r.left[i]
		v |= uint64(c&0x7f) << (7 * i)
		if c < 0x80 {
			r.left = r.left[i+1:]
			if v > uint64(most) {
				break
			}
			return int(v)
		}
	}
	r.bad, r.left = true, ""
	return 0
}

func (r *entryReader) text() string {
	n := r.number(len(r.left))
	if n > len(r.left) { // the length itself took some of it
		r.bad, r.left = true, ""
		return ""
	}
	text := r.left[:n]
	r.left = r.left[n:]
	return text
}

func (p *parsed) read(e Entry) error {
	r := &entryReader{left: string(e)}
	title := r.number(math.MaxInt32)
	published := r.number(math.MaxInt32)
	whole := r.text()
	if title > published || published > len(whole) {
		return errEntry
	}
	p.title, p.passages = whole[:title], whole[title:published]
	p.words = p.words[:0]
	at := 0
	for range r.number(len(r.left)) {
		at += r.number(math.MaxInt32)
		n := r.number(len(whole))
		if r.bad || at+n > len(whole) {
			return errEntry
		}
		p.words = append(p.words, whole[at:at+n])
	}
	p.places, p.numbers = p.places[:0], p.numbers[:0]
	for range r.number(len(r.left)) {
		x := parsedPassage{place: place{level: byte(r.number(levels - 1)), mark: byte(r.number(31))}}
		begin := len(p.numbers)
		for range r.number(len(r.left)) {
			p.numbers = append(p.numbers, r.number(max(0, len(p.words)-1)))
			if r.bad || len(p.words) == 0 {
				return errEntry
			}
		}
		x.words = p.numbers[begin:]
		p.places = append(p.places, x)
	}
	if r.bad || r.left != "" {
		return errEntry
	}
	return nil
}
