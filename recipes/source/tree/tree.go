// Package tree reads YAML as it is written, with exact places: scalars are texts and
// never YAML's own numbers or truth values, and each byte of a scalar is known by where
// it stands in the file, through quotes, escapes and folded lines.
//
// It knows no keys and no meaning; those are its callers'.
package tree

import (
	"errors"
	"strings"
	"unicode/utf8"

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

// Value is a piece of YAML with its place.
type Value struct {
	Shape Shape
	// Text is a scalar's.
	Text string
	Span source.Span
	// Items are those of a list, or the values of a mapping beside its Keys.
	Items []*Value
	Keys  []*Value
	// back gives the file's offset for each byte of a scalar's text; nil where the text
	// stands in the file just so, from Span.Start.
	back []int
	flow bool
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
}

// Parse reads the YAML of a file between two offsets. The value is a mapping, or nil
// where YAML cannot read it.
func Parse(f *source.File, start, end int) (*Value, source.List) {
	text := f.Text[start:end]
	if l := tooNested(f, start, end); l != nil {
		return nil, l
	}
	traps := findTraps(f, start, end)
	tree, err := parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
	line, _ := f.Place(start)
	c := &converter{file: f, offset: start, line: line, anchors: map[string]ast.Node{}}
	if err != nil {
		if traps.Errors() > 0 {
			return nil, traps
		}
		return nil, append(traps, c.syntax(err))
	}
	var body ast.Node
	for _, d := range tree.Docs {
		if d.Body != nil {
			if body != nil {
				return nil, source.List{source.YAMLUnreadable("a second document begins").At(c.span(d.Body.GetToken(), 1))}
			}
			body = d.Body
		}
	}
	if body == nil {
		return &Value{Shape: Mapping, Span: f.Span(start, start)}, traps
	}
	v := c.convert(body, 0)
	if v.Shape != Mapping {
		c.list = append(c.list, source.FrontMatterMap().At(v.Span))
		v = &Value{Shape: Mapping, Span: v.Span}
	}
	return v, append(traps, c.list...)
}

func (c *converter) syntax(err error) source.Diagnostic {
	var e *yaml.SyntaxError
	if errors.As(err, &e) && e.Token != nil {
		return source.YAMLUnreadable(e.Message).At(c.span(e.Token, 1))
	}
	message, _, _ := strings.Cut(err.Error(), "\n")
	return source.YAMLUnreadable(message).At(c.file.Span(c.offset, c.offset+1))
}

// start is the file's offset of a token, trusted by line and column only.
func (c *converter) start(t *token.Token) int {
	if t == nil || t.Position == nil {
		return c.offset
	}
	line := c.line + t.Position.Line - 1
	at := c.file.Offset(line)
	text := c.file.Line(line)
	for range t.Position.Column - 1 {
		if text == "" {
			break
		}
		_, n := utf8.DecodeRuneInString(text)
		text, at = text[n:], at+n
	}
	return at
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
		v := &Value{Shape: Mapping, Span: c.span(n.Start, 1), flow: n.IsFlowStyle}
		for _, pair := range n.Values {
			c.pair(v, pair, level)
		}
		return v
	case *ast.MappingValueNode:
		v := &Value{Shape: Mapping, Span: c.span(n.Key.GetToken(), 1)}
		c.pair(v, n, level)
		return v
	case *ast.SequenceNode:
		v := &Value{Shape: List, Span: c.span(n.Start, 1), flow: n.IsFlowStyle}
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
		c.list = append(c.list, source.YAMLUnreadable("there is no &"+name).At(c.span(n.Start, 1)))
		return &Value{Shape: Nothing, Span: c.span(n.Start, 1)}
	case *ast.TagNode:
		return c.convert(n.Value, level)
	case *ast.NullNode:
		return &Value{Shape: Nothing, Span: c.span(n.Token, 1)}
	case *ast.LiteralNode:
		return c.scalar(n.Value.Token.Value, c.file.Offset(c.line+n.Start.Position.Line), c.start(n.Start))
	case *ast.CommentGroupNode:
		return &Value{Shape: Nothing, Span: c.span(n.GetToken(), 1)}
	}
	t := n.GetToken()
	at := c.start(t)
	return c.scalar(t.Value, at, at)
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
	if item.Shape == Nothing && v.flow {
		// {x: round(a, 1 ml)}: YAML ended the value at the comma
		at := strings.LastIndexByte(c.file.Text[c.offset:key.Span.Start], ',')
		if at >= 0 && len(v.Items) > 0 {
			c.list = append(c.list, source.QuoteForYAML("comma").At(c.file.Span(c.offset+at, c.offset+at+1)))
			return
		}
	}
	if old := v.Get(key.Text); old != nil {
		c.list = append(c.list, source.RepeatedKey(key.Text).At(key.Span))
		return
	}
	v.Keys = append(v.Keys, key)
	v.Items = append(v.Items, item)
}

// scalar places a decoded text in the file: it re-reads the source from where the
// scalar starts and follows the text through quotes, escapes and folded lines. Where
// the two cannot be brought together, everything is placed at the start.
func (c *converter) scalar(text string, at, fallback int) *Value {
	v := &Value{Shape: Scalar, Text: text}
	src := c.file.Text
	if strings.HasPrefix(src[min(at, len(src)):], text) {
		v.Span = c.file.Span(at, at+len(text))
		return v
	}
	back := make([]int, 0, len(text)+1)
	pos := at
	for pos < len(src) && (src[pos] == '"' || src[pos] == '\'') && !strings.HasPrefix(text, src[pos:pos+1]) {
		pos++
		break
	}
	last := pos
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == ' ' || r == '\n' || r == '\t' {
			// blanks fold: they take the place just behind what came before
			if pos < len(src) && (src[pos] == ' ' || src[pos] == '\t' || src[pos] == '\n') {
				pos++
			}
			back = append(back, pos-1)
			i += size
			continue
		}
		for pos < len(src) && (src[pos] == ' ' || src[pos] == '\n' || src[pos] == '\t') {
			pos++
		}
		switch {
		case strings.HasPrefix(src[pos:], "''") && r == '\'':
			back = append(back, pos)
			pos += 2
		case strings.HasPrefix(src[pos:], text[i:i+size]):
			for k := range size {
				back = append(back, pos+k)
			}
			pos += size
		case pos+1 < len(src) && src[pos] == '\\':
			n := escapeLength(src[pos:])
			for range size {
				back = append(back, pos)
			}
			pos += n
		default:
			v.Span = c.file.Span(fallback, fallback+1)
			v.back = []int{fallback}
			return v
		}
		last = pos
		i += size
	}
	v.back = append(back, pos)
	v.Span = c.file.Span(at, max(last, at+1))
	if len(back) > 0 {
		v.Span.Start = back[0]
	}
	return v
}

func escapeLength(s string) int {
	switch s[1] {
	case 'x':
		return min(4, len(s))
	case 'u':
		return min(6, len(s))
	case 'U':
		return min(10, len(s))
	}
	return 2
}

// tooNested refuses what would make a recursive parser deep before it sees it.
func tooNested(f *source.File, start, end int) source.List {
	open, indents := 0, 0
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
				if dashes > mostNested && i+1 < len(text) && text[i+1] == ' ' {
					return source.List{source.FrontMatterTooLarge().At(f.Span(start+i, start+i+1))}
				}
				continue
			}
		case '{', '[':
			open++
		case '}', ']':
			open = max(0, open-1)
		}
		lineStart = false
		if open > mostNested || indents > 8*mostNested {
			return source.List{source.FrontMatterTooLarge().At(f.Span(start+i, start+i+1))}
		}
	}
	return nil
}
