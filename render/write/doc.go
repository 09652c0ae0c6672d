// Package write turns pages that were worked out into the files of a site: pages, bench
// cards, labels, tables as CSV, scripts, sections, the document register and the pages of the
// bench formulas.
//
// It works nothing out and touches no disk. How a file looks is up to the theme: the package fills
// the views of package theme.
//
// # Phases
//
//	writer.go  a Site is what all files of an audience share; a Writer writes with one desk
//	page.go    fills the view of a page part by part, with steps.go, tables.go and charts.go
//	fill.go    puts the numbers of a case into a text, and writes it
//	beside.go  what stands beside a page: card and labels (paper.go), tables (tables.go), script (scripts.go)
//	drawers.go, register.go, bench.go  pages about many pages
//
// # Decisions
//
// Earlier revisions stay beside a page as scripts (NAME.figures.3.js, earlierScripts), written from
// the records by work.Desk.Earlier: only formulas, for what was recorded and a reader could set. A
// page's policy lets no stored text run as a script. So a run that goes on by an earlier revision
// after its page was loaded again (themes/process/anew.js), and paper at other values than the
// page's own (themes/recall.js), must get the script from the site; the kept copy has it like any
// file. The run checks it against the results that it already has, and finds what differs in steps
// by comparing its own with those of the page at the same values.
//
// A bench formula is tried on a page like any other, which bench_try.go writes. Its parameters are
// given values with the ranges of the entry or, without these, twenty times beyond its worked
// examples, which are its checks. So controls, reasons, agreement with Go and safety are those of
// pages. work.Aside works such a page out afresh each time. Publish compares the scripts of a lab's
// own entries with Go, and TestBenchTrials those of the built-in ones.
//
// No day is in the output: the same pages are the same bytes on every day, so that a kept copy is
// fetched again only when something has changed. themes/today.js fills in a card's day of printing
// and what is overdue; the service worker notes as of which day a copy was current. The preview
// knows its day and marks what is overdue itself.
package write
