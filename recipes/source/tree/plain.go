package tree

import (
	"strings"

	"labsite/recipes/source"
)

// plain reads YAML in the plain style that almost every page has: block
// mappings and lists, flow mappings and lists, texts of one line, bare or in double
// quotes without escapes. It stops at the first thing that is not so, and the page is
// then read by the YAML library from the start. It is here for speed alone: the library
// takes an eighth of a first publish, and a sixth of the memory that it asks for.
// TestPlainAgreesWithTheLibrary and FuzzPlain hold it to give what the library gives, value
// for value and place for place, or nothing.
type plain struct {
	file  *source.File
	src   string
	lines []plainLine
	next  int // index in lines
	at    int // offset in src, in flow style
	end   int // of the YAML in src
	count int
}

// plainLine is a line that is not empty: where its text starts and ends, and how far it is
// indented.
type plainLine struct{ start, end, indent int }

// mostPlain is how many values are read so; pages with more go to the library and its
// bounds.
const mostPlain = 4_000

// readPlain reads the YAML between two offsets, or gives nil.
func readPlain(f *source.File, start, end int) *Value {
	p := &plain{file: f, src: f.Text, end: end}
	text := p.src[start:end]
	if strings.ContainsAny(text, "\t\\\u00a0\u0085\u2028\u2029\ufeff") {
		return nil
	}
	p.lines = make([]plainLine, 0, strings.Count(text, "\n")+1)
	for at := start; at < end; {
		stop := at + strings.IndexByte(p.src[at:end], '\n')
		if stop < at {
			stop = end
		}
		from, to := at, stop
		for from < to && p.src[from] == ' ' {
			from++
		}
		if at < to && p.src[to-1] == ' ' {
			return nil
		}
		if from < to {
			if p.src[from] == '#' || to-from >= 3 && from == at && p.src[from:from+3] == "..." {
				return nil
			}
			p.lines = append(p.lines, plainLine{from, to, from - at})
		}
		at = stop + 1
	}
	if len(p.lines) == 0 || p.lines[0].indent != 0 {
		return nil
	}
	v := p.block(0, 0)
	if v == nil || v.Shape != Mapping || p.next < len(p.lines) {
		return nil
	}
	return v
}

// block reads the mapping or list that the next line begins, indented so far.
func (p *plain) block(indent, level int) *Value {
	if level > mostNested/4 {
		return nil
	}
	if p.isItem(p.lines[p.next].start) {
		return p.list(indent, level)
	}
	return p.mapping(indent, level)
}

func (p *plain) isItem(at int) bool { return strings.HasPrefix(p.src[at:], "- ") }

func (p *plain) list(indent, level int) *Value {
	v := &Value{Shape: List, Span: p.file.Span(p.lines[p.next].start, p.lines[p.next].start+1)}
	for p.next < len(p.lines) && p.lines[p.next].indent == indent {
		line := &p.lines[p.next]
		if !p.isItem(line.start) {
			return nil
		}
		at := line.start + 2
		for at < line.end && p.src[at] == ' ' {
			at++
		}
		if p.isItem(at) {
			return nil
		}
		var item *Value
		if size := p.keyLength(at, line.end); size > 0 {
			// a mapping that begins behind the hyphen is indented as far as its first key
			line.indent += at - line.start
			line.start = at
			item = p.mapping(line.indent, level+1)
		} else {
			item = p.inline(at, line.end, indent)
		}
		if item == nil {
			return nil
		}
		v.Items = append(v.Items, item)
	}
	return p.closed(v, indent)
}

func (p *plain) mapping(indent, level int) *Value {
	v := &Value{Shape: Mapping}
	for p.next < len(p.lines) && p.lines[p.next].indent == indent {
		line := p.lines[p.next]
		size := p.keyLength(line.start, line.end)
		if size == 0 {
			return nil
		}
		key := p.scalar(line.start, line.start+size)
		if key != nil && len(v.Keys) == 0 {
			v.Span = key.Span
		}
		at := line.start + size + 1
		for at < line.end && p.src[at] == ' ' {
			at++
		}
		var item *Value
		if at < line.end {
			item = p.inline(at, line.end, indent)
		} else if p.next++; p.next < len(p.lines) && p.lines[p.next].indent > indent {
			item = p.block(p.lines[p.next].indent, level+1)
		}
		if item == nil || !p.pair(v, key, item) {
			return nil
		}
	}
	return p.closed(v, indent)
}

// closed gives a block back where it has ended: what follows stands further out.
func (p *plain) closed(v *Value, indent int) *Value {
	if p.next < len(p.lines) && p.lines[p.next].indent > indent {
		return nil
	}
	return v
}

func (p *plain) pair(v, key, item *Value) bool {
	if key == nil {
		return false
	}
	for _, k := range v.Keys {
		if k.Text == key.Text {
			return false
		}
	}
	item.Key = key.Span
	v.Keys, v.Items = append(v.Keys, key), append(v.Items, item)
	return true
}

// keyLength is the length of a key of letters, digits and _ that a colon and a blank or
// the end follow; 0 where there is none.
func (p *plain) keyLength(at, end int) int {
	n := 0
	for at+n < end && (isNameByte(p.src[at+n]) || p.src[at+n] >= 'A' && p.src[at+n] <= 'Z') {
		n++
	}
	if n == 0 || at+n >= end || p.src[at+n] != ':' || at+n+1 < end && p.src[at+n+1] != ' ' || isNull(p.src[at:at+n]) {
		return 0
	}
	return n
}

func isNameByte(c byte) bool { return c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_' }

// isNull tells the words that YAML reads as nothing.
func isNull(text string) bool {
	switch text {
	case "null", "Null", "NULL", "~":
		return true
	}
	return false
}

// inline reads the value between at and the line's end, behind a key or a hyphen, and
// goes on to the next line; a line that goes on with it is not plain.
func (p *plain) inline(at, end, indent int) *Value {
	var v *Value
	switch p.src[at] {
	case '{', '[':
		p.at = at
		if v = p.flow(0); v == nil || p.at != end {
			return nil
		}
	case '"':
		if n := strings.IndexByte(p.src[at+1:end], '"'); n < 0 || at+1+n != end-1 {
			return nil
		}
		v = p.scalar(at, end)
	default:
		if !p.bare(at, end, false) {
			return nil
		}
		v = p.scalar(at, end)
	}
	p.next++
	if v == nil || p.next < len(p.lines) && p.lines[p.next].indent > indent {
		return nil
	}
	return v
}

// bare tells whether a text stands for itself without quotes.
func (p *plain) bare(at, end int, flow bool) bool {
	text := p.src[at:end]
	if text == "" || isNull(text) {
		return false
	}
	c := text[0]
	switch {
	case c == '-' && len(text) > 1 && (text[1] >= '0' && text[1] <= '9'):
	case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '(', c >= 0x80:
	default:
		return false
	}
	special := ":#"
	if flow {
		special = ":#{}[],\"'"
	}
	return !strings.ContainsAny(text, special)
}

// scalar makes the value of a text from at to end, quotes included.
func (p *plain) scalar(at, end int) *Value {
	if p.count++; p.count > mostPlain {
		return nil
	}
	text := p.src[at:end]
	if text[0] == '"' {
		// no escapes and no line ends: the text stands between the quotes just so
		text = text[1 : len(text)-1]
		return &Value{Shape: Scalar, Text: text, Span: p.file.Span(at+1, at+1+max(len(text), 1)), inQuotes: true}
	}
	return &Value{Shape: Scalar, Text: text, Span: p.file.Span(at, end)}
}

// flow reads what begins with a bracket or brace at p.at, all on one line.
func (p *plain) flow(level int) *Value {
	if level > mostNested/4 {
		return nil
	}
	closing := byte(']')
	v := &Value{Shape: List, Span: p.file.Span(p.at, p.at+1), Flow: true}
	if p.src[p.at] == '{' {
		v.Shape, closing = Mapping, '}'
	}
	for p.at++; ; p.at++ { // behind the bracket or a comma
		p.blanks()
		var key *Value
		if v.Shape == Mapping {
			size := p.keyLength(p.at, p.end)
			if size == 0 {
				return nil
			}
			key = p.scalar(p.at, p.at+size)
			p.at += size + 1
			p.blanks()
		}
		item := p.flowItem(level)
		if item == nil || v.Shape == Mapping && !p.pair(v, key, item) {
			return nil
		}
		if v.Shape == List {
			v.Items = append(v.Items, item)
		}
		p.blanks()
		if p.at >= p.end {
			return nil
		}
		if p.src[p.at] == closing {
			p.at++
			return v
		}
		if p.src[p.at] != ',' {
			return nil
		}
	}
}

func (p *plain) flowItem(level int) *Value {
	if p.at >= p.end {
		return nil
	}
	at := p.at
	switch p.src[at] {
	case '{', '[':
		return p.flow(level + 1)
	case '"':
		n := strings.IndexAny(p.src[at+1:p.end], "\"\n")
		if n < 0 || p.src[at+1+n] == '\n' {
			return nil
		}
		p.at = at + n + 2
		return p.scalar(at, p.at)
	}
	n := strings.IndexAny(p.src[at:p.end], ",]}\n")
	if n < 0 {
		return nil
	}
	p.at = at + n
	text := strings.TrimRight(p.src[at:p.at], " ")
	if !p.bare(at, at+len(text), true) {
		return nil
	}
	return p.scalar(at, at+len(text))
}

func (p *plain) blanks() {
	for p.at < p.end && p.src[p.at] == ' ' {
		p.at++
	}
}
