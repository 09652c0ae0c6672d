package work

import (
	"strings"

	"labsite/recipes/quantity"
)

// WithoutAmounts puts an ellipsis for each quantity of a text.
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
