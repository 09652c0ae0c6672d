package tree

import (
	"strings"

	"labsite/recipes/source"
)

// findTraps looks at the raw lines for what YAML reads differently from what its writer meant:
// a colon, a comma, a brace or a # in a text that needs quotes. All are errors, including the
// text that YAML would silently cut short.
func findTraps(f *source.File, start, end int) source.List {
	w := &trapWalk{file: f, limit: end, block: -1}
	first, _ := f.Place(start)
	last, _ := f.Place(max(start, end-1))
	for n := first; n <= last; n++ {
		w.line(n)
	}
	return w.list
}

// trapWalk goes through YAML line by line, and looks at the first value of each.
type trapWalk struct {
	file  *source.File
	limit int // where the YAML ends
	list  source.List
	block int  // indentation of the key of a block scalar being passed over, -1 outside of one
	quote byte // a quote still open from the lines before
	done  int  // up to where a flow collection was looked at
	open  int  // flow collections that do not close
}

// lineValue is what is on a line after its dashes and its key.
type lineValue struct {
	text  string
	at    int // its offset in the file
	keyed bool
}

// tell reports a problem of a part of a value.
func (w *trapWalk) tell(p source.Problem, v lineValue, start, end int) {
	w.list = append(w.list, p.At(w.file.Span(v.at+start, v.at+end)))
}

// needsQuotes reports the sign that a value begins with.
func (w *trapWalk) needsQuotes(v lineValue) { w.tell(source.QuoteForYAML(v.text[:1]), v, 0, 1) }

func (w *trapWalk) line(n int) {
	line, at := w.file.Line(n), w.file.Offset(n)
	indent := len(line) - len(strings.TrimLeft(line, " "))
	if strings.TrimSpace(line) == "" || w.within(line, at, indent) {
		return
	}
	pos := afterDashes(line, indent)
	if pos >= len(line) || line[pos] == '#' {
		return
	}
	from, keyed := afterKey(line, pos)
	if from >= len(line) {
		return
	}
	v := lineValue{line[from:], at + from, keyed}
	switch v.text[0] {
	case '#':
	case '|', '>':
		if !isBlockHead(v.text) {
			w.needsQuotes(v)
			return
		}
		w.block = indent
		if pos > indent {
			w.block = pos - 1
		}
	case '"', '\'':
		w.quoted(v)
	case '{', '[':
		w.flow(v)
	case '&', '*', '!', '%', '@', '`':
		if strings.IndexByte("&*!", v.text[0]) < 0 || len(v.text) < 2 || v.text[1] == ' ' || !isAnchor(v.text) {
			w.needsQuotes(v)
		}
	case '-', '?':
		if keyed && len(v.text) > 1 && v.text[1] == ' ' {
			w.needsQuotes(v)
			return
		}
		w.plain(v)
	default:
		w.plain(v)
	}
}

// within reports whether a line continues a value that began on a line before it.
func (w *trapWalk) within(line string, at, indent int) bool {
	switch {
	case w.block >= 0 && indent > w.block:
		return true
	case at < w.done:
		w.block = -1
		return true
	case w.quote != 0:
		w.block = -1
		_, w.quote = quoteEnd(line, 0, w.quote)
		return true
	}
	w.block = -1
	return false
}

// afterDashes is where a line's key or value begins.
func afterDashes(line string, pos int) int {
	for strings.HasPrefix(line[pos:], "- ") {
		pos += 2
		for pos < len(line) && line[pos] == ' ' {
			pos++
		}
	}
	return pos
}

// afterKey is where a line's value begins, and whether a key is before it; the line's end if it
// has no value.
func afterKey(line string, pos int) (from int, keyed bool) {
	from = pos
	if strings.IndexByte(`"'{[`, line[pos]) < 0 {
		if i := strings.Index(line[pos:], ": "); i >= 0 {
			from, keyed = pos+i+2, true
		} else if strings.HasSuffix(strings.TrimRight(line, " "), ":") {
			return len(line), true
		}
	}
	for from < len(line) && line[from] == ' ' {
		from++
	}
	return from, keyed
}

// isBlockHead reports whether a | or a > begins a block scalar.
func isBlockHead(text string) bool {
	head := strings.TrimRight(text[1:], " ")
	return strings.Trim(head, "0123456789+-") == "" || strings.HasPrefix(strings.TrimLeft(head, "0123456789+-"), " #")
}

func (w *trapWalk) quoted(v lineValue) {
	end, open := quoteEnd(v.text, 1, v.text[0])
	if w.quote = open; open != 0 {
		return
	}
	tail := strings.TrimLeft(v.text[end:], " \t")
	if tail != "" && tail[0] != '#' && !(tail[0] == ':' && !v.keyed) {
		w.needsQuotes(v)
	}
}

func (w *trapWalk) flow(v lineValue) {
	if w.open > mostFaults {
		return // each is followed to the end of the text
	}
	end, list, closed := flowTraps(w.file, v.at, w.limit)
	w.list = append(w.list, list...)
	if !closed {
		w.open++
		return
	}
	tail, _, _ := strings.Cut(w.file.Text[end:], "\n")
	switch tail = strings.TrimSpace(tail); {
	case tail == "" || tail[0] == '#':
	case tail[0] == '}' || tail[0] == ']':
		extra := end + strings.IndexByte(w.file.Text[end:], tail[0])
		w.list = append(w.list, source.ClosesNothing(tail[:1]).At(w.file.Span(extra, extra+1)))
	default:
		w.needsQuotes(v)
	}
	w.done = end
}

// plain looks at a value without quotes: a # that cuts it short, and a colon that makes a key
// of it.
func (w *trapWalk) plain(v lineValue) {
	said := v.text
	if i := strings.Index(v.text, " #"); i >= 0 {
		said = v.text[:i]
		if i+2 < len(v.text) && v.text[i+2] != ' ' {
			w.tell(source.CutShort(v.text[i+1:]), v, i+1, len(v.text))
		}
	}
	if !v.keyed {
		return
	}
	i := strings.Index(said+" ", ": ")
	if i < 0 {
		return
	}
	last := strings.LastIndexAny(said, "}]")
	if last == len(strings.TrimRight(said, " "))-1 && !strings.ContainsAny(said[:i], "{[") && unopened(said) {
		w.tell(source.ClosesNothing(said[last:last+1]), v, last, last+1)
		return
	}
	w.tell(source.QuoteForYAML("colon"), v, i, i+1)
}

// unopened reports whether a text closes more braces or brackets than it opens.
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
// after the closing quote, or the quote still open at the end of the line.
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
