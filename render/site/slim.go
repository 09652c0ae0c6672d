package site

import (
	"bytes"
	"path"
	"regexp"
)

var (
	styleComment  = regexp.MustCompile(`(?s)/\*.*?\*/`)
	blanksAtStart = regexp.MustCompile(`(?m)^[ \t]+`)
	emptyLines    = regexp.MustCompile(`\n{2,}`)
)

// slim leaves comments and blanks that mean nothing out of the built-in scripts and style
// sheets, and shortens the names that a script keeps to itself: readers on a phone pay for
// each byte. A lab's own files are published as they are.
func slim(name string, raw []byte) []byte {
	switch path.Ext(name) {
	case ".js":
		return slimScript(raw)
	case ".css":
		raw = slimStyle(blanksAtStart.ReplaceAll(styleComment.ReplaceAll(raw, nil), nil))
	default:
		return raw
	}
	return bytes.TrimLeft(emptyLines.ReplaceAll(raw, []byte("\n")), "\n")
}

// slimStyle copies a style sheet without the blanks and line ends beside braces, commas and
// semicolons, and after colons: before one a blank makes another selector.
func slimStyle(css []byte) []byte {
	out := make([]byte, 0, len(css))
	blank := false
	for i := 0; i < len(css); i++ {
		c := css[i]
		if c == ' ' || c == '\n' || c == '\t' {
			blank = true
			continue
		}
		if n := len(out); blank && n > 0 && bytes.IndexByte([]byte("{},;:"), out[n-1]) < 0 && bytes.IndexByte([]byte("{},;"), c) < 0 {
			out = append(out, ' ')
		}
		blank = false
		if n := len(out); c == '}' && n > 0 && out[n-1] == ';' {
			out = out[:n-1]
		}
		out = append(out, c)
		if c == '"' || c == '\'' {
			for i++; i < len(css); i++ {
				out = append(out, css[i])
				if css[i] == c {
					break
				}
				if css[i] == '\\' && i+1 < len(css) {
					i++
					out = append(out, css[i])
				}
			}
		}
	}
	return out
}
