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
package write
