package work

import (
	"strings"

	"labsite/recipes/page"
)

// ProductName is how a label names what a page makes.
func ProductName(m *page.Product) string { return LabelOf(collapseSpaces(m.Label.Text), m.Name) }

// productWords is what a label says of a product besides its numbers, in one line of a record.
func productWords(m *page.Product) string {
	out := []string{"makes " + ProductName(m)}
	if len(m.Contains) > 0 {
		var names []string
		for _, s := range m.Contains {
			names = append(names, strings.TrimSpace(s.Name+" "+s.StrengthText))
		}
		out = append(out, "contains "+strings.Join(names, ", "))
	}
	if text := collapseSpaces(m.Store.Text); text != "" {
		out = append(out, "store "+text)
	}
	return strings.Join(out, "; ")
}
