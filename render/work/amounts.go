package work

import (
	"strings"

	"labsite/recipes/quantity"
)

// WithoutAmounts replaces each quantity in a text by an ellipsis.
func WithoutAmounts(text string) string {
	var b strings.Builder
	at := 0
	for _, f := range quantity.Typed(text) {
		b.WriteString(text[at:f.Start])
		b.WriteString("…")
		at = f.End
	}
	b.WriteString(text[at:])
	return b.String()
}
