// Package sheet reads a page's front matter: its given values, figures, limits,
// checks, cautions and document control. It finds the order of the figures, infers
// their kinds, works cases out and runs the checks.
//
// It knows no HTML and no Markdown, and it writes nothing: it hands values and
// diagnostics to whoever renders or prints them.
package sheet

import (
	"strings"

	"labsite/recipes/source"
)

// split finds the front matter between two lines of three hyphens at the very start of
// a file, and where the body begins.
func split(f *source.File) (start, end, body int, list source.List) {
	if !strings.HasPrefix(f.Text, "---\n") && f.Text != "---" {
		return 0, 0, 0, source.List{source.NoFrontMatter().At(f.Span(0, min(3, len(f.Text))))}
	}
	start = 4
	for line := 2; line <= f.Lines(); line++ {
		if strings.TrimRight(f.Line(line), " \t") == "---" {
			end = f.Offset(line)
			body = min(end+len(f.Line(line))+1, len(f.Text))
			return start, end, body, nil
		}
	}
	return 0, 0, 0, source.List{source.FrontMatterOpen().At(f.Span(0, 3))}
}
