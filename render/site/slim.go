package site

import (
	"bytes"
	"path"
	"regexp"
	"strings"
)

var (
	styleComment  = regexp.MustCompile(`(?s)/\*.*?\*/`)
	blanksAtStart = regexp.MustCompile(`(?m)^[ \t]+`)
	emptyLines    = regexp.MustCompile(`\n{2,}`)
)

// slim leaves comments and blanks that mean nothing out of scripts and style sheets:
// readers on a phone pay for each byte. Line ends stay, since a script may need them.
func slim(name string, raw []byte) []byte {
	switch path.Ext(name) {
	case ".js":
		raw = slimScript(raw)
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

// slimScript copies a script without comments and without the blanks beside signs. Texts,
// templates and regular expressions are copied as they are.
func slimScript(js []byte) []byte {
	out := make([]byte, 0, len(js))
	last := func() byte {
		if len(out) == 0 {
			return '\n'
		}
		return out[len(out)-1]
	}
	for i := 0; i < len(js); {
		c := js[i]
		switch {
		case c == '\'' || c == '"' || c == '`':
			end := i + 1
			for end < len(js) && js[end] != c {
				if js[end] == '\\' {
					end++
				}
				end++
			}
			end = min(end+1, len(js))
			out = append(out, js[i:end]...)
			i = end
		case c == '/' && i+1 < len(js) && js[i+1] == '/':
			for i < len(js) && js[i] != '\n' {
				i++
			}
		case c == '/' && i+1 < len(js) && js[i+1] == '*':
			end := bytes.Index(js[i+2:], []byte("*/"))
			if end < 0 {
				return append(out, js[i:]...)
			}
			i += end + 4
		case c == '/' && patternBegins(out):
			end, class := i+1, false
			for end < len(js) && js[end] != '\n' && (js[end] != '/' || class) {
				switch js[end] {
				case '\\':
					end++
				case '[':
					class = true
				case ']':
					class = false
				}
				end++
			}
			end = min(end+1, len(js))
			out = append(out, js[i:end]...)
			i = end
		case c == ' ' || c == '\t' || c == '\r':
			end := i
			for end < len(js) && (js[end] == ' ' || js[end] == '\t' || js[end] == '\r') {
				end++
			}
			if end < len(js) && wanted(last(), js[end]) {
				out = append(out, ' ')
			}
			i = end
		default:
			if c == '\n' {
				for len(out) > 0 && out[len(out)-1] == ' ' {
					out = out[:len(out)-1]
				}
			}
			out = append(out, c)
			i++
		}
	}
	return out
}

// wanted tells whether a blank between two bytes keeps two words or two signs apart.
func wanted(a, b byte) bool {
	if a == '\n' || b == '\n' {
		return false
	}
	if inWord(a) && inWord(b) {
		return true
	}
	return a == b && (a == '+' || a == '-') || a == '/' || b == '/' || a == ' '
}

func inWord(c byte) bool {
	return c == '_' || c == '$' || c >= 0x80 || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

// patternBegins tells whether a slash after this text opens a regular expression and does
// not divide.
func patternBegins(out []byte) bool {
	text := strings.TrimRight(string(out[max(0, len(out)-12):]), " \n")
	if text == "" {
		return true
	}
	for _, word := range []string{"return", "typeof", "case", "of", "in"} {
		if rest, ok := strings.CutSuffix(text, word); ok && (rest == "" || !inWord(rest[len(rest)-1])) {
			return true
		}
	}
	return strings.IndexByte("(,=:[!&|?{};+-*%<>~^", text[len(text)-1]) >= 0
}
