package language

import (
	"net/url"
	"path"
	"path/filepath"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"labsite/recipes/source"
)

// Places of the protocol count lines from 0, and UTF-16 units within a line.

// placeOf turns an offset of a file into a place of the protocol.
func placeOf(f *source.File, offset int) position {
	offset = min(max(offset, 0), len(f.Text))
	line, _ := f.Place(offset)
	return position{line - 1, units(f.Text[f.Offset(line):offset])}
}

func rangeOf(f *source.File, start, end int) textRange {
	return textRange{placeOf(f, start), placeOf(f, end)}
}

// offsetOf turns a place of the protocol into an offset; one outside the text moves to the nearest
// end.
func offsetOf(f *source.File, p position) int {
	switch {
	case p.Line < 0:
		return 0
	case p.Line >= f.Lines():
		return len(f.Text)
	}
	text := f.Line(p.Line + 1)
	n := 0
	for i, r := range text {
		if n >= p.Character {
			return f.Offset(p.Line+1) + i
		}
		n += utf16.RuneLen(r)
	}
	return f.Offset(p.Line+1) + len(text)
}

// units counts the UTF-16 units of a text.
func units(text string) (n int) {
	for _, r := range text {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

// rangeOfDiagnostic is the part that a diagnostic marks, on its line.
func rangeOfDiagnostic(d source.Diagnostic) textRange {
	text, width := d.Marked()
	start := byRunes(text, d.Column-1)
	end := start + byRunes(text[start:], width)
	line := max(0, d.Line-1)
	from := units(text[:start])
	return textRange{position{line, from}, position{line, from + units(text[start:end])}}
}

// byRunes is the length in bytes of the first n characters of a text.
func byRunes(text string, n int) (bytes int) {
	for ; n > 0 && bytes < len(text); n-- {
		_, size := utf8.DecodeRuneInString(text[bytes:])
		bytes += size
	}
	return bytes
}

// folder is the content folder, by the paths that a client may use for it.
type folder struct {
	path string // absolute
	real string // the same without symbolic links
}

func newFolder(dir string) (folder, error) {
	full, err := filepath.Abs(dir)
	if err != nil {
		return folder{}, err
	}
	real, err := filepath.EvalSymlinks(full)
	if err != nil {
		real = full
	}
	return folder{full, real}, nil
}

// within returns the path of a file in the content folder, with slashes; ok is false if the address
// is not a file's or lies outside.
func (f folder) within(uri string) (p string, ok bool) {
	full, ok := pathOf(uri)
	if !ok {
		return "", false
	}
	for _, top := range []string{f.path, f.real} {
		rel, err := filepath.Rel(top, full)
		if err == nil && filepath.IsLocal(rel) && rel != "." {
			return filepath.ToSlash(rel), true
		}
	}
	return "", false
}

// address is the address of a file in the content folder.
func (f folder) address(p string) string {
	full := filepath.ToSlash(filepath.Join(f.path, filepath.FromSlash(p)))
	if !strings.HasPrefix(full, "/") {
		full = "/" + full
	}
	u := url.URL{Scheme: "file", Path: full}
	return u.String()
}

// pathOf is the path in a file's address; ok is false for any other address.
func pathOf(uri string) (full string, ok bool) {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" || u.Path == "" || strings.ContainsRune(u.Path, 0) {
		return "", false
	}
	full = path.Clean(u.Path)
	if len(full) > 2 && full[0] == '/' && full[2] == ':' { // a drive
		full = full[1:]
	}
	return filepath.FromSlash(full), true
}
