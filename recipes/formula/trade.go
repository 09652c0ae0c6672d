package formula

import (
	"strings"

	"labsite/recipes/quantity"
)

// Trade is a function of the formulary: a small named formula in this language. Its
// body is inferred again at every call, in place, so that both back ends see one tree.
type Trade struct {
	Name   string
	Params []Param
	// Fixed are values that the body knows by name and a caller cannot set.
	Fixed []Fixed
	// Result is the kind that the body must come out as.
	Result Fit
	Body   *Formula
	// Guards are tried in order; the first whose condition holds refuses the case.
	Guards []TradeGuard
	// Windows are the tested windows among the parameters.
	Windows []Window
}

// Param is a parameter of a Trade.
type Param struct {
	Name string
	Fit
	// Owned says that the argument must be the shop's own: see Ownership.
	Owned bool
}

// Fixed is a value that a body knows by name.
type Fixed struct {
	Name  string
	Value quantity.Value
}

// TradeGuard is where a function's valid range ends.
type TradeGuard struct {
	// When holds outside the range.
	When *Formula
	// Reason says to the reader which value is outside, and why.
	Reason string
}

// Window says by their numbers which parameter must lie within which two others.
type Window struct{ Value, Lowest, Highest int }

// Form is how a call is written: name(first, second).
func (t *Trade) Form() string {
	var b strings.Builder
	b.WriteString(t.Name)
	b.WriteByte('(')
	for i, p := range t.Params {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(p.Name)
	}
	b.WriteByte(')')
	return b.String()
}
