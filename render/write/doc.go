// Package write turns pages that were worked out into the files of a site: pages, bench
// cards, labels, tables as CSV, scripts, sections, the document register and the pages of the
// bench formulas.
//
// It works nothing out and touches no disk. How a file looks is the theme's business: the
// package fills the views of package theme and hands them over.
//
// # Phases
//
//	writer.go  a Site is what all files of an audience share; a Writer writes with one desk
//	page.go    fills the view of a page part by part: given.go, figures.go, steps.go, tables.go, charts.go
//	fill.go    sets the numbers of a text at a case, and writes it
//	beside.go  what stands beside a page: card and labels (paper.go), tables (tables.go), script (scripts.go)
//	drawers.go, register.go, bench.go  what tells of many pages
//
// # Decisions
//
// Earlier revisions stay beside a page as scripts (NAME.figures.3.js, write.earlierScripts),
// written from the records by work.Desk.Earlier: formulas alone, for what was recorded and a
// reader could set. A page's own policy lets no stored text run as a script, so a run that goes
// on by an earlier revision after its page was loaded again (themes/process/anew.js), and paper
// at values of its own (themes/recall.js), have to get it from the site; it is in the kept copy
// like any file. The run checks it by the results that it already has. What differs in steps is
// told by comparing those of the run with those of the page at the same values.
//
// A bench formula is tried on a page like any other, which bench_try.go writes: its parameters
// are given values with the ranges of the entry, or twenty times beyond its worked examples
// where it has none, its worked examples are checks. So controls, reasons, agreement with Go
// and safety are those of pages. work.Aside works it out, without a memory, and publish holds
// the scripts of a lab's own entries; TestBenchTrials holds those of the built-in ones.
//
// No day is in the output. The same pages are the same bytes on every day, so that a kept copy
// is fetched again only when something changed. A card's day of printing and what is overdue by
// now are filled in by themes/today.js, the day up to which a copy held is noted by the worker.
// The preview has a day of its own and marks what is overdue itself.
package write
