package markdown

import (
	"bytes"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// Some inputs keep a Markdown parser busy for hours: thousands of brackets that never close, quotes
// within quotes. This file wraps goldmark's parsers so that each first counts how far it may have to
// look, and refuses when the document as a whole would take too much work. What is refused stays
// text, and one error names the first place.

const (
	largest    = 1 << 20     // bytes of a body
	mostLines  = 100_000     // of a body
	mostMarks  = 200_000     // characters that mean something to the parser
	deepest    = 40          // nested blocks: 20 lists or 40 quotes
	deepestRun = 64          // nested emphasis, links and the like
	mostWork   = 100_000_000 // bytes or nodes looked at more than once
	mostCells  = 50_000      // of all tables of a body
	mostNotes  = 1_000       // footnotes of a body
)

// marks are the characters that make nodes.
var marks = func() (t [256]bool) {
	for _, c := range []byte("`*_~[]<>{}|&\\!") {
		t[c] = true
	}
	return t
}()

// tooDense is the offset at which a text has too many lines or marks to be parsed in bounded memory,
// or -1.
func tooDense(src []byte) int {
	lines, signs := 0, 0
	for i, c := range src {
		if c == '\n' {
			if lines++; lines > mostLines {
				return i
			}
		} else if marks[c] {
			if signs++; signs > mostMarks {
				return i
			}
		}
	}
	return -1
}

// state is what one call of a parser keeps.
type state struct {
	work                                    int
	tooMuch, tooDeep, tooWide, tooManyNotes int // first offsets of refusals, or -1
	cells                                   int
	notes                                   []*extast.Footnote

	// Of the block whose text is being read:
	block        ast.Node
	delimiters   int
	openBrackets []int     // offsets of brackets that are open
	ticks        []lastRun // of each length of backtick runs, the last one
	ticksKnown   bool

	nextAt int // the next "@" at or after the offset last looked at
}

type lastRun struct{ length, at int }

var stateKey = parser.NewContextKey()

func newState() *state {
	return &state{tooMuch: -1, tooDeep: -1, tooWide: -1, tooManyNotes: -1, nextAt: -1}
}

func stateOf(pc parser.Context) *state { return pc.Get(stateKey).(*state) }

// enter drops what was kept of another block.
func (s *state) enter(block ast.Node) {
	if s.block != block {
		s.block, s.delimiters, s.openBrackets, s.ticks, s.ticksKnown = block, 0, s.openBrackets[:0], s.ticks[:0], false
	}
}

// spend counts work and reports whether it may be done.
func (s *state) spend(n, at int) bool {
	if s.tooMuch >= 0 {
		return false
	}
	s.work += n
	if s.work > mostWork {
		s.tooMuch = at
		return false
	}
	return true
}

// refusals reports what was refused.
func (s *state) refusals(d *Document) (list source.List) {
	say := func(p source.Problem, at int) {
		if at >= 0 {
			list = append(list, p.At(d.place(at, at+1)))
		}
	}
	say(source.MarkupTooInvolved(), s.tooMuch)
	say(source.MarkupTooDeep(), s.tooDeep)
	say(source.TextTableTooLarge(mostCells), s.tooWide)
	say(source.TooManyNotes(mostNotes), s.tooManyNotes)
	return list
}

// anyLine lets a paragraph start with an indented line, for texts that have no indented code.
type anyLine struct{ parser.BlockParser }

func (anyLine) CanAcceptIndentedLine() bool { return true }

// nested bounds how deep blocks are nested.
type nested struct {
	parser parser.BlockParser
	// asksFirst says that the parser must be called even if its result is refused: it keeps track of
	// its calls, and takes nothing from the line.
	asksFirst bool
}

func (n *nested) Trigger() []byte { return n.parser.Trigger() }
func (n *nested) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	depth := 0
	for n := parent; n != nil; n = n.Parent() {
		depth++
	}
	refused := depth > deepest
	if refused && !n.asksFirst {
		if _, list := parent.(*extast.DefinitionList); !list {
			n.refuse(r, pc)
		}
		return nil, parser.NoChildren
	}
	node, st := n.parser.Open(parent, r, pc)
	if node != nil && refused {
		n.refuse(r, pc)
		return nil, parser.NoChildren
	}
	return node, st
}
func (n *nested) refuse(r text.Reader, pc parser.Context) {
	if s := stateOf(pc); s.tooDeep < 0 {
		_, segment := r.PeekLine()
		s.tooDeep = segment.Start
	}
}
func (n *nested) Continue(node ast.Node, r text.Reader, pc parser.Context) parser.State {
	return n.parser.Continue(node, r, pc)
}
func (n *nested) Close(node ast.Node, r text.Reader, pc parser.Context) { n.parser.Close(node, r, pc) }
func (n *nested) CanInterruptParagraph() bool                           { return n.parser.CanInterruptParagraph() }
func (n *nested) CanAcceptIndentedLine() bool                           { return n.parser.CanAcceptIndentedLine() }

// noteBlocks bounds footnotes: goldmark looks through all of them at each mark.
type noteBlocks struct{ parser.BlockParser }

func (n *noteBlocks) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	s := stateOf(pc)
	_, segment := r.PeekLine()
	if len(s.notes) >= mostNotes {
		if s.tooManyNotes < 0 {
			s.tooManyNotes = segment.Start
		}
		return nil, parser.NoChildren
	}
	node, st := n.BlockParser.Open(parent, r, pc)
	if note, ok := node.(*extast.Footnote); ok {
		s.notes = append(s.notes, note)
	}
	return node, st
}

type noteMarks struct{ parser.InlineParser }

func (n *noteMarks) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	s := stateOf(pc)
	line, segment := block.PeekLine()
	rest := bytes.TrimPrefix(line, []byte{'!'})
	if len(rest) < 3 || rest[1] != '^' {
		return nil
	}
	if !s.spend(len(s.notes)+parent.Lines().Len(), segment.Start) {
		return nil
	}
	return n.InlineParser.Parse(parent, block, pc)
}

// links bounds how far a closing bracket looks back for what it closes, and ahead for a destination.
type links struct{ parser.InlineParser }

func (l *links) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	s := stateOf(pc)
	s.enter(parent)
	line, segment := block.PeekLine()
	switch {
	case line[0] == '[' || len(line) > 1 && line[0] == '!' && line[1] == '[':
		s.openBrackets = append(s.openBrackets, segment.Start)
	case line[0] == ']' && len(s.openBrackets) > 0:
		last := len(s.openBrackets) - 1
		work := segment.Start - s.openBrackets[last] + parent.Lines().Len()
		if len(line) > 1 && line[1] == '(' {
			work += len(line)
		}
		if s.delimiters > 0 {
			work += parent.ChildCount()
		}
		s.openBrackets = s.openBrackets[:last]
		if !s.spend(work, segment.Start) {
			return nil
		}
	}
	return l.InlineParser.Parse(parent, block, pc)
}

// CloseBlock calls that of goldmark's own parser, which embedding does not pass on.
func (l *links) CloseBlock(parent ast.Node, block text.Reader, pc parser.Context) {
	l.InlineParser.(parser.CloseBlocker).CloseBlock(parent, block, pc)
}

// delimiters bounds how many openers a closer may have to look through.
type delimiters struct{ parser.InlineParser }

func (d *delimiters) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	s := stateOf(pc)
	s.enter(parent)
	s.delimiters++
	_, segment := block.PeekLine()
	if !s.spend(s.delimiters, segment.Start) {
		return nil
	}
	return d.InlineParser.Parse(parent, block, pc)
}

// codeSpans knows the last run of backticks of each length in a block, so that a run that is never
// closed does not make the parser look through all that follows.
type codeSpans struct{ parser.InlineParser }

func (c *codeSpans) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	s := stateOf(pc)
	s.enter(parent)
	line, segment := block.PeekLine()
	n := runLength(line)
	if !s.ticksKnown {
		s.ticksKnown = true
		s.ticks = lastRuns(s.ticks[:0], block)
	}
	for _, r := range s.ticks {
		if r.length == n && r.at > segment.Start {
			return c.InlineParser.Parse(parent, block, pc)
		}
	}
	block.Advance(n)
	return ast.NewTextSegment(segment.WithStop(segment.Start + n))
}

func runLength(line []byte) int {
	n := 0
	for n < len(line) && line[n] == '`' {
		n++
	}
	return n
}

func lastRuns(runs []lastRun, block text.Reader) []lastRun {
	number, position := block.Position()
	defer block.SetPosition(number, position)
	for {
		line, segment := block.PeekLine()
		if line == nil {
			return runs
		}
	next:
		for i := 0; i < len(line); {
			j := bytes.IndexByte(line[i:], '`')
			if j < 0 {
				break
			}
			i += j
			n := runLength(line[i:])
			at := segment.Start + i - segment.Padding
			i += n
			for k := range runs {
				if runs[k].length == n {
					runs[k].at = at
					continue next
				}
			}
			runs = append(runs, lastRun{n, at})
		}
		block.AdvanceLine()
	}
}

// bareLinks looks for a bare address only where one may begin: goldmark would look for a mail address
// at every space.
type bareLinks struct{ parser.InlineParser }

const longestLocalPart = 64 // RFC 5321, 4.5.3.1.1

func (b *bareLinks) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, segment := block.PeekLine()
	start := 0
	switch line[0] {
	case ' ', '*', '_', '~', '(':
		start = 1
	}
	if len(line) <= start {
		return nil
	}
	switch line[start] {
	case 'h', 'f', 'w':
		for _, prefix := range [...]string{"http:", "https:", "ftp:", "www."} {
			if bytes.HasPrefix(line[start:], []byte(prefix)) {
				return b.InlineParser.Parse(parent, block, pc)
			}
		}
	}
	s := stateOf(pc)
	src := block.Source()
	at := segment.Start + start
	if s.nextAt < at {
		if i := bytes.IndexByte(src[at:], '@'); i >= 0 {
			s.nextAt = at + i
		} else {
			s.nextAt = len(src)
		}
	}
	if s.nextAt == len(src) || s.nextAt-at > longestLocalPart {
		return nil
	}
	return b.InlineParser.Parse(parent, block, pc)
}

// definitions bounds link reference definitions: goldmark moves all lines of the paragraph for each.
type definitions struct{ parser.ParagraphTransformer }

func (d *definitions) Transform(node *ast.Paragraph, r text.Reader, pc parser.Context) {
	lines := node.Lines()
	if lines.Len() == 0 {
		return
	}
	first := lines.At(0)
	if !startsWith(r.Source(), first, '[') {
		return
	}
	count := 0
	for i := range lines.Len() {
		if startsWith(r.Source(), lines.At(i), '[') {
			count++
		}
	}
	if stateOf(pc).spend(4*count*lines.Len(), first.Start) {
		d.ParagraphTransformer.Transform(node, r, pc)
	}
}

func startsWith(src []byte, s text.Segment, c byte) bool {
	line := bytes.TrimLeft(src[s.Start:s.Stop], " \t")
	return len(line) > 0 && line[0] == c
}

// tables bounds cells: goldmark fills up short rows, so a wide head above many short rows would make
// millions of cells.
type tables struct{ parser.ParagraphTransformer }

func (t *tables) Transform(node *ast.Paragraph, r text.Reader, pc parser.Context) {
	lines := node.Lines()
	for i := 1; i < lines.Len(); i++ {
		columns := delimiterColumns(r.Source(), lines.At(i))
		if columns == 0 {
			continue
		}
		s := stateOf(pc)
		s.cells += columns * (lines.Len() - i)
		if s.cells > mostCells {
			if s.tooWide < 0 {
				s.tooWide = lines.At(i - 1).Start
			}
			return
		}
		t.ParagraphTransformer.Transform(node, r, pc)
		return
	}
}

// delimiterColumns is how many columns a line below the head of a table may stand for; 0 if it is no
// such line.
func delimiterColumns(src []byte, s text.Segment) int {
	columns, dashes := 1, false
	for _, c := range src[s.Start:s.Stop] {
		switch c {
		case '|':
			columns++
		case '-':
			dashes = true
		case ':', ' ', '\t', '\n', '\r':
		default:
			return 0
		}
	}
	if !dashes {
		return 0
	}
	return columns
}
