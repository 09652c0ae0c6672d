// Package script writes a page's formulas as JavaScript, so that a reader's browser works
// out the same typed tree that the build tested, and holds the small runtime which that
// needs: the arithmetic with its tolerances, how values are read and shown, and the
// object that a page's controls talk to (see the folder runtime).
//
// A page's script is a plain file: it evaluates no text, loads nothing, and works from a
// disk as well as under script-src 'self'. It has the numbers of the page and nothing
// else of it: texts, labels of figures, controls and their look belong to the
// theme. Of data files it holds the columns and rows that the page's formulas can reach.
//
// # Phases
//
//   - Emit writes a page's values, figures, limits and placed formulas in working order
//     (emit.go), its formulas as expressions (expression.go), its data columns (search.go)
//     and the times of its steps (process.go). How an operation is written is in its
//     entry in recipes/formula.
//   - Core and Further, together Runtime, join the parts of the folder runtime (runtime.go), with the units (units.go),
//     the messages that readers can meet (wording.go) and the operations' helpers put in.
//   - Agree runs a page's script in a JavaScript engine and holds it to what Go works out
//     (agree.go).
//
// The package knows no templates and writes no files. Only Agree uses goja, a JavaScript
// engine, to hold a page's script to the build's own numbers.
//
// # Decisions
//
// A page's script is compiled once for all pages of its shape (shape.go): texts and longer
// numbers are taken out of the bytes, what is left is compiled when it is met for the second
// time, and each page's constants are handed to it.
package script
