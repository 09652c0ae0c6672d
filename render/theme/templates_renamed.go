package theme

import "slices"

// Names that the built-in theme had before. A lab's own theme may still use them, and gets an error
// with the present name: a file that replaces nothing would silently have no effect.

// renamedFiles are files of the theme, renamedFields fields of views. A field may have different new
// names in different views.
var (
	renamedFiles = map[string]string{
		"page.html":    "instruction.html",
		"section.html": "drawer.html",
		"nav.html":     "drawer-names.html",
		"head.html":    "letterhead.html",
		"foot.html":    "imprint.html",
		"entries.html": "filed.html",
		"search.html":  "find.html",
		"search.js":    "find.js",
	}
	renamedFields = map[string][]string{
		"Page":     {"Instruction"},
		"Pages":    {"Filed", "OnTop"},
		"Sections": {"Cabinet"},
		"Nav":      {"DrawerNames"},
		"Search":   {"Find"},
		"Previous": {"Before"},
		"Next":     {"After"},
	}
)

// renamedField is what a field of an earlier theme is now called among some fields; "" for none.
func renamedField(old string, fields []string) string {
	for _, name := range renamedFields[old] {
		if slices.Contains(fields, name) {
			return name
		}
	}
	return ""
}
