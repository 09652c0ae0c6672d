package markdown

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// placementNode is a placement in the tree. start and stop are offsets of the
// opening brace and of the byte after the closing one.
type placementNode struct {
	ast.BaseInline
	start, stop int
	placement   *Placement
}

var kindPlacement = ast.NewNodeKind("Placement")

func (n *placementNode) Kind() ast.NodeKind { return kindPlacement }

func (n *placementNode) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Text": string(src[n.start:n.stop])}, nil)
}

// placementParser makes a placement of a brace before a letter, a digit or an opening bracket, if it
// closes on its line. Other braces stay text, which looseBraces looks at afterwards.
type placementParser struct{}

func (placementParser) Trigger() []byte { return []byte{'{'} }

func (placementParser) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, segment := block.PeekLine()
	s := stateOf(pc)
	if !opensPlacement(line) || !s.spend(0, segment.Start) {
		return nil
	}
	n, seen := closingBrace(line)
	if !s.spend(seen, segment.Start) || n == 0 {
		return nil
	}
	block.Advance(n)
	return &placementNode{start: segment.Start, stop: segment.Start + n}
}

// opensPlacement looks at the character after the brace that line starts with.
func opensPlacement(line []byte) bool {
	if len(line) < 2 {
		return false
	}
	r, _ := utf8.DecodeRune(line[1:])
	return r == '(' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// closingBrace is the length of line up to and including the brace that closes its first one, 0 if there
// is none before the line's end, and how many bytes were looked at. Braces within quotes do not count,
// and there a backslash escapes the next character.
func closingBrace(line []byte) (length, seen int) {
	depth, quote := 0, byte(0)
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == '\n':
			return 0, i
		case quote != 0:
			if c == '\\' {
				i++
			} else if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '{':
			depth++
		case c == '}':
			depth--
			if depth == 0 {
				return i + 1, i
			}
		}
	}
	return 0, len(line)
}

// read makes the Placement of a node.
func (d *Document) read(n *placementNode) *Placement {
	inner := string(d.source[n.start+1 : n.stop-1])
	all := strings.TrimSpace(inner)
	start := n.start + 1 + strings.Index(inner, all)
	end := start + len(all)
	p := &Placement{Text: all, Formula: all, Span: d.place(n.start, n.stop)}
	formulaEnd, showStart := end, end
	if before, after, ok := splitShow(all); ok {
		p.Formula, p.Show = strings.TrimSpace(all[:before]), strings.TrimSpace(all[after:])
		formulaEnd, showStart = start+len(p.Formula), end-len(p.Show)
	}
	p.FormulaSpan, p.ShowSpan = d.place(start, formulaEnd), d.place(showStart, end)
	n.placement = p
	return p
}

// splitShow finds the last " in " outside quotes and brackets: the formula is text[:before], the form in
// which to show it text[after:]. Two whole numbers with "in" between them are a dilution and are not
// split.
func splitShow(text string) (before, after int, ok bool) {
	depth, quote := 0, byte(0)
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case quote != 0:
			if c == '\\' {
				i++
			} else if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '(' || c == '[' || c == '{':
			depth++
		case c == ')' || c == ']' || c == '}':
			depth--
		case c == 'i' && depth == 0 && strings.HasPrefix(text[i:], "in"):
			left, _ := utf8.DecodeLastRuneInString(text[:i])
			right, _ := utf8.DecodeRuneInString(text[i+2:])
			if unicode.IsSpace(left) && unicode.IsSpace(right) {
				before, after, ok = i, i+2, true
			}
		}
	}
	if ok && wholeNumber(text[:before]) && wholeNumber(text[after:]) {
		return 0, 0, false
	}
	return before, after, ok
}

func wholeNumber(text string) bool {
	text = strings.TrimSpace(text)
	return text != "" && strings.Trim(text, "0123456789") == ""
}
