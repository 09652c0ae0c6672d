// Package page is what a page says before its text: the keys of its front matter, read and
// checked, with the kinds of all formulas inferred. A Sheet is that front matter; nothing else
// is called a sheet here.
//
// It computes no numbers: package prove does that. It knows no HTML and no Markdown, and it
// prints nothing; it returns values and diagnostics. It also reads other files that are written in
// the same way: settings.go reads the settings of a lab, table.go its data files.
//
// # Phases
//
//   - Cut: the front matter is found in the file (front.go).
//   - Decode: each key has an entry in the table of keys (keys.go), which names the function
//     that decodes it: given.go, figures.go, limits.go, checks.go, steps.go, tables.go,
//     charts.go, control.go, cautions.go, substances.go, makes.go, uses.go, library.go. What all
//     of them share is in decode.go, the names of a page in names.go. What needs the names of the
//     whole page waits until all keys are decoded. once.go leaves out errors that follow from
//     another one.
//   - Resolve: figures and the pages drawn on are put in the order in which they are worked out
//     (order.go), and all kinds are inferred (resolve.go; scope.go finds the names that formulas
//     use). Each page drawn on gets its place in the drawing page's frame (drawn.go, terms.go).
//
// # Decisions
//
// Pages drawn on are worked out in the drawing page's frame, once for each set of values (Part,
// drawn.go), so a case of one page covers the others. Each has a block of its own slots there,
// with a window for each page that it draws on, into which that page's values are copied: a
// block has the same shape wherever it lies, so that uses can share it. Two uses share a block
// if their settings are written alike over the same values, where a value that is only passed
// on counts as that of the page it comes from (terms.go); a * b and b * a count as different.
// A script has no windows (recipes/script/slots.go).
//
// entries.go is the one table of the keys of a page: decoders take from it which keys they
// know, and editors what to say of each.
//
// A file of records that does not exist yet still has its columns (keeps.go). Kinds of figures
// are inferred in rounds, since a figure may be worked out from its own records; its show then
// says the kind. What depends on a page's records changes by itself, so an approval does not
// cover it (Sheet.Moves). It does cover a page that draws on such a page, which should be
// approved with care.
package page
