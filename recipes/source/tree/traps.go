package tree

import (
	"strings"

	"labsite/recipes/source"
)

// findTraps looks at the raw lines for what YAML reads otherwise than its writer meant:
// a colon, a comma, a brace or a # in a text that needs quotes. Those that YAML would
// choke on come as errors, and the one that it silently cuts short as well.
func findTraps(f *source.File, start, end int) source.List {
	var out source.List
	first, _ := f.Place(start)
	last, _ := f.Place(max(start, end-1))
	block := -1 // indentation of the key of a block scalar being passed over
	open := 0   // flow brackets still open from the lines before
	quote := byte(0)
	for n := first; n <= last; n++ {
		line := f.Line(n)
		indent := len(line) - len(strings.TrimLeft(line, " "))
		if strings.TrimSpace(line) == "" {
			continue
		}
		if block >= 0 {
			if indent > block {
				continue
			}
			block = -1
		}
		at := f.Offset(n)
		if open > 0 || quote != 0 {
			open, quote = flowState(line, open, quote)
			continue
		}
		pos := indent
		for strings.HasPrefix(line[pos:], "- ") {
			pos += 2
			for pos < len(line) && line[pos] == ' ' {
				pos++
			}
		}
		if pos >= len(line) || line[pos] == '#' {
			continue
		}
		isValue := line[pos] == '"' || line[pos] == '\'' || line[pos] == '{' || line[pos] == '['
		keyEnd := -1
		if !isValue {
			if i := strings.Index(line[pos:], ": "); i >= 0 {
				keyEnd = pos + i + 2
			} else if strings.HasSuffix(strings.TrimRight(line, " "), ":") {
				continue
			}
		}
		from := pos
		if keyEnd >= 0 {
			from = keyEnd
		}
		for from < len(line) && line[from] == ' ' {
			from++
		}
		if from >= len(line) {
			continue
		}
		rest := line[from:]
		switch rest[0] {
		case '#':
			continue
		case '|', '>':
			if head := strings.TrimRight(rest[1:], " "); strings.Trim(head, "0123456789+-") == "" || strings.HasPrefix(strings.TrimLeft(head, "0123456789+-"), " #") {
				block = indent
				if pos > indent {
					block = pos - 1
				}
				continue
			}
			out = append(out, source.QuoteForYAML(string(rest[0])).At(f.Span(at+from, at+from+1)))
			continue
		case '"', '\'':
			open, quote = flowState(rest, 0, 0)
			continue
		case '{', '[':
			o, q := flowState(rest, 0, 0)
			if o == 0 && q == 0 {
				if i := flowEnd(rest); i > 0 && i < len(rest) {
					if tail := strings.TrimSpace(rest[i:]); tail != "" && tail[0] != '#' {
						out = append(out, source.QuoteForYAML(string(rest[0])).At(f.Span(at+from, at+from+1)))
					}
				}
			}
			open, quote = o, q
			continue
		case '&', '*', '!', '%', '@', '`':
			if (rest[0] == '&' || rest[0] == '*' || rest[0] == '!') && len(rest) > 1 && rest[1] != ' ' && isAnchor(rest) {
				continue
			}
			out = append(out, source.QuoteForYAML(string(rest[0])).At(f.Span(at+from, at+from+1)))
			continue
		}
		comment := len(rest)
		if i := strings.Index(rest, " #"); i >= 0 {
			comment = i
			if i+2 < len(rest) && rest[i+2] != ' ' {
				out = append(out, source.CutShort(rest[i+1:]).At(f.Span(at+from+i+1, at+from+len(rest))))
			}
		}
		if keyEnd >= 0 {
			if i := strings.Index(rest[:comment]+" ", ": "); i >= 0 {
				out = append(out, source.QuoteForYAML("colon").At(f.Span(at+from+i, at+from+i+1)))
			}
		}
	}
	return out
}

func isAnchor(text string) bool {
	for i := 1; i < len(text); i++ {
		c := text[i]
		if c == ' ' {
			return true
		}
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-' || c == '!') {
			return false
		}
	}
	return true
}

// flowState follows brackets and quotes through a line.
func flowState(line string, open int, quote byte) (int, byte) {
	open, quote, _ = flowScan(line, open, quote, false)
	return open, quote
}

// flowEnd is where the bracket that begins the text is closed, or -1.
func flowEnd(text string) int {
	_, _, at := flowScan(text, 0, 0, true)
	return at
}

func flowScan(line string, open int, quote byte, stop bool) (int, byte, int) {
	for i := 0; i < len(line); i++ {
		c := line[i]
		switch {
		case quote == '"' && c == '\\':
			i++
		case quote != 0:
			if c == quote {
				if quote == '\'' && i+1 < len(line) && line[i+1] == '\'' {
					i++
				} else {
					quote = 0
				}
			}
		case (c == '"' || c == '\'') && (i == 0 || strings.IndexByte(" {[,:", line[i-1]) >= 0):
			quote = c
		case c == '{' || c == '[':
			open++
		case c == '}' || c == ']':
			open = max(0, open-1)
			if stop && open == 0 {
				return open, quote, i + 1
			}
		case c == '#' && i > 0 && line[i-1] == ' ':
			return open, quote, -1
		}
	}
	return open, quote, -1
}
