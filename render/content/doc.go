// Package content reads a lab's folder: its pages as text, its settings, its own bench
// formulas and substances, its data files, and where all of them stand.
//
// It works nothing out and writes nothing: what a page's formulas come to is package work's
// business, how a page looks package write's.
//
// # Phases
//
//	Open      walks the folder, reads the lab's own files and the text of every page (walk.go, lab.go, open.go)
//	head.go   reads of each page what lists of pages show
//	folder.go settles sections, audiences, addresses and document numbers
//	Update    looks at files that may have changed, reads those again, and settles anew (follow.go)
//
// A Content is changed by Update and Turn alone, and nobody may use it meanwhile. Between
// them it may be read from several goroutines: data files and pictures are read when they
// are first asked for (tables.go, placed.go).
package content
