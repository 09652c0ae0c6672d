// Package highlight colours code: fenced blocks in the languages that a lab's pages show, and
// formulas by the formula language's own tokens, so that their colours cannot drift from its
// grammar. It is the only home of chroma.
//
// It makes HTML with classes and one style sheet for both colour schemes. Colour never carries
// meaning alone: the text is the same without it. It reports no errors: what cannot be read in its
// language is shown without colour.
package highlight
