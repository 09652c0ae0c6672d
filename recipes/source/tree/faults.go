package tree

import (
	"regexp"
	"strings"

	"labsite/recipes/source"
)

// findFaults searches lines that the YAML library could not read for the mistakes that
// people make: a colon or its space left out, a line too far in or out, a tab, a bracket
// or a quote that is not closed. It does not parse YAML: it follows indentation, and skips
// what it does not know. Each mistake is reported at its own line, and the search goes on.
func findFaults(f *source.File, start, end int) source.List {
	w := &lineWalk{file: f, end: end, levels: []level{{}}, block: -1, wrong: -1}
	first, _ := f.Place(start)
	last, _ := f.Place(max(start, end-1))
	for n := first; n <= last && len(w.list) < mostFaults && w.followed < mostFollowed; n++ {
		w.line(n)
	}
	w.reportPending(-1, false)
	if w.tabs > 0 {
		w.list = append(w.list, source.TabIndents(w.tabs).At(w.firstTab))
	}
	return w.list
}

const (
	mostFaults   = 50
	farAhead     = 20_000    // bytes in which the end of a bracket or a quote is looked for
	mostFollowed = 4_000_000 // bytes looked at in all such searches
)

// level is an indentation that lines are at: that of the keys of a mapping, or of the
// dashes of a list.
type level struct {
	indent int
	dashes bool
	name   string      // the last key, or the dash
	loose  bool        // made after a line whose depth is not known
	lines  int         // how many keys or dashes are at it
	first  source.Span // the indentation of the first of them
}

type lineWalk struct {
	file     *source.File
	end      int
	list     source.List
	levels   []level
	open     bool    // the last key has no value on its line
	block    int     // indentation of the key of a text below | or >; -1 outside one
	followed int     // bytes after brackets and quotes looked at so far
	done     int     // up to where brackets and quotes were followed
	inside   int     // indentation below which lines no longer belong to a bracket left open
	pending  []fault // texts that are a value, or keys without their colons if keys follow
	wrong    int     // indentation of the line that was reported last; its neighbours share the fault
	lost     bool    // the level of the last line is not known
	tabs     int
	firstTab source.Span
}

type fault struct {
	source.Problem
	at     source.Span
	indent int
	clear  bool // a word and a number, which is surely a key without its colon
}

func (w *lineWalk) tell(p source.Problem, start, end int) {
	w.list = append(w.list, p.At(w.file.Span(start, end)))
}

var (
	keyLike      = regexp.MustCompile(`^(?:"[^"]*"|'[^']*'|[^\s"'{}\[\],#&*!|>%@` + "`" + `-][^"'{}\[\]#]*?)\s*:(?:[ \t]|$)`)
	noColon      = regexp.MustCompile(`^([A-Za-z_][\w-]*|\d+) *([{\["'].*|[^:]*)$`)
	beforeOpen   = regexp.MustCompile(`^([A-Za-z_][\w-]*) +[{\["']`)
	noBlank      = regexp.MustCompile(`^([A-Za-z_][\w-]*|\d+):[^\s/:0-9]|^([A-Za-z_][\w-]*):\d`)
	keyAndNumber = regexp.MustCompile(`^([A-Za-z_]\w*) +\d[^:]*$`)
	dashNoBlank  = regexp.MustCompile(`^-[A-Za-z_{\["']`)
)

// line looks at one line.
func (w *lineWalk) line(n int) {
	text, at := w.file.Line(n), w.file.Offset(n)
	content := strings.TrimLeft(text, " \t")
	lead := text[:len(text)-len(content)]
	if content == "" || content[0] == '#' {
		return
	}
	indent := len(lead)
	if at < w.done {
		return
	}
	if w.block >= 0 && (indent > w.block || strings.HasPrefix(lead, "\t")) {
		return
	}
	w.block = -1
	if w.inside > 0 && indent >= w.inside {
		return
	}
	w.inside = 0
	if i := strings.IndexByte(lead, '\t'); i >= 0 {
		if w.tabs++; w.tabs == 1 {
			w.firstTab = w.file.Span(at+i, at+strings.LastIndexByte(lead, '\t')+1)
		}
		w.lost = true // there is no telling how deep it was meant to be
		return
	}
	pos, dashed := at+len(lead), false
	for content == "-" || strings.HasPrefix(content, "- ") || dashNoBlank.MatchString(content) && (w.top().dashes || w.open || keyLike.MatchString(content[1:])) {
		if content != "-" && content[1] != ' ' {
			w.tell(source.NoBlankAfterDash(content), pos, pos+1)
			pos--
			content = " " + content
		}
		indent = w.place(indent, pos, "-", true, true)
		rest := strings.TrimLeft(content[1:], " ")
		size := len(content) - len(rest)
		if content[0] == ' ' {
			rest = content[2:]
			size = 2
		}
		content, pos, indent, dashed = rest, pos+size, indent+size, true
		w.levels = append(w.levels, level{indent: indent})
		if content == "" {
			w.open = true
			return
		}
	}
	w.content(content, pos, indent, dashed)
}

func (w *lineWalk) top() *level { return &w.levels[len(w.levels)-1] }

// content looks at what is after the indentation and the dashes of a line.
func (w *lineWalk) content(content string, pos, indent int, dashed bool) {
	key := keyLike.FindString(content)
	switch {
	case key != "":
		name := strings.TrimRight(strings.TrimRight(key, " \t"), ":")
		w.place(indent, pos, strings.TrimSpace(name), false, dashed)
		rest := strings.TrimLeft(content[len(key):], " \t")
		w.value(rest, pos+len(content)-len(rest), indent)
		return
	case strings.IndexByte("{[\"'", content[0]) >= 0:
		w.value(content, pos, indent)
		return
	case w.continues(indent, dashed):
		return
	}
	if m := beforeOpen.FindStringSubmatch(content); m != nil && !dashed {
		w.place(indent, pos, m[1], false, dashed)
		w.tell(source.NoColon(m[1], strings.TrimSpace(content[len(m[1]):])), pos, pos+len(m[1]))
		rest := strings.TrimLeft(content[len(m[1]):], " ")
		w.value(rest, pos+len(content)-len(rest), indent)
		return
	}
	if m := noBlank.FindStringSubmatch(content); m != nil && (!dashed || strings.Contains(content, " ")) {
		name, rest, _ := strings.Cut(content, ":")
		w.place(indent, pos, name, false, dashed)
		w.tell(source.NoBlankAfterColon(name, rest), pos, pos+len(name)+1)
		return
	}
	m := noColon.FindStringSubmatch(content)
	if m == nil || dashed {
		w.open = false
		return
	}
	p := source.NoColon(m[1], strings.TrimSpace(m[2]))
	if len(w.pending) > 0 || w.open && indent > w.top().indent {
		w.pending = append(w.pending, fault{p, w.file.Span(pos, pos+len(m[1])), indent, m[2] != "" && m[2][0] >= '0' && m[2][0] <= '9'})
		w.open = false
		return
	}
	w.place(indent, pos, m[1], false, dashed)
	w.tell(p, pos, pos+len(m[1]))
}

// continues reports whether a line without a key goes on with the text of the line above.
func (w *lineWalk) continues(indent int, dashed bool) bool {
	if len(w.pending) > 0 {
		return indent > w.pending[0].indent
	}
	return !dashed && !w.open && indent > w.top().indent
}

// place finds the level of a line that holds a key or a dash, and reports a line that is at
// none. It gives the indentation that the line should have.
func (w *lineWalk) place(indent, pos int, name string, dash, dashed bool) int {
	open, top := w.open, w.top()
	w.open = false
	l := level{indent: indent, dashes: dash, name: name, first: w.file.Span(pos-indent, pos)}
	if w.reportPending(indent, dash) {
		w.levels = append(w.levels, level{indent: indent, lines: 1, first: l.first})
		top = w.top()
	}
	if dashed && !dash {
		top.name, top.lines, top.first = name, 1, l.first // the level was made with its dash
		return indent
	}
	switch {
	case w.lost:
		w.lost = false
		return w.acceptLevel(indent, l)
	case open && (indent > top.indent || dash && indent == top.indent && !top.dashes):
		l.lines = 1
		w.levels = append(w.levels, l)
		w.wrong = -1
		return indent
	case indent > top.indent && top.loose:
		return w.acceptLevel(indent, l)
	case indent > top.indent:
		return w.deeper(l, pos)
	case w.loose(indent):
		return w.acceptLevel(indent, l)
	}
	return w.back(l)
}

// deeper is for a line further in than the one above it, which opens no block.
func (w *lineWalk) deeper(l level, pos int) int {
	top := w.top()
	if l.dashes {
		return l.indent // a text that goes on with a dash
	}
	if w.wrong == l.indent {
		return top.indent
	}
	if w.firstIsWrong(l.indent, l.name, l.dashes) {
		return l.indent
	}
	w.tell(source.IndentedDeeper(l.indent, top.indent, top.name, top.name != ""), pos-l.indent+top.indent, pos)
	w.wrong = l.indent
	return top.indent
}

// back is for a line at a level seen before, or between two of them.
func (w *lineWalk) back(l level) int {
	top := w.top()
	upper := *top
	for len(w.levels) > 1 && (top.indent > l.indent || top.indent == l.indent && top.dashes && !l.dashes) {
		if below := w.levels[len(w.levels)-2]; below.indent < l.indent && w.firstIsWrong(l.indent, l.name, l.dashes) {
			return l.indent
		}
		upper = *top
		w.levels = w.levels[:len(w.levels)-1]
		top = w.top()
	}
	if top.indent == l.indent {
		top.name, w.wrong = l.name, -1
		top.lines++
		return l.indent
	}
	if w.firstIsWrong(l.indent, l.name, l.dashes) {
		return l.indent
	}
	outer := w.outer(len(w.levels), l.dashes)
	told := w.wrong == l.indent
	w.wrong = l.indent
	if upper.dashes != l.dashes {
		if !told {
			w.list = append(w.list, source.IndentedDeeper(l.indent, outer.indent, outer.name, false).At(l.first))
		}
		return outer.indent
	}
	if !told {
		w.list = append(w.list, source.IndentedBetween(l.indent, upper.indent, upper.name, outer.indent, outer.name).At(l.first))
	}
	upper.lines++
	w.levels = append(w.levels, upper)
	return upper.indent
}

// acceptLevel takes a line's level as it is, where a tab hid that of the line before.
func (w *lineWalk) acceptLevel(indent int, l level) int {
	for len(w.levels) > 1 && w.top().indent >= indent {
		w.levels = w.levels[:len(w.levels)-1]
	}
	if indent > 0 {
		l.loose, l.lines = true, 2
		w.levels = append(w.levels, l)
	}
	return indent
}

// loose reports whether a line that is at no known level ends one whose depth is uncertain.
func (w *lineWalk) loose(indent int) bool {
	loose := false
	for i := len(w.levels) - 1; i >= 0 && w.levels[i].indent >= indent; i-- {
		if w.levels[i].indent == indent {
			return false
		}
		loose = loose || w.levels[i].loose
	}
	return loose
}

// reportPending reports the pending texts that were keys without their colons: all of them if keys
// go on at their indentation, otherwise those that can be nothing else.
func (w *lineWalk) reportPending(indent int, dash bool) bool {
	all := len(w.pending) > 0 && w.pending[0].indent == indent && !dash
	for _, p := range w.pending {
		if all || p.clear {
			w.list = append(w.list, p.At(p.at))
		}
	}
	w.pending = nil
	return all
}

// firstIsWrong reports whether the one line that made the last level is the mistake, rather
// than the next, which is indented differently: the first at an odd number of spaces, the next
// at an even one. The level is then corrected, with the dash that its line may begin with.
func (w *lineWalk) firstIsWrong(indent int, name string, dash bool) bool {
	at := len(w.levels) - 1
	l := &w.levels[at]
	if at == 0 || l.lines != 1 || l.first.File == nil || l.dashes != dash {
		return false
	}
	more, got, below := indent-l.indent, l.indent, at-1
	if b := &w.levels[below]; b.dashes && below > 0 && b.lines == 1 && b.first.Start == l.first.Start {
		got = b.indent
		below--
	}
	outer := &w.levels[below]
	if want := got + more; !odd(got, outer.indent) || odd(want, outer.indent) || want < outer.indent {
		return false
	}
	lead := w.file.Span(l.first.Start, l.first.Start+max(got, 1))
	if more < 0 {
		w.list = append(w.list, source.IndentedDeeper(got, got+more, outer.name, false).At(lead))
	} else {
		w.list = append(w.list, source.IndentedLess(got, got+more, name).At(lead))
	}
	if below < at-1 {
		w.levels[at-1].indent += more
	}
	l.indent, l.name = indent, name
	l.lines++
	return true
}

// outer is the level, below some, at which a key, or a dash, can stand.
func (w *lineWalk) outer(below int, dash bool) level {
	for i := below - 1; i > 0; i-- {
		if w.levels[i].dashes == dash {
			return w.levels[i]
		}
	}
	return w.levels[0]
}

// odd reports whether an indentation is not a whole number of steps of two from another.
func odd(a, b int) bool { return (a-b)%2 != 0 }

// value looks at the value of a key, or at an item of a list.
func (w *lineWalk) value(text string, pos, indent int) {
	w.open = text == "" || text[0] == '#'
	if w.open {
		return
	}
	switch text[0] {
	case '|', '>':
		w.block = indent
	case '&', '!':
		w.open = !strings.Contains(text, " ")
	case '"', '\'':
		w.quote(text, pos, indent)
	case '{', '[':
		w.flow(text, pos, indent)
	}
}

// quote follows a quoted text. It may go on over lines that are indented deeper.
func (w *lineWalk) quote(text string, pos, indent int) {
	if _, open := quoteEnd(text, 1, text[0]); open == 0 {
		return
	}
	n, _ := w.file.Place(pos)
	w.followed += min(w.end-pos, farAhead)
	for n++; n <= w.file.Lines() && w.file.Offset(n) < min(w.end, pos+farAhead); n++ {
		line := w.file.Line(n)
		deeper := len(line) - len(strings.TrimLeft(line, " "))
		if strings.TrimSpace(line) == "" {
			continue
		}
		if deeper <= indent {
			break
		}
		if _, open := quoteEnd(line, 0, text[0]); open == 0 {
			w.done = w.file.Offset(n) + len(line)
			return
		}
	}
	w.tell(source.NotClosed(text[:1]), pos, pos+1)
}

// flow follows brackets. They may go on over lines as long as they close.
func (w *lineWalk) flow(text string, pos, indent int) {
	w.followed += min(w.end-pos, farAhead)
	end, traps, closed := flowTraps(w.file, pos, min(w.end, pos+farAhead))
	if !closed && len(traps) > 0 {
		return // what hid the closing bracket is reported already
	}
	if closed {
		w.done = end
		w.inBraces(w.file.Text[pos:end], pos)
		return
	}
	w.tell(source.NotClosed(text[:1]), pos, pos+1)
	if last := strings.TrimRight(text, " \t"); strings.HasSuffix(last, ",") || len(last) == 1 {
		w.inside = indent + 1 // its keys follow, each on a line of its own
	}
}

// inBraces looks at the keys of a mapping in braces that has no further brackets.
func (w *lineWalk) inBraces(text string, pos int) {
	if text[0] != '{' || strings.ContainsAny(text[1:], "{[\"'\n") {
		return
	}
	at := pos + 1
	for part := range strings.SplitSeq(strings.TrimSuffix(text[1:], "}"), ",") {
		key := strings.TrimLeft(part, " ")
		from := at + len(part) - len(key)
		at += len(part) + 1
		if m := keyAndNumber.FindStringSubmatch(key); m != nil && !strings.Contains(text, "(") {
			w.tell(source.NoColon(m[1], strings.TrimSpace(key[len(m[1]):])), from, from+len(m[1]))
		}
	}
}
