package formula

import (
	"errors"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Formula is a formula that was parsed but not yet inferred.
type Formula struct {
	// Text is the formula as written.
	Text string

	scan  *scan
	root  ast.Node
	place func(start, end int) source.Span
}

// config turns off all of the engine's own functions, so that the parser takes a call for
// a call by name. It is only read, so all parsers share it.
var config = func() *conf.Config {
	c := conf.CreateNew()
	for name := range builtin.Index {
		c.Disabled[name] = true
	}
	c.Builtins = map[string]*builtin.Function{}
	c.MaxNodes = 8 * MostNodes // our own count, on our own tree, has the better message
	return c
}()

// Parse reads a formula. place turns byte offsets of the text into a place in a file; it
// may be nil. If the list holds an error the formula is nil.
func Parse(text string, place func(start, end int) source.Span) (*Formula, source.List) {
	f := &Formula{Text: text, place: place}
	if strings.TrimSpace(text) == "" {
		return nil, source.List{f.diagnose(source.FormulaEmpty(), 0, len(text))}
	}
	f.scan = newScan(text)
	if len(f.scan.list) > 0 {
		var list source.List
		for _, p := range f.scan.list {
			list = append(list, f.diagnose(p.Problem, p.start, p.end))
		}
		return nil, list
	}
	tree, err := new(parser.Parser).Parse(string(f.scan.blanked), config)
	if err != nil {
		p, start, end := f.reword(err)
		return nil, source.List{f.diagnose(p, start, end)}
	}
	f.root, f.scan.blanked = tree.Node, nil
	return f, nil
}

// diagnose places a problem by bytes of the normalised text.
func (f *Formula) diagnose(p source.Problem, start, end int) source.Diagnostic {
	if f.scan != nil {
		start, end = f.scan.original(start), f.scan.original(end)
	}
	if f.place == nil {
		d := p.At(source.Span{})
		d.Line, d.Column = 1, start+1
		return d
	}
	return p.At(f.place(start, max(end, start)))
}

// reword puts an error of the engine's parser into the writer's terms.
func (f *Formula) reword(err error) (source.Problem, int, int) {
	var e *file.Error
	if !errors.As(err, &e) {
		return source.FormulaUnreadable(), 0, len(f.scan.text)
	}
	start := f.scan.at(e.Location.From)
	token, i := f.scan.tokenAt(start)
	word := f.scan.text[min(token.Start, len(f.scan.text)):min(token.End, len(f.scan.text))]
	before := ""
	if i > 0 {
		b := f.scan.tokens[i-1]
		before = f.scan.text[b.Start:b.End]
	}
	switch {
	case strings.Contains(e.Message, "maximum allowed nodes"):
		return source.FormulaTooLarge(MostNodes), 0, len(f.scan.text)
	case i < 0 || strings.Contains(e.Message, "token EOF"):
		return f.endsEarly()
	case before == "}" && word != "}" && word != "{":
		return source.NothingAfterElse(word), token.Start, token.End
	case before == "else":
		return source.BracesForm(), token.Start, token.End
	case token.Kind == Function && quantity.IsUnit(word):
		// 5 ml(x): a name before a bracket is a function's
		at := token.End + strings.IndexByte(f.scan.text[token.End:], '(')
		return source.OperatorMissing("("), at, at + 1
	case token.Kind == Literal || token.Kind == Name || token.Kind == Function || token.Kind == Quoted || word == "(" && i > 0:
		if token.Kind == Name && quantity.IsUnit(word) {
			return source.UnitAlone(word, ""), token.Start, token.End
		}
		return source.OperatorMissing(word), token.Start, token.End
	case word == ",":
		if i > 0 && i+1 < len(f.scan.tokens) && f.scan.tokens[i-1].Kind == Literal && f.scan.tokens[i+1].Kind == Literal {
			a, b := f.scan.tokens[i-1], f.scan.tokens[i+1]
			return quantity.SeparatorProblem(f.scan.text[a.Start:a.End] + "," + f.scan.text[b.Start:b.End]), a.Start, b.End
		}
	case word == "{" || word == "}":
		return source.BracesForm(), token.Start, token.End
	case word == "=":
		return source.SingleEquals(), token.Start, token.End
	case word == "if":
		return source.IfPlace(), token.Start, token.End
	}
	return source.UnexpectedSign(word), token.Start, token.End
}

// endsEarly describes what is missing at the end of a formula.
func (f *Formula) endsEarly() (source.Problem, int, int) {
	tokens := f.scan.tokens
	if len(tokens) == 0 {
		return source.FormulaUnreadable(), 0, len(f.scan.text)
	}
	last := tokens[len(tokens)-1]
	word := f.scan.text[last.Start:last.End]
	operand := last.Kind == Literal || last.Kind == Quoted || last.Kind == Name || word == ")"
	var open []Token
	for _, t := range tokens {
		switch f.scan.text[t.Start:t.End] {
		case "(":
			open = append(open, t)
		case ")":
			open = open[:max(0, len(open)-1)]
		}
	}
	switch {
	case operand && len(open) > 0:
		return source.BracketOpen(), open[len(open)-1].Start, open[len(open)-1].End
	case word == "}":
		return source.BracesForm(), last.Start, last.End
	}
	return source.FormulaEndsEarly(word), last.Start, last.End
}

// Reference is a name that a formula uses, perhaps of another page or a data file.
type Reference struct {
	Of, Name   string
	Start, End int
}

// References lists the names of the page that the formula uses, each as often as it
// is there, names bound by let and functions left out.
func (f *Formula) References() []Reference {
	var out []Reference
	bound := map[string]bool{}
	tokens := f.scan.tokens
	text := func(i int) string {
		if i < 0 || i >= len(tokens) {
			return ""
		}
		return f.scan.text[tokens[i].Start:tokens[i].End]
	}
	for i, t := range tokens {
		if t.Kind != Name {
			continue
		}
		switch {
		case text(i-1) == "let":
			bound[text(i)] = true
		case text(i-1) == ".":
		case bound[text(i)]:
		case text(i+1) == "." && i+2 < len(tokens):
			out = append(out, Reference{Of: text(i), Name: text(i + 2), Start: t.Start, End: tokens[i+2].End})
		default:
			out = append(out, Reference{Name: text(i), Start: t.Start, End: t.End})
		}
	}
	return out
}

// Alone reports whether the formula is one name, and which.
func (f *Formula) Alone() (string, bool) {
	if len(f.scan.tokens) == 1 && f.scan.tokens[0].Kind == Name {
		return f.scan.text[f.scan.tokens[0].Start:f.scan.tokens[0].End], true
	}
	return "", false
}

// Tokens gives the parts of the formula, for colouring; they index Normal.
func (f *Formula) Tokens() []Token { return f.scan.tokens }

// Normal is the formula with look-alike signs replaced, which Tokens index.
func (f *Formula) Normal() string { return f.scan.text }

// With writes the formula with each name that put knows replaced by its value.
func (f *Formula) With(put func(r Reference) (string, bool)) string {
	var b strings.Builder
	last := 0
	for _, r := range f.References() {
		if text, ok := put(r); ok {
			b.WriteString(f.scan.text[last:r.Start])
			b.WriteString(text)
			last = r.End
		}
	}
	b.WriteString(f.scan.text[last:])
	return b.String()
}

// Span is where the whole formula is in its file.
func (f *Formula) Span() source.Span { return f.spanOf(0, len(f.scan.text)) }

// SpanOf is where a part of the formula is in its file.
func (f *Formula) SpanOf(n *Node) source.Span {
	if n == nil {
		return f.Span()
	}
	return f.spanOf(n.Start, n.End)
}

// Fault places a problem at a part of the formula.
func (f *Formula) Fault(p source.Problem, n *Node) source.Diagnostic {
	if n == nil {
		return f.diagnose(p, 0, len(f.scan.text))
	}
	return f.diagnose(p, n.Start, n.End)
}

func (f *Formula) spanOf(start, end int) source.Span {
	if f.place == nil {
		return source.Span{}
	}
	return f.place(f.scan.original(start), f.scan.original(end))
}
