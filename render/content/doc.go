// Package content reads a lab's folder: its pages as text, its settings, its own bench
// formulas and substances, its data files, and where each of them is.
//
// It works nothing out and writes nothing: what a page's formulas come to is package work's
// business, how a page looks package write's.
//
// # Phases
//
//	Open      walks the folder, reads the lab's own files and the text of every page (walk.go, lab.go, open.go)
//	head.go   reads what lists of pages show of each page
//	folder.go settles sections, audiences, addresses and document numbers
//	Update    looks at files that may have changed, reads those again, and settles everything again (follow.go)
//
// Only Update and Turn change a Content, and nobody may use it while they do. Between
// them it may be read from several goroutines: data files and pictures are read when they
// are first asked for (tables.go, placed.go).
//
// # Decisions
//
// Limits on drawing are checked before the work: depth on the list of what each page draws on,
// before any page is resolved (levels.go, without recursion, since a chain can be as long as
// there are pages); parts and slots while parts are laid out. A chain that is too long is reported
// once, where it passes the limit, and a circle once, where it closes; the pages above
// fail without a report of their own. Of a page's texts and substances each is told once for a part or a
// page, never once for each way that leads to it. make bench BENCH=Chains compares them with
// pages that draw on none.
package content
