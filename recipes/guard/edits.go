package guard

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// edit replaces a part of a formula's text.
type edit struct {
	start, end int
	text       string
}

// swapped are the operators, words and functions with what a mutation makes of each.
var swapped = map[string][]string{
	"+": {"-"}, "-": {"+"}, "*": {"/"}, "/": {"*"}, "**": {"*"}, "^": {"*"},
	"<": {"<=", ">"}, "<=": {"<", ">="}, ">": {">=", "<"}, ">=": {">", "<="}, "==": {"!="}, "!=": {"=="},
	"and": {"or"}, "or": {"and"}, "not": {""},
	"min": {"max"}, "max": {"min"}, "floor": {"ceil"}, "ceil": {"floor"},
	"round": {"round_up", "round_down"}, "round_up": {"round", "round_down"}, "round_down": {"round", "round_up"},
	"interpolate": {"interpolate_log"}, "interpolate_log": {"interpolate"}, "smallest": {"largest"}, "largest": {"smallest"},
	"sum": {"mean"}, "mean": {"max", "median"}, "median": {"mean"}, "first": {"last"}, "last": {"first"}, "abs": {""},
}

// formulaChanges lists the mutations of a formula. Those whose kinds do not fit are
// dropped when they are applied.
func formulaChanges(s *page.Sheet, p place) []change {
	var edits []edit
	text, tokens := p.text.Normal(), p.text.Tokens()
	for i, t := range tokens {
		word := text[t.Start:t.End]
		switch t.Kind {
		case formula.Literal:
			for _, other := range mutated(word) {
				edits = append(edits, edit{t.Start, t.End, other})
			}
		case formula.Operator, formula.Keyword, formula.Function:
			if word == "-" && !afterOperand(tokens, text, i) {
				edits = append(edits, edit{t.Start, t.End, ""})
				break
			}
			for _, other := range swapped[word] {
				edits = append(edits, edit{t.Start, t.End, other})
			}
		}
	}
	edits = append(edits, columnEdits(s, p.text)...)
	for _, r := range p.text.References() {
		if u := s.UseNamed(r.Of); r.Of != "" && u != nil {
			name := r.Of + "." + r.Name
			edits = append(edits, edit{r.Start, r.End, "(" + name + " * 1.1)"}, edit{r.Start, r.End, "(" + name + " + 1 K)"})
		}
	}
	edits = append(edits, branchEdits(*p.node, text)...)
	var out []change
	for i, e := range edits {
		if slices.Contains(edits[:i], e) {
			continue // one more than 1 and twice 1 are the same
		}
		out = append(out, e.change(s, p))
	}
	return out
}

// afterOperand reports whether a sign is between two operands.
func afterOperand(tokens []formula.Token, text string, i int) bool {
	if i == 0 {
		return false
	}
	switch before := tokens[i-1]; before.Kind {
	case formula.Literal, formula.Name, formula.Quoted:
		return true
	case formula.Bracket, formula.Operator:
		word := text[before.Start:before.End]
		return word == ")" || word == "}"
	}
	return false
}

// columnEdits takes another column of the same file in place of one.
func columnEdits(s *page.Sheet, f *formula.Formula) []edit {
	var out []edit
	scope := s.Scope()
	for _, r := range f.References() {
		c, ok := scope.Column(r.Of, r.Name)
		if !ok || r.Of == "" || s.UseNamed(r.Of) != nil {
			continue
		}
		for _, name := range scope.Columns(r.Of) {
			if other, _ := scope.Column(r.Of, name); name != r.Name && other.Kind == c.Kind {
				out = append(out, edit{r.Start, r.End, r.Of + "." + name})
				break // one such mutation is enough
			}
		}
	}
	return out
}

// branchEdits makes an if always take one branch. The branches inside a bench formula, whose parts
// have the place of its call, are left to its own checks.
func branchEdits(root *formula.Node, text string) []edit {
	var out []edit
	var walk func(n *formula.Node)
	walk = func(n *formula.Node) {
		if n.Op == formula.If {
			if start, end := balanced(text, n.Args[0]); end > start {
				out = append(out, edit{start, end, "true"}, edit{start, end, "false"})
			}
		}
		for _, a := range n.Args {
			if a.Start != n.Start || a.End != n.End || n.Op != formula.Let && n.Op != formula.Guard {
				walk(a)
			}
		}
	}
	walk(root)
	return out
}

// balanced is the text of a part, with the brackets around its ends.
func balanced(text string, n *formula.Node) (start, end int) {
	start, end = n.Extent()
	depth, least := 0, 0
	for _, c := range text[start:end] {
		switch c {
		case '(':
			depth++
		case ')':
			depth--
			least = min(least, depth)
		}
	}
	for opened := -least; opened > 0 && start > 0; {
		if start--; text[start] == '(' {
			opened--
		}
	}
	for closed := depth - least; closed > 0 && end < len(text); end++ {
		if text[end] == ')' {
			closed--
		}
	}
	return start, end
}

// change is the edit as a change of the page.
func (e edit) change(s *page.Sheet, p place) change {
	text := p.text.Normal()
	edited := text[:e.start] + e.text + text[e.end:]
	return change{
		what: source.ChangedFormula(p.name, oneLine(text), oneLine(edited)),
		span: p.text.SpanOf(&formula.Node{Start: e.start, End: e.end}),
		apply: func() (func(), bool) {
			old := *p.node
			f, list := formula.Parse(edited, nil)
			if f == nil || list.Errors() > 0 {
				return nil, false
			}
			n, list := formula.Infer(f, s.Scope())
			if n == nil || list.Errors() > 0 || n.Kind != old.Kind || same(n, old) {
				return nil, false
			}
			*p.node = n
			return func() { *p.node = old }, true
		},
	}
}

// same reports whether two trees are alike in all but their places: 60 s for 1 min is not a mutation.
func same(a, b *formula.Node) bool {
	if a.Op != b.Op || a.Value != b.Value || len(a.Args) != len(b.Args) || a.Op == formula.Var && a.Slot != b.Slot {
		return false
	}
	if a.Data != nil && (b.Data == nil || a.Data.Result.Name != b.Data.Result.Name || len(a.Data.Keys) != len(b.Data.Keys)) {
		return false
	}
	if a.Data != nil {
		for i := range a.Data.Keys {
			if a.Data.Keys[i].Name != b.Data.Keys[i].Name {
				return false
			}
		}
	}
	for i := range a.Args {
		if !same(a.Args[i], b.Args[i]) {
			return false
		}
	}
	return true
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
