// Package search makes the search of a site: scripts that answer a reader's question without a
// server, even for pages opened from a disk.
//
// Words are brought to their stems here, when the site is built, so that a browser needs no
// stemmer. The package knows nothing of pages, audiences or formulas: it is given plain texts, and
// the caller is responsible for what may be found.
//
// A small site has one file: the function of find.js with all of its data. A larger one
// has the function with a directory in that file, and parts beside it that are loaded when
// a question needs them:
//
//   - words: a range of the vocabulary, each stem with its words and the list of its pages;
//   - list: the list of a stem that is on many pages;
//   - start: one list for all words that begin with a few letters, where those are many;
//   - near: words that a mistyped one may mean, by a half of it or by its bones;
//   - pages: the titles and passages of a few successive pages.
//
// An Index has two phases: pages are added in the site's order, and Close writes what is left.
// Texts are written as soon as a part is full; lists stay in memory until the end.
//
// # Decisions
//
// Search is scripts, not data to fetch. A page opened from a disk may load a script beside it and
// may fetch nothing. The first, find-words.js, is one function with its data; themes/finding.js
// loads it when a reader first comes to the box. Words are stemmed when the site is built, and the
// data holds each word with its stem. It holds no quantities, since a search shows a passage
// without the cautions around it. A dilution is kept only as a hash (ratio.go): whoever types one
// is led to the top of a page that mentions it, and is not shown the dilution itself.
//
// Words that mean one thing are gathered when the site is built, as a stem of their own (alike.go),
// so that a page with *fixer* in its title is found by *hypo* as well as by its title, and the
// passage shown is the one that says it. Adding the other words to each page's text was tried
// first: it ranked all those pages alike. render/machine/asked_test.go types what visitors and
// staff would, and checks the order.
//
// A large search is in parts. Up to 256 KB of data are one file (155 KB for the demo's customers;
// its staff's site is in parts). Beyond that the first file is a directory of the parts in
// find-words/, and a question loads the parts of its words, then the lists of those that are on
// many pages, then the texts of the eight pages shown: the function says what it lacks, and is
// asked again. For each page a list says only how much a word counts there and roughly in which
// passages, so that one of 10,000 pages takes at most four bytes.
//
// Beginnings that many words share have a list made in advance; a mistyped word is found by the
// half of it that is right. If the lists of a question would take more than 125 KB, its commonest
// words are left out. Parts end where a hash says so and are named after what they begin with, so
// that editing a page changes its own part and those of the words that came or went; adding or
// removing a page renumbers all, and parts of two numberings are not mixed. At 10,000 pages a
// question loads 36 to 221 KB (make bench BENCH=Loaded), and the index takes about 3 KB of memory a
// page (BENCH=Index). A page of a hundred KB is a part of its own, so eight such pages can exceed
// this.
package search
