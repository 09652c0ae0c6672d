// Package content reads a lab's folder: its pages as text, its settings, its own bench
// formulas and substances, its data files, and where each of them is.
//
// It works nothing out and writes nothing: package work works out a page's formulas, package write
// decides how a page looks.
//
// # Phases
//
//	Open      walks the folder, reads the lab's own files and the text of every page (walk.go, lab.go, open.go)
//	head.go   reads what lists of pages show of each page
//	folder.go settles sections, audiences, addresses and document numbers
//	Update    looks at files that may have changed, reads those again, and settles everything again (follow.go)
//
// Only Update, Turn and Write change a Content, and it must not be used while they run. Otherwise
// several goroutines may read it: data files and pictures are read when they are first asked for
// (tables.go, placed.go).
//
// # Decisions
//
// Bounds on drawing are checked before the work is done: depth from the list of what each page draws
// on, before any page is resolved (levels.go, without recursion, since a chain can be as long as
// there are pages); parts and slots while parts are laid out. A chain that is too long is reported
// once, where it passes the bound, and a circle once, where it closes; the pages above fail without
// a report of their own. Texts and substances of a page are handled once for each part or page,
// never once for each path that leads there. make bench BENCH=Chains compares such pages with pages
// that draw on none.
package content
