// Package build makes sites out of a content folder and remembers the results, so that nothing is
// worked out twice from the same inputs.
//
// It parses no page and writes no HTML: it knows the order of the work and what depends on what.
// The packages content, work, write and machine do the work.
//
// # The graph
//
//	inputs    text of a page, data files, bench formulas, substances, settings, theme, the day
//	  ├► verdict of a page     (work.Verdict, kept with the answers to all that it asked)
//	  └► files of a page       (kept with the sum of all that they were written from)
//	       └► files of a site  (search, register, sections: from what every page tells, result.go)
//
// A result is kept with the sums of what it was made from and of the program itself (memory.go). A
// publish and a check keep results in the user's cache folder (store.go), the preview only in memory
// (follow.go).
//
// # Phases of a publish
//
//	read       package content reads the folder
//	pages      each worker, at a desk of its own, makes a page, tries its script, hands its
//	           files on and drops it (run.go)
//	shared     files about all pages are made from their results
//
// # Decisions
//
// What a page asks for besides its own text is noted with a sum of the answer (work/asked.go): a
// data file, a page drawn on, a heading that it links to, a bench formula by name, a substance, the
// day. As long as all answers are the same, so is the verdict on the page, whoever asks. Its files
// are kept under the sum of the verdict and of what surrounds the page (write.Site.Around), files
// about all pages under the sum of all verdicts. Sums are taken of contents; a file's time decides
// at most whether the file is read again. With --json a command says, under remembered, how much
// was taken from the store, how much was made, and what was wrong with the store.
//
// A followed site keeps the text of every page, its head (content/head.go) and its result
// (result.go): the verdict, its numbers, and what register, search, feed and bench formulas need of
// it. The rest of a page is dropped once 64 other pages have been asked for (Desk.Trim), and
// everything written is dropped at each change. Settings and the theme change no number, so pages
// are only written again.
//
// One lock guards a followed site. Work on all pages takes it for one page at a time (makeAll), so
// that nobody waits for ten thousand.
//
// What a save changed is reported against the page's last correct state (changes.go); a state with
// an error, such as a failing check, is never compared with. The last correct state of a page that
// the desk held in full is kept in full (Desk.LastHeld), so that its cases can be worked out beside
// those of the new one.
//
// A site is the same, byte for byte, whether it was followed, published with a store or published
// without. follow_test.go changes a lab at random and compares the whole site with one that is read
// afresh, and with what publishes write with and without the results of earlier ones (FOLLOW_FROM=n
// takes other random numbers, FOLLOW_CHANGES=n makes more changes); follow_lab_test.go says which
// pages a change may touch, kept_test.go which files a publish then writes again. store_test.go
// damages the store in many ways and compares the site with one made without it.
package build
