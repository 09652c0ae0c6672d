package formula

import "labsite/recipes/quantity"

// TokenKind sorts the parts of a formula, for reading and for colouring.
type TokenKind uint8

const (
	// Literal is a number or a quantity.
	Literal TokenKind = iota
	// Quoted is a text in quotes.
	Quoted
	// Name is a name of the page.
	Name
	// Function is a name before an opening bracket.
	Function
	// Keyword is a word of the language.
	Keyword
	// Operator is any other sign.
	Operator
	// Bracket opens or closes.
	Bracket
)

// Token is a part of a formula; Start and End are bytes into the normalised text.
type Token struct {
	Kind       TokenKind
	Start, End int
	// Value is set for a Literal, Text for a Quoted.
	Value *quantity.Value
	Text  string
}
