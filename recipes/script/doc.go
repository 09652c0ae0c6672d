// Package script writes a page's formulas as JavaScript, so that a reader's browser works
// out the same typed tree that the build tested, and holds the small runtime which that
// needs: the arithmetic with its tolerances, how values are read and shown, and the
// object that a page's controls talk to (see runtime.js).
//
// A page's script is a plain file: it evaluates no text, loads nothing, and works from a
// disk as well as below script-src 'self'. It holds the numbers of the page and nothing
// that stands on it: texts, labels of figures, controls and their look belong to the
// theme. Of data files it holds the columns and rows that the page's formulas can reach.
//
// The package knows no templates and writes no files. goja, a JavaScript engine, serves
// Agree alone, which holds a page's script to the build's own numbers.
package script
