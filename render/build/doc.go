// Package build makes sites out of a content folder, and remembers what it made: nothing is
// worked out again whose inputs are the same.
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
// preview in memory alone (follow.go).
//
// # Phases of a publish
//
//	read       package content reads the folder
//	pages      each worker, at a desk of its own, makes a page, tries its script, hands its
//	           files on and lets go of it (publish.go)
//	shared     what tells of all pages is made from what they told
package build
