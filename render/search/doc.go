// Package search makes the search of a site: scripts that answer a reader's words without
// a server, and from a disk as well.
//
// Words are brought to their stems here, when the site is built, so that a browser needs
// no stemmer. The package does not know pages, audiences or formulas: it is handed plain
// texts, and whoever hands them over answers for what may be found.
//
// A small site has one file: the function of find.js with all of its data. A larger one
// has the function with a directory in that file, and parts beside it that are loaded when
// a question needs them:
//
//   - words: a range of the vocabulary, each stem with its words and the list of its pages;
//   - list: the list of a stem that stands on many pages;
//   - start: one list for all words that begin with a few letters, where those are many;
//   - near: words that a mistyped one may have meant, by a half of it or by its bones;
//   - pages: the titles and passages of a few pages that follow each other.
//
// An Index has two phases: pages are added in the site's order, and Close writes what is
// left. Texts leave as soon as a part is full; lists stay in memory until the end.
package search
