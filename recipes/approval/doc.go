// Package approval is what a lab keeps of an approved revision of a page: a record of every
// number that the page prints, of all that they come from, and of what the page says beside
// them. It is for finding out later whether a page still says what was approved, and for
// printing that revision again.
//
// It knows no pages: another package reads a page off into a Record. A record is encoded with
// a digest over its contents and decoded again, which finds an edit by hand; that is no
// signature, since anybody can work a digest out. Two records are compared: numbers first,
// each with the causes of its change, found by following the formulas down to the constant,
// formula, row or page that is another one now; then limits, cautions, steps and text.
package approval
