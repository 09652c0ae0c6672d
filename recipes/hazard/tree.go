package hazard

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

// Bounds of the shop's own file. The parser recurses, and a stack that overflows
// cannot be caught, so depth is looked at before it runs.
const (
	largestFile  = 256 << 10 // bytes; some four hundred sheets
	longestLine  = 4096      // bytes; the parser's time grows with its square
	deepestYAML  = 32
	longestRun   = 64 // of `- ` on one line
	mostBrackets = 32 // open at one place
)

// tree is a YAML value with its place. Scalars keep the text as written.
type tree struct {
	span  source.Span
	shape shape
	text  string
	items []*tree
	keys  []entry
}

type shape int

const (
	scalar shape = iota
	nothing
	sequence
	mapping
)

func (s shape) String() string {
	return [...]string{"a text", "nothing", "a list", "a set of keys"}[s]
}

type entry struct{ key, value *tree }

// get gives the value of a key, nil where it is missing or holds nothing.
func (t *tree) get(key string) *tree {
	if t == nil {
		return nil
	}
	for _, e := range t.keys {
		if e.key.text == key && e.value.shape != nothing {
			return e.value
		}
	}
	return nil
}

// readTree parses a file. Anything that it cannot place or that needs more of
// YAML than keys, lists and texts is a diagnostic.
func readTree(f *source.File) (root *tree, list source.List) {
	whole := f.Span(0, min(1, len(f.Text)))
	if len(f.Text) > largestFile {
		return nil, source.List{source.SheetTooLarge(largestFile).At(whole)}
	}
	for n := 1; n <= f.Lines(); n++ {
		if len(f.Line(n)) > longestLine {
			return nil, source.List{source.SheetLongLine(longestLine).At(f.Span(f.Offset(n), f.Offset(n)+1))}
		}
	}
	if at, bad := tooDeep(f.Text); bad {
		return nil, source.List{source.SheetTooDeep(deepestYAML).At(f.Span(at, at+1))}
	}
	defer func() {
		// The parser is not ours; what it cannot take is the file's fault, and is
		// said, not thrown.
		if recover() != nil {
			root, list = nil, source.List{source.SheetNotYAML("it cannot be read as YAML").At(whole)}
		}
	}()
	file, err := parser.ParseBytes([]byte(f.Text), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		span, message := whole, err.Error()
		var at yaml.Error
		if errors.As(err, &at) {
			message = at.GetMessage()
			if tk := at.GetToken(); tk != nil {
				span = place(f, tk)
			}
		}
		return nil, source.List{source.SheetNotYAML(message).At(span)}
	}
	b := builder{file: f}
	for i, doc := range file.Docs {
		if i > 0 && doc.Body != nil {
			b.list = append(b.list, source.SheetNotYAML("a second document begins here").At(b.build(doc.Body, 0).span))
			break
		}
		if doc.Body != nil {
			root = b.build(doc.Body, 0)
		}
	}
	if root == nil {
		root = &tree{span: whole, shape: nothing}
	}
	return root, b.list
}

// tooDeep looks for nesting that the parser should never be given: brackets, a
// run of dashes, or more levels of indentation than any such file has.
func tooDeep(text string) (at int, bad bool) {
	open := 0
	var indents []int
	for start := 0; start < len(text); {
		line, _, _ := strings.Cut(text[start:], "\n")
		rest := strings.TrimLeft(line, " ")
		indent, run := len(line)-len(rest), 0
		for strings.HasPrefix(rest, "- ") || strings.HasPrefix(rest, "? ") || strings.HasPrefix(rest, "-\t") {
			indents = append(trim(indents, indent), indent)
			rest = rest[2:]
			indent += 2
			if run++; run > longestRun {
				return start, true
			}
		}
		if rest != "" && rest[0] != '#' {
			indents = append(trim(indents, indent), indent)
		}
		if len(indents) > deepestYAML {
			return start, true
		}
		for i := range len(line) {
			switch line[i] {
			case '[', '{':
				if open++; open > mostBrackets {
					return start + i, true
				}
			case ']', '}':
				open = max(0, open-1)
			}
		}
		start += len(line) + 1
	}
	return 0, false
}

func trim(indents []int, to int) []int {
	for len(indents) > 0 && indents[len(indents)-1] >= to {
		indents = indents[:len(indents)-1]
	}
	return indents
}

// place turns a token into a span. The parser's start is trusted to the line and
// column; the width is found again in the text.
func place(f *source.File, tk *token.Token) source.Span {
	if tk == nil || tk.Position == nil || tk.Position.Line < 1 {
		return f.Span(0, min(1, len(f.Text)))
	}
	line := min(tk.Position.Line, f.Lines())
	text := f.Line(line)
	column := max(tk.Position.Column-1, 0)
	offset := 0
	for range column {
		if offset >= len(text) {
			break
		}
		_, width := utf8.DecodeRuneInString(text[offset:])
		offset += width
	}
	for offset < len(text) && (text[offset] == ' ' || text[offset] == '\t') {
		offset++
	}
	start := f.Offset(line) + offset
	rest := text[offset:]
	width := 0
	switch {
	case rest == "":
	case rest[0] == '"' || rest[0] == '\'':
		width = 1
		for width < len(rest) && rest[width] != rest[0] {
			if rest[0] == '"' && rest[width] == '\\' {
				width++
			}
			width++
		}
		width = min(width+1, len(rest))
	case strings.HasPrefix(rest, tk.Value):
		width = len(tk.Value)
	default:
		first, _, _ := strings.Cut(tk.Value, "\n")
		for width < len(rest) && width < len(first) && rest[width] == first[width] {
			width++
		}
	}
	return f.Span(start, start+max(1, width))
}

type builder struct {
	file *source.File
	list source.List
}

func (b *builder) start(n ast.Node) source.Span { return place(b.file, n.GetToken()) }

func (b *builder) build(n ast.Node, depth int) *tree {
	t := &tree{shape: nothing}
	if n == nil {
		t.span = b.file.Span(0, 0)
		return t
	}
	t.span = b.start(n)
	if depth > deepestYAML {
		b.list = append(b.list, source.SheetTooDeep(deepestYAML).At(t.span))
		return t
	}
	switch n := n.(type) {
	case *ast.NullNode:
	case *ast.StringNode:
		t.shape, t.text = scalar, n.Value
	case *ast.LiteralNode:
		t.shape, t.text = scalar, strings.TrimRight(n.Value.Value, "\n")
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		t.shape, t.text = scalar, n.GetToken().Value
	case *ast.SequenceNode:
		t.shape = sequence
		for _, v := range n.Values {
			t.items = append(t.items, b.build(v, depth+1))
		}
	case *ast.MappingNode:
		t.shape = mapping
		for _, v := range n.Values {
			t.keys = append(t.keys, b.entry(v, depth))
		}
		if len(t.keys) > 0 && !strings.HasPrefix(t.span.Text(), "{") {
			t.span = t.keys[0].key.span
		}
	case *ast.MappingValueNode:
		t.shape = mapping
		t.keys = []entry{b.entry(n, depth)}
		t.span = t.keys[0].key.span
	default:
		b.list = append(b.list, source.SheetPlainYAML().At(t.span))
	}
	return t
}

func (b *builder) entry(n *ast.MappingValueNode, depth int) entry {
	key := b.build(n.Key, depth+1)
	value := b.build(n.Value, depth+1)
	if value.shape == nothing {
		value.span = key.span
	}
	return entry{key, value}
}
