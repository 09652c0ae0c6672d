// Package page is what a page says before its text: the keys of its front matter, read,
// checked and with the kinds of all formulas inferred. Its Sheet is that front matter; no
// other thing is called a sheet here.
//
// It works no number out: package prove does that. It knows no HTML and no Markdown, and it
// prints nothing; it gives values and diagnostics. It also reads what stands beside pages and
// is written in the same way: settings.go the settings of a lab, table.go its data files.
//
// # Phases
//
//   - Cut: the front matter is found in the file (front.go).
//   - Decode: each key is decoded by its entry in the table of keys (keys.go), which names the
//     function that reads it: given.go, figures.go, limits.go, checks.go, steps.go, tables.go,
//     charts.go, control.go, cautions.go, substances.go, makes.go, uses.go, library.go. The tools of
//     them all are in decode.go, the names of a page in names.go. What needs the names of the
//     whole page waits until all keys are decoded. once.go leaves out what follows from an
//     error that was told.
//   - Resolve: figures and the pages drawn on are put in the order in which they are worked out
//     (order.go), and all kinds are inferred (resolve.go; scope.go finds the names that formulas
//     use). Each page drawn on gets its place in the drawing page's frame (drawn.go, terms.go).
package page
