package theme

import "slices"

// Names that the built-in theme had once. A lab's own theme may still use them: it is told
// the name of today, since a file that replaces nothing would change nothing.

// renamedFiles are files of the theme, renamedFields what templates are given. A field may
// have gone to several views under different names.
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

// renamedField is what a field of an earlier theme is called among these; "" for none.
func renamedField(old string, fields []string) string {
	for _, name := range renamedFields[old] {
		if slices.Contains(fields, name) {
			return name
		}
	}
	return ""
}
