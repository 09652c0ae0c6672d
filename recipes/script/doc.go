// Package script writes a page's formulas as JavaScript, so that a reader's browser works out the
// same typed tree that the build tested. It also holds the small runtime that this needs: the
// arithmetic with its tolerances, how values are read and shown, and the object that a page's
// controls talk to (see the folder runtime).
//
// A page's script is a plain file: it evaluates no text, loads nothing, and works from a disk as
// well as under script-src 'self'. It holds what the page works out and nothing else: texts,
// labels of figures, controls and their looks belong to the theme. Of data files it holds the
// columns and rows that the page's formulas can reach.
//
// # Phases
//
//   - Emit writes a page's values, figures, limits and placed formulas in working order
//     (emit.go), its formulas as expressions (expression.go), its data columns (search.go)
//     and the times of its steps (process.go). How an operation is written is in its
//     entry in recipes/formula.
//   - Core and Further, together Runtime, are joined from the files of the folder runtime
//     (runtime.go), with the units (units.go), the messages that readers can meet (wording.go)
//     and the operations' helpers put in.
//   - Agree runs a page's script in a JavaScript engine and compares it with what Go works out
//     (agree.go).
//
// The package knows no templates and writes no files. Only Agree needs goja, the JavaScript
// engine.
//
// # Decisions
//
// Scripts that differ only in constants are compiled once (shape.go): texts and longer numbers are
// taken out, what is left is compiled when it occurs for the second time, and each page's
// constants are handed to it.
package script
