// Labsite turns a film lab's Markdown pages, whose front matter holds formulas, into a
// published site with computed and tested numbers.
//
// This package is the command: it reads arguments, calls the packages that do the work,
// and is the only one that prints or exits.
//
// # Decisions
//
// labsite figure works out one page, not the folder. Like the preview it reads only the heads of
// all pages; it reads no theme, and works out the page and those that it draws on. Whether they are
// correct it takes from what the last check or publish kept, if that still holds. The program
// recognises results of its own build by the id that the toolchain wrote into it, since reading all
// its 42 MB took a fifth of the command's time. A built-in bench formula is read when it is first
// called (formulary/builtin.go); a test checks that all of them infer and pass their checks, so
// that no start has to.
//
// GODEBUG=inittrace=1 shows what a start costs: half of it was one library registering all its
// languages, so fences are coloured by descriptions of our own, of the few that a lab needs
// (render/highlight/languages.go).
//
// Whatever runs long checks its context: between pages, between cases, between places searched for
// a pole, between files, and every thousand steps of a template; the script engine is interrupted.
// A stage that was stopped returns nothing, never half a result. What no context reaches (the
// Markdown parser, a library) works only in memory, so the command does not wait for it
// (whileWanted in signals.go). The tests use a context that ends after being checked n times.
package main
