package search

import (
	_ "embed"
	"fmt"
	"strings"
)

// Field is where on its page a passage is. It decides how much a word in it counts.
type Field int

// The fields, as find.js weighs them.
const (
	Title Field = iota
	Heading
	Summary
	Label
	Text
)

// Passage is a text of a page that a search can find.
type Passage struct {
	Field Field
	// Anchor is the place on the page to link to, "" for its top.
	Anchor string
	Text   string
	// Ratios are the dilutions that the passage mentions, written as 1+100. It is found by them but
	// does not show them.
	Ratios []string
}

// Use is what a page is for. Pages to read come first, unless another fits the question far better.
type Use int

const (
	Read     Use = iota
	Leads        // to other pages: the front page, a section; or it says that it is withdrawn
	LookedUp     // a formula, a list
)

// Page is a page that a search can find, by its title as well as by its passages.
type Page struct {
	Address  string // relative to the site's top, escaped as in a link
	Title    string
	Where    string // its section, as readers know it
	Passages []Passage
	// Entry, if set, is what Ready made of the title and the passages, which are then not used.
	Entry Entry
	Use   Use
}

//go:embed find.js
var find string

// Code is the script of find.js as it is here, an expression, for whoever minifies it.
func Code() string { return strings.TrimSpace(find) }

// Name is the global that the first file assigns: a function that takes what a reader typed and how
// many pages are wanted at most, and returns the pages, or the parts that must be loaded first; see
// find.js.
const Name = "findPages"

// File is the name of the first file, and Folder the folder of the parts. A part that find.js asks
// for by a name is the file of that name, with ".js".
const (
	File   = "find-words.js"
	Folder = "find-words/"
)

// Close writes the rest of the files. The index cannot be used afterwards.
func (x *Index) Close() {
	x.endChunk()
	stems := x.sortedStems()
	var h head
	h.code = x.code
	h.pages, h.stamp, h.skip = x.pages, x.stamp(), strings.Join(sorted(x.stop), " ")
	h.alike, h.uses = x.appendGroups(nil), x.uses
	if !x.parted {
		var all []byte
		for _, s := range stems {
			all = s.append(all, false)
		}
		if len(all)+x.heldBytes <= x.bounds.whole {
			h.whole, h.words = true, all
			h.held = x.held
			x.put(File, h.script())
			return
		}
		x.part()
	}
	h.chunks = x.chunks
	w := &writer{index: x, stamp: h.stamp, taken: map[string]bool{}}
	h.starts = w.starts(stems)
	h.firsts = w.vocabulary(stems)
	h.near = w.near(stems)
	x.put(File, h.script())
}

// head is the first file: its code, and the data that it is called with.
type head struct {
	code   string
	pages  int
	stamp  string
	skip   string // the words that no page is found by
	alike  []byte // words that mean one thing, as find.js reads them
	uses   []useRun
	whole  bool     // the site has one file
	words  []byte   // then: the whole vocabulary
	held   [][]byte // then: the pages
	firsts []string // the first stem of each part of the vocabulary
	starts []string // beginnings that have a list of their own
	near   int      // how many near parts there are
	chunks []byte   // how many pages each part of pages has, one sign of the alphabet for each
}

func (h *head) script() []byte {
	var b []byte
	b = append(b, "globalThis."+Name+" =\n"...)
	b = append(b, h.code...)
	b = fmt.Appendf(b, "({\"pages\":%d,\"stamp\":%q,\"near\":%d,\"skip\":", h.pages, h.stamp, h.near)
	b = appendText(b, h.skip)
	b = append(append(b, ",\"alike\":"...), h.alike...)
	b = append(b, ",\"uses\":["...)
	for i, r := range h.uses {
		if i > 0 {
			b = append(b, ',')
		}
		b = fmt.Appendf(b, "[%d,%d,%d]", r.first, r.pages, r.use)
	}
	b = append(b, ']')
	b = append(b, ",\"starts\":"...)
	b = appendText(b, strings.Join(h.starts, " "))
	b = append(b, ",\"firsts\":"...)
	b = appendText(b, strings.Join(h.firsts, " "))
	b = append(b, ",\"chunks\":"...)
	b = appendText(b, string(h.chunks))
	if h.whole {
		b = append(b, ",\"words\":"...)
		b = appendText(b, string(h.words))
		b = append(b, ",\"whole\":["...)
		for i, chunk := range h.held {
			if i > 0 {
				b = append(b, ",\n"...)
			}
			b = append(b, chunk...)
		}
		b = append(b, ']')
	}
	return append(b, "});\n"...)
}
