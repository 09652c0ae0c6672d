// Package approval is what a lab keeps of an approved revision of a page: a record of every
// number that the page prints, everything those numbers come from, and the rest of what the page
// says. It serves to find out later whether a page still says what was approved, and to reprint
// that revision.
//
// It knows nothing about pages: another package turns a page into a Record. A record is encoded
// with a digest of its contents, and decoding checks it, which finds an edit by hand; that is
// not a signature, since anybody can compute a digest. Two records are compared: numbers first,
// each with the causes of its change, found by following the formulas down to the constant,
// formula, row or page that has changed; then limits, cautions, steps and text.
package approval
