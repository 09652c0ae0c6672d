// Package highlight colours code: fenced blocks of a page in the languages
// that a lab's pages show, and formulas from the tokens of the formula language itself, so
// that their colours cannot drift from its grammar. It is the only home of chroma.
//
// It gives HTML with classes and one style sheet for both colour schemes. Colour is
// never the only sign: the text is the same without it. It judges nothing: what
// cannot be read as its language is shown without colour.
package highlight
