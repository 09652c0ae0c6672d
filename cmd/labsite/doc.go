// Labsite turns a film lab's Markdown pages, whose front matter holds formulas, into a
// published site with computed and tested numbers.
//
// This package is the command: it reads arguments, calls the packages that do the work,
// and is the only one that prints or exits.
//
// # Decisions
//
// labsite figure works one page out, not the folder. It opens the folder as the preview does
// (only heads), reads no theme, and works out the page and those that it draws on; whether
// they are right it takes from what the last check or publish kept, where that still holds. A
// program is known by the id that the toolchain wrote into it, since reading all its 42 MB took
// a fifth of the command. A built-in bench formula is read when it is first called
// (formulary/builtin.go); that all of them infer and pass their checks is for a test,
// not for each start.
//
// What a start costs is seen with GODEBUG=inittrace=1: half of it was one library's
// registration of all its languages, so fences are coloured by descriptions of our own, of the
// few that a lab needs (render/highlight/languages.go).
//
// Whatever runs long checks its context, between pages, cases, places where a pole is looked
// for, files, and every thousand steps of a template; the script engine is interrupted. A stage
// that was stopped gives nothing, never half a result. What no context reaches (the Markdown
// parser, a library) works in memory alone, so the command does not wait for it (whileWanted in
// signals.go). The tests use a context that ends after it was checked n times.
package main
