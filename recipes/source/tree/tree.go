package tree

import (
	"errors"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"labsite/recipes/source"
)

// Shape is what a YAML value is.
type Shape uint8

// The shapes; Nothing is a key without a value.
const (
	Scalar Shape = iota
	List
	Mapping
	Nothing
)

// Value is a piece of YAML with its place. Scalars are read as written, never
// by YAML's own rules for numbers and truth.
type Value struct {
	Shape Shape
	// Text is a scalar's.
	Text string
	Span source.Span
	// back gives the file's offset for each byte of a scalar's text; nil if the text
	// is in the file verbatim, from span.Start.
	back []int
	// Items are those of a list, or the values of a mapping beside its Keys.
	Items []*Value
	Keys  []*Value
	// Flow says that it is written in brackets or braces.
	Flow bool
	// Key is the place of the key that it is the value of; its file is nil for an item of a
	// list and for the whole.
	Key source.Span
}

// Place turns bytes of a scalar's text into a span of the file.
func (v *Value) Place(start, end int) source.Span {
	if v.back == nil {
		return v.Span.File.Span(v.Span.Start+start, v.Span.Start+end)
	}
	at := func(i int) int { return v.back[min(max(i, 0), len(v.back)-1)] }
	if end <= start {
		return v.Span.File.Span(at(start), at(start))
	}
	return v.Span.File.Span(at(start), at(end-1)+1)
}

// Get finds a key's value in a mapping, or nil.
func (v *Value) Get(key string) *Value {
	if v == nil {
		return nil
	}
	for i, k := range v.Keys {
		if k.Text == key {
			return v.Items[i]
		}
	}
	return nil
}

// Bounds of front matter: far beyond any page, and small enough that none is slow.
const (
	mostValues = 50_000
	mostKeys   = 8_000 // the YAML library takes a minute for fifty thousand in one map
	mostNested = 64
)

type converter struct {
	file    *source.File
	offset  int // of the front matter in the file
	line    int // of its first line
	anchors map[string]ast.Node
	count   int
	list    source.List
	closing map[string]bool
	// mistaken says that a key holds a bracket or a quote: expect {a: 1} for expect: {a: 1}
	mistaken bool
	// signed says that a text began with a sign of YAML's own, so that what it says is lost.
	signed bool
	// columns are the offsets of the characters of the line that was measured last, since one
	// line can hold many values
	measured int
	columns  []int
}

var keyAndValue = regexp.MustCompile(`^([A-Za-z_]\w*) +\S`)

// MissedKeys looks, in a text where keys were expected, for keys without their colon or the space
// after it, each on a line of its own.
func (v *Value) MissedKeys() source.List {
	var list source.List
	f := v.Span.File
	first, _ := f.Place(v.Span.Start)
	last, _ := f.Place(max(v.Span.Start, v.Span.End-1))
	for n := first; n <= last; n++ {
		at := f.Offset(n)
		line := strings.TrimRight(f.Line(n), " ")
		text := strings.TrimLeft(line, " -")
		at += len(line) - len(text)
		if n == first && at != v.Span.Start {
			return nil // after its key
		}
		if noBlank.MatchString(text) {
			name, rest, _ := strings.Cut(text, ":")
			list = append(list, source.NoBlankAfterColon(name, rest).At(f.Span(at, at+len(name)+1)))
		} else if m := keyAndValue.FindStringSubmatch(text); m != nil && !strings.Contains(text, ":") {
			list = append(list, source.NoColon(m[1], strings.TrimSpace(text[len(m[1]):])).At(f.Span(at, at+len(m[1]))))
		}
	}
	return list
}

// Parse reads the YAML between two offsets of a file. The value is nil if the text
// cannot be read or is not a set of keys, and a mapping otherwise.
func Parse(f *source.File, start, end int) (v *Value, list source.List) {
	defer func() {
		// The YAML library panics on some texts that it cannot read: they are reported.
		if recover() != nil {
			v, list = nil, source.List{source.YAMLUnreadable("something here stops the reader").At(f.Span(start, min(start+1, len(f.Text))))}
		}
	}()
	text := f.Text[start:end]
	if l := tooNested(f, start, end); l != nil {
		return nil, l
	}
	traps := findTraps(f, start, end)
	line, _ := f.Place(start)
	c := &converter{file: f, offset: start, line: line}
	v, list = c.readYAML(text, traps)
	return v, blameTypographicQuotes(f, list)
}

var typographicOpen = regexp.MustCompile(`[:,{\[-] *([“„«‹])[^”»›{}\[\]]*$`)

// blameTypographicQuotes replaces the report of a sign that needs quotes, if typographic quotes
// were meant to protect it, by a report of those quotes.
func blameTypographicQuotes(f *source.File, list source.List) source.List {
	for i, d := range list {
		if d.Code != "quote-for-yaml" && d.Code != "cut-short" {
			continue
		}
		line := []rune(f.Line(d.Line))
		before := string(line[:min(d.Column-1, len(line))])
		m := typographicOpen.FindStringSubmatchIndex(before)
		if m == nil {
			continue
		}
		at := f.Offset(d.Line)
		open, size := m[2], m[3]-m[2]
		list[i] = source.TypographicQuotes(before[open : open+size]).At(f.Span(at+open, at+open+size))
	}
	return list
}

// readYAML reads a text with the YAML library.
func (c *converter) readYAML(text string, traps source.List) (*Value, source.List) {
	tree, err := parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
	c.anchors = map[string]ast.Node{}
	if err != nil {
		traps = withFaults(traps, findFaults(c.file, c.offset, c.offset+len(text)))
		if traps.Errors() > 0 {
			return nil, traps
		}
		return nil, append(traps, c.syntax(err))
	}
	var body ast.Node
	for _, d := range tree.Docs {
		if d.Body != nil {
			if body != nil {
				second := c.convert(d.Body, 0)
				if len(second.Keys) > 0 && !second.Flow {
					second = second.Keys[0]
				}
				return nil, source.List{source.YAMLUnreadable("a second document begins").At(second.Span)}
			}
			body = d.Body
		}
	}
	if body == nil {
		return &Value{Shape: Mapping, Span: c.file.Span(c.offset, c.offset)}, traps
	}
	v := c.convert(body, 0)
	if c.signed {
		return nil, append(traps, c.list...)
	}
	if c.mistaken {
		if faults := findFaults(c.file, c.offset, c.offset+len(text)); len(faults) > 0 {
			return nil, withFaults(traps, faults)
		}
	}
	if v.Shape != Mapping {
		if v.Shape == Scalar {
			if faults := v.MissedKeys(); len(faults) > 0 {
				return nil, withFaults(traps, faults)
			}
		}
		return nil, append(traps, source.FrontMatterMap().At(v.Span))
	}
	for _, d := range c.list {
		if d.Code == "bad-yaml" && traps.Errors() > 0 {
			continue // the trap explains it better
		}
		traps = append(traps, d)
	}
	return v, traps
}

// withFaults joins the two lists, without traps on the lines of faults: those are its
// consequences.
func withFaults(traps, faults source.List) source.List {
	told := map[int]bool{}
	for _, d := range faults {
		told[d.Line] = true
	}
	for _, d := range traps {
		if !told[d.Line] {
			faults = append(faults, d)
		}
	}
	return faults
}

func (c *converter) syntax(err error) source.Diagnostic {
	var e *yaml.SyntaxError
	if errors.As(err, &e) && e.Token != nil {
		return source.YAMLUnreadable(e.Message).At(c.span(e.Token, 1))
	}
	message, _, _ := strings.Cut(err.Error(), "\n")
	return source.YAMLUnreadable(message).At(c.file.Span(c.offset, c.offset+1))
}

// start is a token's offset in the file, from its line and column: its other places are not
// reliable.
func (c *converter) start(t *token.Token) int {
	if t == nil || t.Position == nil {
		return c.offset
	}
	line := c.line + t.Position.Line - 1
	if line != c.measured || c.columns == nil {
		c.measured, c.columns = line, c.columns[:0]
		text := c.file.Line(line)
		for i := range text {
			c.columns = append(c.columns, i)
		}
		c.columns = append(c.columns, len(text))
	}
	return c.file.Offset(line) + c.columns[min(max(t.Position.Column-1, 0), len(c.columns)-1)]
}

func (c *converter) span(t *token.Token, size int) source.Span {
	at := c.start(t)
	return c.file.Span(at, min(at+max(size, 1), len(c.file.Text)))
}

func (c *converter) convert(n ast.Node, level int) *Value {
	if c.count++; c.count > mostValues || level > mostNested {
		if c.count == mostValues+1 || level == mostNested+1 {
			c.list = append(c.list, source.FrontMatterTooLarge().At(c.span(n.GetToken(), 1)))
			c.count = mostValues + 2
		}
		return &Value{Shape: Nothing, Span: c.span(n.GetToken(), 1)}
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		v := &Value{Shape: Mapping, Span: c.span(n.Start, 1), Flow: n.IsFlowStyle}
		for _, pair := range n.Values {
			c.pair(v, pair, level)
		}
		if !v.Flow && len(v.Keys) > 0 {
			v.Span = v.Keys[0].Span // the library's is the first colon
		}
		return c.rejoinAtColon(v)
	case *ast.MappingValueNode:
		v := &Value{Shape: Mapping, Span: c.span(n.Key.GetToken(), 1)}
		c.pair(v, n, level)
		return c.rejoinAtColon(v)
	case *ast.SequenceNode:
		v := &Value{Shape: List, Span: c.span(n.Start, 1), Flow: n.IsFlowStyle}
		for _, item := range n.Values {
			v.Items = append(v.Items, c.convert(item, level+1))
		}
		return v
	case *ast.AnchorNode:
		c.anchors[n.Name.GetToken().Value] = n.Value
		return c.convert(n.Value, level)
	case *ast.AliasNode:
		name := n.Value.GetToken().Value
		if target, ok := c.anchors[name]; ok && !c.closing[name] {
			if c.closing == nil {
				c.closing = map[string]bool{}
			}
			c.closing[name] = true
			v := c.convert(target, level+1)
			c.closing[name] = false
			return v
		}
		return c.sign(n.Start)
	case *ast.TagNode:
		if !strings.HasPrefix(n.Start.Value, "!!") {
			return c.sign(n.Start)
		}
		return c.convert(n.Value, level)
	case *ast.NullNode:
		if n.Token.Type == token.NullType { // the word null, and so a text
			break
		}
		return &Value{Shape: Nothing, Span: c.span(n.Token, 1)}
	case *ast.LiteralNode:
		return c.scalar(n.Value.Token.Value, blockStyle, c.start(n.Start), c.file.Offset(c.line+n.Start.Position.Line))
	case *ast.CommentGroupNode:
		return &Value{Shape: Nothing, Span: c.span(n.GetToken(), 1)}
	}
	return c.textNode(n.GetToken())
}

// textNode is a scalar in any style but that of a block.
func (c *converter) textNode(t *token.Token) *Value {
	at := c.start(t)
	// the library's place of a text over several lines, or after several spaces, is not
	// its start: that is after the sign before it
	starts := []int{at, c.skip(at), c.skip(c.afterToken(t.Prev))}
	if p := t.Prev; p != nil && len(p.Value) == 1 && p.Type != token.StringType && styleOf(p) == plainStyle {
		starts[0], starts[2] = starts[2], starts[0]
	}
	return c.scalar(t.Value, styleOf(t), at, starts...)
}

// sign reports a text that begins with a sign of YAML's own: *rate, which would repeat what
// &rate marks, or !now, which would give the value a type.
func (c *converter) sign(t *token.Token) *Value {
	at := c.span(t, 1)
	c.signed = true
	c.list = append(c.list, source.QuoteForYAML(c.file.Text[at.Start:at.Start+1]).At(at))
	return &Value{Shape: Nothing, Span: at}
}

// rejoinAtColon makes one text of 1:31 again, which the library splits inside [ ]: only a colon
// before a space makes a key.
func (c *converter) rejoinAtColon(v *Value) *Value {
	if v.Flow || len(v.Keys) != 1 || v.Items[0].Shape != Scalar || v.Keys[0].back != nil || v.Items[0].back != nil {
		return v
	}
	key, item := v.Keys[0].Span, v.Items[0].Span
	if c.file.Text[key.End:max(key.End, item.Start)] != ":" {
		return v
	}
	span := c.file.Span(key.Start, item.End)
	return &Value{Shape: Scalar, Text: span.Text(), Span: span}
}

func (c *converter) pair(v *Value, n *ast.MappingValueNode, level int) {
	if n.Key.IsMergeKey() {
		c.list = append(c.list, source.NoMergeKey().At(c.span(n.Key.GetToken(), 2)))
		return
	}
	key := c.convert(n.Key, level+1)
	item := c.convert(n.Value, level+1)
	if key.Shape != Scalar {
		c.list = append(c.list, source.KeyNotText().At(key.Span))
		return
	}
	if !v.Flow && key.back == nil && strings.ContainsAny(key.Text, "{[\"'") {
		c.mistaken = true
	}
	if _, null := n.Value.(*ast.NullNode); null && item.Shape == Nothing && v.Flow && key.back == nil {
		if name, value := c.splitKey(v, key); name != nil {
			key, item = name, value
		} else if c.joinAtComma(v, key) {
			return
		}
	}
	if old := v.Get(key.Text); old != nil {
		c.list = append(c.list, source.RepeatedKey(key.Text).Also(old.Key, "the first "+key.Text).At(key.Span))
		return
	}
	item.Key = key.Span
	v.Keys = append(v.Keys, key)
	v.Items = append(v.Items, item)
}

// splitKey reports {value 500 ml} and reads it as it was meant, so that nothing else is reported
// about it; nil for any other key without a value.
func (c *converter) splitKey(v, key *Value) (name, value *Value) {
	m := keyAndNumber.FindStringSubmatch(key.Text)
	if m == nil || v.bracketOpen() {
		return nil, nil
	}
	rest := strings.TrimLeft(key.Text[len(m[1]):], " ")
	at := c.file.Span(key.Span.Start, key.Span.Start+len(m[1]))
	c.list = append(c.list, source.NoColon(m[1], rest).At(at))
	return &Value{Shape: Scalar, Text: m[1], Span: at}, &Value{Shape: Scalar, Text: rest, Span: c.file.Span(key.Span.End-len(rest), key.Span.End)}
}

// bracketOpen reports whether the last item of a mapping opens a round bracket that it does
// not close: round(a, 1 ml).
func (v *Value) bracketOpen() bool {
	if len(v.Items) == 0 {
		return false
	}
	last := v.Items[len(v.Items)-1].Text
	return strings.Count(last, "(") > strings.Count(last, ")")
}

// joinAtComma reports {x: round(a, 1 ml)}, where YAML ended the value at the comma, and reads it as
// it was meant, so that nothing else is reported about it.
func (c *converter) joinAtComma(v, key *Value) bool {
	if len(v.Items) == 0 {
		return false
	}
	last := v.Items[len(v.Items)-1]
	at := strings.LastIndexByte(c.file.Text[c.offset:key.Span.Start], ',')
	if at < 0 || last.Shape != Scalar || last.back != nil {
		return false
	}
	p := source.QuoteForYAML("comma")
	if m := keyAndValue.FindStringSubmatch(key.Text); m != nil && !v.bracketOpen() {
		p = source.CommaOrColon(m[1])
	}
	c.list = append(c.list, p.At(c.file.Span(c.offset+at, c.offset+at+1)))
	last.Span.End = key.Span.End
	last.Text = last.Span.Text()
	return true
}

// afterToken is the file's offset just after a token.
func (c *converter) afterToken(t *token.Token) int {
	for t != nil && t.Type == token.CommentType {
		t = t.Prev
	}
	if t == nil {
		return c.offset
	}
	return c.start(t) + len(t.Value)
}

// skip passes over spaces, line ends and comments.
func (c *converter) skip(at int) int {
	src := c.file.Text
	for at < len(src) {
		switch {
		case isBlank(src[at]) || src[at] == '\n':
			at++
		case src[at] == '#' && at > 0 && (isBlank(src[at-1]) || src[at-1] == '\n'):
			for at < len(src) && src[at] != '\n' {
				at++
			}
		default:
			return at
		}
	}
	return at
}

// scalar places a decoded text in the file, at the first of the starts from which the source
// reads as that text. If there is none, all of it is placed at the fallback.
func (c *converter) scalar(text string, s style, fallback int, starts ...int) *Value {
	v := &Value{Shape: Scalar, Text: text}
	for _, at := range starts {
		if s == plainStyle && strings.HasPrefix(c.file.Text[min(at, len(c.file.Text)):], text) {
			v.Span = c.file.Span(at, at+len(text))
			return v
		}
		back, end, ok := retrace(c.file.Text, at, s, text)
		if !ok {
			continue
		}
		v.back = back
		v.Span = c.file.Span(back[0], max(end, back[0]+1))
		return v
	}
	v.Span = c.file.Span(fallback, fallback+1)
	v.back = []int{fallback}
	return v
}

// tooNested refuses, before the YAML library sees it, what would make it recurse too deep or
// take too long.
func tooNested(f *source.File, start, end int) source.List {
	open, indents, keys, values := 0, 0, 0, 0
	text := f.Text[start:end]
	lineStart := true
	dashes := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\n':
			lineStart, indents, dashes = true, 0, 0
			continue
		case ' ':
			if lineStart {
				indents++
			}
			continue
		case '-', '?':
			if lineStart {
				dashes++
				values++
				if text[i] == '?' {
					keys++
				}
				if (dashes > mostNested || keys > mostKeys) && i+1 < len(text) && text[i+1] == ' ' {
					return source.List{source.FrontMatterTooLarge().At(f.Span(start+i, start+i+1))}
				}
				continue
			}
		case '{', '[':
			open++
		case '}', ']':
			open = max(0, open-1)
		case ',':
			values++
		case ':':
			if i+1 == len(text) || isBlank(text[i+1]) || text[i+1] == '\n' {
				keys++
			}
		}
		lineStart = false
		if open > mostNested || indents > 8*mostNested || keys > mostKeys || values > mostValues {
			return source.List{source.FrontMatterTooLarge().At(f.Span(start+i, start+i+1))}
		}
	}
	return nil
}
