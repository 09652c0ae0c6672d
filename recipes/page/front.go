package page

import (
	"strings"

	"labsite/recipes/source"
)

// split finds the front matter, between two lines of three hyphens at the very start of a
// file, and where the body begins.
func split(f *source.File) (start, end, body int, list source.List) {
	if !isFence(f.Line(1)) {
		return 0, 0, 0, source.List{source.NoFrontMatter().At(f.Span(0, min(3, len(f.Text))))}
	}
	start = min(len(f.Line(1))+1, len(f.Text))
	for line := 2; line <= f.Lines(); line++ {
		if isFence(f.Line(line)) {
			end = f.Offset(line)
			body = min(end+len(f.Line(line))+1, len(f.Text))
			return start, end, body, nil
		}
	}
	return 0, 0, 0, source.List{source.FrontMatterOpen().At(f.Span(0, 3))}
}

// isFence reports whether a line is three hyphens; spaces after them cannot be seen and are allowed.
func isFence(line string) bool { return strings.TrimRight(line, " \t") == "---" }

// Parts tells where a page's front matter is in its file and where its body begins; ok is
// false for a file without front matter.
func Parts(f *source.File) (start, end, body int, ok bool) {
	start, end, body, list := split(f)
	return start, end, body, list == nil
}
