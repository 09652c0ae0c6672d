package tree

import (
	"regexp"
	"strings"

	"labsite/recipes/source"
)

// flowTraps follows a collection in flow style, {…} or […], from its opening bracket and
// looks for texts that YAML reads differently from what was meant. It gives the offset
// after the closing bracket. Where the collection does not close, it reports at most one
// cause of that, a quote or a # that hides the bracket.
func flowTraps(f *source.File, start, limit int) (end int, list source.List, closed bool) {
	w := &flowWalk{file: f, text: f.Text, pos: start, limit: limit, lost: -1}
	if !w.collection(0) {
		if w.lost >= 0 {
			return start, source.List{source.NotClosed(f.Text[w.lost : w.lost+1]).At(f.Span(w.lost, w.lost+1))}, false
		}
		for _, d := range w.list {
			if d.Code == "cut-short" { // a comment hides the closing bracket
				return start, source.List{d}, false
			}
		}
		return start, nil, false
	}
	return w.pos, w.list, true
}

type flowWalk struct {
	file       *source.File
	text       string
	pos, limit int
	list       source.List
	// lost is the first quote that is not closed on its line, -1 for none. If the brackets do
	// not balance, it is the mistake, rather than a bracket or a later quote.
	lost int
}

func (w *flowWalk) trap(sign string, at int) {
	w.list = append(w.list, source.QuoteForYAML(sign).At(w.file.Span(at, at+1)))
}

func (w *flowWalk) at(i int) byte {
	if i < w.limit {
		return w.text[i]
	}
	return 0
}

// skip passes over spaces, line ends and comments.
func (w *flowWalk) skip() {
	for w.pos < w.limit {
		c := w.text[w.pos]
		switch {
		case isBlank(c) || c == '\n':
			w.pos++
		case c == '#' && w.afterBlank():
			w.comment()
		default:
			return
		}
	}
}

func (w *flowWalk) afterBlank() bool {
	return w.pos > 0 && (isBlank(w.text[w.pos-1]) || w.text[w.pos-1] == '\n')
}

func (w *flowWalk) comment() {
	for w.pos < w.limit && w.text[w.pos] != '\n' {
		w.pos++
	}
}

// collection reads from an opening bracket to its closing one; false if there is none.
func (w *flowWalk) collection(level int) bool {
	open := w.text[w.pos]
	w.pos++
	if level > mostNested {
		return false
	}
	for {
		w.skip()
		switch c := w.at(w.pos); c {
		case 0:
			return false
		case '}', ']':
			w.pos++
			return c == '}' == (open == '{')
		case ',', ':':
			w.pos++
			continue
		}
		if open == '{' {
			if !w.value(true, level) {
				return false
			}
			w.skip()
			if w.at(w.pos) != ':' {
				continue
			}
			w.pos++
			w.skip()
			if c := w.at(w.pos); c == ',' || c == '}' {
				continue
			}
		}
		if !w.value(false, level) {
			return false
		}
	}
}

// value reads a key or a value.
func (w *flowWalk) value(key bool, level int) bool {
	start := w.pos
	switch c := w.at(start); c {
	case '{', '[':
		if !w.collection(level + 1) {
			return false
		}
		return w.ends(string(c), start, key, level)
	case '"', '\'':
		if !w.quoted(c) {
			return false
		}
		if strings.IndexByte(w.text[start:w.pos], '\n') >= 0 && !w.endHere(key) {
			return false // another text's quote closed this one
		}
		return w.ends(string(c), start, key, level)
	case '&', '*', '!':
		word := w.text[start:w.limit]
		if i := strings.IndexAny(word, " ,}]\n"); i >= 0 {
			word = word[:i]
		}
		if len(word) > 1 && isAnchor(word) {
			w.pos += len(word)
			for isBlank(w.at(w.pos)) {
				w.pos++
			}
			if c == '*' {
				return true
			}
			return w.value(key, level)
		}
		w.trap(string(c), start)
	case '%', '@', '`', '|', '>':
		w.trap(string(c), start)
	case '-', '?':
		if isBlank(w.at(start + 1)) {
			w.trap(string(c), start)
		}
	}
	return w.plain(key, level)
}

// endHere reports whether a value can end here.
func (w *flowWalk) endHere(key bool) bool {
	rest := strings.TrimLeft(w.text[w.pos:w.limit], " \t")
	return rest == "" || strings.IndexByte(",}]\n#", rest[0]) >= 0 || key && rest[0] == ':'
}

// ends checks that only the end of the value follows a closing bracket or quote.
func (w *flowWalk) ends(sign string, start int, key bool, level int) bool {
	for isBlank(w.at(w.pos)) {
		w.pos++
	}
	switch w.at(w.pos) {
	case ',', '}', ']', '\n', '#', 0:
		return true
	case ':':
		if key {
			return true
		}
	}
	w.trap(sign, start)
	return w.plain(key, level)
}

func (w *flowWalk) quoted(quote byte) bool {
	start := w.pos
	for w.pos++; w.pos < w.limit; w.pos++ {
		switch c := w.text[w.pos]; {
		case c == '\\' && quote == '"':
			w.pos++
		case c == quote && quote == '\'' && w.at(w.pos+1) == '\'':
			w.pos++
		case c == quote:
			w.pos++
			return true
		case c == '\n' && w.lost < 0:
			w.lost = start
		}
	}
	return false
}

var lastWord = regexp.MustCompile(`\S +([a-z_]\w*)$`)

// unopened reports a quote that ends a text and has no partner. One after a digit may be an
// inch.
func (w *flowWalk) unopened(start int) {
	text := strings.TrimRight(w.text[start:w.pos], " \t")
	if len(text) < 2 || text[len(text)-2] >= '0' && text[len(text)-2] <= '9' {
		return
	}
	if sign := text[len(text)-1:]; (sign == `"` || sign == "'") && strings.Count(text, sign) == 1 && !strings.Contains(text, "\n") {
		at := start + len(text) - 1
		w.list = append(w.list, source.NotOpened(sign).At(w.file.Span(at, at+1)))
	}
}

// plain reads a text without quotes up to what ends it.
func (w *flowWalk) plain(key bool, level int) bool {
	start := w.pos
	for w.pos < w.limit {
		switch c := w.text[w.pos]; c {
		case ',', '}', ']':
			w.unopened(start)
			return true
		case '{', '[':
			at, told := w.pos, len(w.list)
			if !w.collection(level + 1) {
				return false
			}
			w.list = w.list[:told] // what is inside goes into the quotes as well
			sign := "brace"
			if c == '[' {
				sign = "bracket"
			}
			w.trap(sign, at)
			continue
		case '#':
			if w.afterBlank() {
				at := w.pos
				w.comment()
				if next := w.at(at + 1); !isBlank(next) && next != '\n' && next != 0 {
					w.list = append(w.list, source.CutShort(w.text[at:w.pos]).At(w.file.Span(at, w.pos)))
				}
				continue
			}
		case ':':
			next := w.at(w.pos + 1)
			blank := isBlank(next) || next == '\n'
			if key && (blank || next == ',' || next == '}' || next == ']') {
				return true
			}
			if blank && lastWord.MatchString(w.text[start:w.pos]) {
				word := lastWord.FindStringSubmatch(w.text[start:w.pos])[1]
				w.list = append(w.list, source.ColonOrComma(word).At(w.file.Span(w.pos, w.pos+1)))
			} else if blank {
				w.trap("colon", w.pos)
			}
		}
		w.pos++
	}
	return false
}
