package language

import (
	"fmt"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
	"labsite/render/work"
)

// tokenTypes are the protocol's names for the kinds of tokens in a formula, in the order of
// formula.TokenKind.
var tokenTypes = []string{
	formula.Literal:  "number",
	formula.Quoted:   "string",
	formula.Name:     "variable",
	formula.Function: "function",
	formula.Keyword:  "keyword",
	formula.Operator: "operator",
	formula.Bracket:  "",
}

func init() { tokenTypes = tokenTypes[:formula.Bracket] } // brackets have no colour

// semanticTokens colours the formulas of a page, by the program's own tokens.
func (s *server) semanticTokens(p documentParams) (any, error) {
	out := semanticTokens{Data: []int{}}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	f := d.fileOf()
	tokens := read(f).tokens
	slices.SortFunc(tokens, func(a, b token) int { return a.start - b.start })
	last, end := position{}, 0
	for _, t := range tokens {
		if t.kind == formula.Bracket || t.start < end {
			continue
		}
		for _, part := range onLines(f, t.start, t.end) {
			at := placeOf(f, part[0])
			delta := at.Character
			if at.Line == last.Line {
				delta -= last.Character
			}
			out.Data = append(out.Data, at.Line-last.Line, delta, units(f.Text[part[0]:part[1]]), int(t.kind), 0)
			last, end = at, part[1]
		}
	}
	return out, nil
}

// onLines cuts a part of a file where its lines end.
func onLines(f *source.File, start, end int) (out [][2]int) {
	for start < end {
		stop := end
		if i := strings.IndexByte(f.Text[start:end], '\n'); i >= 0 {
			stop = start + i
		}
		if stop > start {
			out = append(out, [2]int{start, stop})
		}
		start = stop + 1
	}
	return out
}

// inlayHint shows the page's own value at the end of the line of each figure.
func (s *server) inlayHint(p rangeParams) (any, error) {
	out := []inlayHint{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !s.hints || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	s.look(func(l *lookup) {
		at := l.content.Page(d.path)
		if at == nil {
			return
		}
		full := l.desk.Resolved(at)
		run := own(full.Sheet, full.Resolved)
		if run == nil {
			return
		}
		for _, f := range full.Sheet.Figures {
			line, _ := full.File.Place(f.Span.Start)
			shown := run.Shown(f)
			if line-1 < p.Range.Start.Line || line-1 > p.Range.End.Line || shown.Text == "" {
				continue
			}
			out = append(out, inlayHint{position{line - 1, units(full.File.Line(line))}, "= " + shown.Text, true})
		}
	})
	return out, nil
}

// codeLens says above each figure how well it is guarded, and what changed since the last revision.
func (s *server) codeLens(p documentParams) (any, error) {
	out := []codeLens{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	s.look(func(l *lookup) {
		at := l.content.Page(d.path)
		if at == nil {
			return
		}
		full := l.desk.Held(at)
		if full == nil || full.Sheet == nil {
			return
		}
		s.mu.Lock()
		whole := s.known[d.path].page
		s.mu.Unlock()
		if whole != "" {
			out = append(out, codeLens{Command: command{Title: "the page is " + whole}})
		}
		for _, f := range full.Sheet.Figures {
			if f.Label == "" {
				continue
			}
			at := rangeOf(full.File, f.Span.Start, f.Span.End)
			out = append(out, codeLens{at, command{Title: s.guardedBy(d.path, len(work.Guards(full.Sheet, f.Name)), f)}})
			for _, text := range changed(full, f.Name) {
				out = append(out, codeLens{at, command{Title: text}})
			}
		}
	})
	return out, nil
}

// changed says where a figure differs from the last approved revision, or from the one before.
func changed(full *work.Page, name string) (out []string) {
	st := full.Standard
	if st == nil {
		return nil
	}
	for _, x := range st.Differs {
		if x.Name == name && st.Record != nil {
			out = append(out, fmt.Sprintf("differs from revision %d: was %s, is %s", st.Record.Revision, x.Before, x.After))
		}
	}
	for _, x := range st.Changed {
		if x.Name == name && st.Before != nil {
			out = append(out, fmt.Sprintf("changed since revision %d: was %s, is %s", st.Before.Revision, x.Before, x.After))
		}
	}
	return out
}

// formatting removes spaces at the ends of lines of the front matter, and nothing else. A text that
// runs over several lines stays as it is.
func (s *server) formatting(p documentParams) (any, error) {
	out := []textEdit{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	f := d.fileOf()
	start, end, _, ok := page.Parts(f)
	if !ok {
		return out, nil
	}
	before, _ := tree.Parse(f, start, end)
	if before == nil {
		return out, nil
	}
	var kept [][2]int
	literal(before, &kept)
	first, _ := f.Place(start)
	last, _ := f.Place(end)
	for line := first; line < last; line++ {
		text := f.Line(line)
		bare := strings.TrimRight(text, " \t")
		at := f.Offset(line)
		inside := slices.ContainsFunc(kept, func(k [2]int) bool { return at+len(text) >= k[0] && at < k[1] })
		if len(bare) < len(text) && !inside {
			out = append(out, textEdit{rangeOf(f, at+len(bare), at+len(text)), ""})
		}
	}
	return out, nil
}

// literal lists the ranges of texts that run over several lines.
func literal(v *tree.Value, out *[][2]int) {
	if v.Shape == tree.Scalar && strings.Contains(v.Span.Text(), "\n") {
		*out = append(*out, [2]int{v.Span.Start, v.Span.End})
	}
	for _, item := range v.Items {
		literal(item, out)
	}
}
