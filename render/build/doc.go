// Package build makes sites out of a content folder, and remembers what it made: what has
// the same inputs is not worked out again.
//
// It parses no page and writes no HTML: it knows the order of the work and what depends on
// what. The work itself is that of the packages content, work, write and machine.
//
// # The graph
//
//	inputs    text of a page, data files, bench formulas, substances, settings, theme, the day
//	  ├► verdict of a page     (work.Verdict, kept with the answers to all that it asked)
//	  └► files of a page       (kept with the sum of all that they were written from)
//	       └► files of a site  (search, register, sections: from what every page tells, result.go)
//
// A result is kept under the sum of what it was made from and of the program itself
// (memory.go). A publish and a check keep results in the user's cache folder (disk.go), the
// preview only in memory (follow.go).
//
// # Phases of a publish
//
//	read       package content reads the folder
//	pages      each worker, at a desk of its own, makes a page, tries its script, hands its
//	           files on and lets go of it (publish.go)
//	shared     what tells of all pages is made from what they told
//
// # Decisions
//
// What a page asks for besides its own text is noted with a sum of the answer (work/asked.go): a
// data file, a page drawn on, a heading that it links to, a bench formula by name, a substance,
// the day. As long as all answers are the same, so is the verdict on the page, whoever asks.
// Its files are kept under the sum of the verdict and of what is around the page
// (write.Site.Around), what tells of all pages under the sum of all verdicts. Sums are of
// contents; the times of files decide at most whether a file is read again. With --json a
// command says under remembered what was taken, what was made, and what was wrong with the
// store.
//
// Of a followed site the text of every page, its head (content/head.go) and its result
// (result.go) are kept: the verdict, its numbers, what register, search, feed and bench
// formulas tell of it. Everything else of a page is thrown away when 64 others were asked for after it
// (Desk.Trim), everything written at each change. Settings and the theme change no number:
// pages are written again and not worked out.
//
// One lock guards a followed site. What tells of all pages takes it page by page (makeAll), so
// that nobody waits for ten thousand.
//
// What a save changed is reported against the last state of a page that held (changes.go): a state
// with an error, a failing check among them, is never compared with later. Pages that the desk
// held in full are kept as they last held (Desk.LastHeld) and worked out over their cases
// beside the new state.
//
// A site that was followed, published with a store or without is the same, byte for byte.
// follow_test.go changes a lab at random and compares the whole site with one that is read
// afresh, and with what publishes write with and without what earlier ones kept (FOLLOW_FROM=n
// takes other random numbers, FOLLOW_CHANGES=n makes more changes); follow_lab_test.go says
// which pages a change may touch, kept_test.go which files a publish then writes again.
// store_test.go damages the store in every way and holds the site to one made without it.
package build
