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
	block := -1      // indentation of the key of a block scalar being passed over
	quote := byte(0) // a quote still open from the lines before
	done := 0        // up to where a flow collection was looked at
	open := 0        // flow collections that do not close
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
		if at < done {
			continue
		}
		if quote != 0 {
			_, quote = quoteEnd(line, 0, quote)
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
			var end int
			if end, quote = quoteEnd(rest, 1, rest[0]); quote != 0 {
				continue
			}
			tail := strings.TrimLeft(rest[end:], " \t")
			if tail != "" && tail[0] != '#' && !(tail[0] == ':' && keyEnd < 0) {
				out = append(out, source.QuoteForYAML(rest[:1]).At(f.Span(at+from, at+from+1)))
			}
			continue
		case '{', '[':
			if open > mostFaults {
				continue // each is followed to the end of the text
			}
			flowEnd, list, closed := flowTraps(f, at+from, end)
			out = append(out, list...)
			if !closed {
				open++
				continue
			}
			tail, _, _ := strings.Cut(f.Text[flowEnd:], "\n")
			switch tail = strings.TrimSpace(tail); {
			case tail == "" || tail[0] == '#':
			case tail[0] == '}' || tail[0] == ']':
				extra := flowEnd + strings.IndexByte(f.Text[flowEnd:], tail[0])
				out = append(out, source.ClosesNothing(tail[:1]).At(f.Span(extra, extra+1)))
			default:
				out = append(out, source.QuoteForYAML(rest[:1]).At(f.Span(at+from, at+from+1)))
			}
			done = flowEnd
			continue
		case '-', '?':
			if keyEnd >= 0 && len(rest) > 1 && rest[1] == ' ' {
				out = append(out, source.QuoteForYAML(rest[:1]).At(f.Span(at+from, at+from+1)))
				continue
			}
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
				if close := strings.LastIndexAny(rest[:comment], "}]"); close == len(strings.TrimRight(rest[:comment], " "))-1 && !strings.ContainsAny(rest[:i], "{[") && unopened(rest[:comment]) {
					out = append(out, source.ClosesNothing(rest[close:close+1]).At(f.Span(at+from+close, at+from+close+1)))
					continue
				}
				out = append(out, source.QuoteForYAML("colon").At(f.Span(at+from+i, at+from+i+1)))
			}
		}
	}
	return out
}

// unopened tells whether a text closes more braces or brackets than it opens.
func unopened(text string) bool {
	return strings.Count(text, "}") > strings.Count(text, "{") || strings.Count(text, "]") > strings.Count(text, "[")
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

// quoteEnd finds the end of a quoted text in a line, from a place inside it: the offset
// behind the closing quote, or the quote still open at the end of the line.
func quoteEnd(line string, from int, quote byte) (end int, open byte) {
	for i := from; i < len(line); i++ {
		switch {
		case quote == '"' && line[i] == '\\':
			i++
		case line[i] == quote && quote == '\'' && i+1 < len(line) && line[i+1] == '\'':
			i++
		case line[i] == quote:
			return i + 1, 0
		}
	}
	return len(line), quote
}
