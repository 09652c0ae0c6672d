// Package molar reads chemical formulas and gives their molar mass.
//
// It knows symbols, counts, brackets and what is after a dot, such as the water of a
// hydrate. It does not know charges, isotopes, structure or names, and it does not check that
// such a substance exists.
//
// A formula is read in one pass (molar.go) into counts of elements; the mass is their sum by
// the abridged standard atomic weights (weights.go). Bounds keep a hostile formula short.
package molar
