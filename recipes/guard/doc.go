// Package guard finds out how well a page's checks guard it: it changes the page on purpose, one
// thing at a time, and sees whether a check notices.
//
// It judges no number, which is the checks' own business (package prove), and writes no file.
//
// # Phases
//
//   - List: everything of a page that can be mutated is listed, each with its place, a
//     sentence and a way to apply and take back (changes.go; edits.go for formulas, constants.go
//     for values, rows.go for data files, drawn.go for pages drawn on).
//   - Cases: the settings at which a page is looked at, with what it gives there unchanged
//     (cases.go); settings on the edge of a comparison are added (edges.go).
//   - Try: each change is applied, the checks are worked out, and where none notices, the cases
//     tell whether the change matters at all (try.go).
//   - Suggest: of the cases where it matters, the simplest makes a check (suggest.go).
package guard
