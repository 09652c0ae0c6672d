package page_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
)

// build reads, resolves and proves a page that uses no other.
func build(text string) (*page.Sheet, *prove.Proof, source.List) {
	return buildWith(text, nil, page.World{})
}

func buildWith(text string, library page.Library, world page.World) (*page.Sheet, *prove.Proof, source.List) {
	if world.Trades == nil {
		world.Trades = formulary.Load()
	}
	f, list := source.New("page.md", []byte(text))
	s, more := page.Decode(f, library)
	list = append(list, more...)
	if s == nil {
		return nil, nil, list
	}
	list = append(list, s.ResolveIn(world)...)
	if list.Errors() > 0 {
		return s, nil, list
	}
	p, more := prove.Sheet(context.Background(), s)
	return s, p, append(list, more...)
}

// marks takes ⟦marks⟧ out of a text and returns their places. A mark may begin with a code and a bar:
// ⟦unknown-name|tnak⟧.
func marks(t *testing.T, text string) (plain string, want []string) {
	t.Helper()
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "⟦")
		b.WriteString(before)
		if !found {
			return b.String(), want
		}
		inner, after, closed := strings.Cut(rest, "⟧")
		code, marked, coded := strings.Cut(inner, "|")
		if !closed || !coded {
			t.Fatalf("a mark without code or end: %q", inner)
		}
		so := b.String()
		line := strings.Count(so, "\n") + 1
		column := len([]rune(so[strings.LastIndexByte(so, '\n')+1:])) + 1
		want = append(want, fmt.Sprintf("%d:%d %s %q", line, column, code, brief(strings.SplitN(marked, "\n", 2)[0])))
		b.WriteString(marked)
		text = after
	}
}

// brief is the beginning of what is marked.
func brief(marked string) string {
	runes := []rune(strings.ToValidUTF8(marked, "\ufffd"))
	for i, r := range runes {
		if r < ' ' {
			runes[i] = ' '
		}
	}
	return string(runes[:min(len(runes), 40)])
}

// places lists where diagnostics are and what they mark.
func places(list source.List) []string {
	var out []string
	for _, d := range list.Sorted() {
		line, mark := d.Excerpt()
		from := strings.IndexByte(mark, '^')
		marked := ""
		if from >= 0 {
			runes := []rune(line)
			to := min(from+strings.Count(mark, "^"), len(runes))
			marked = strings.ReplaceAll(string(runes[min(from, to):to]), "→", "\t")
		}
		out = append(out, fmt.Sprintf("%d:%d %s %q", d.Line, d.Column, d.Code, brief(marked)))
	}
	return out
}

// expectMarks builds a marked page and checks that it gives just the diagnostics that are marked.
func expectMarks(t *testing.T, name, marked string) {
	t.Helper()
	text, want := marks(t, marked)
	_, _, list := build(text)
	got := places(list)
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\ngot  %s\nwant %s\n%s", name, strings.Join(got, "\n     "), strings.Join(want, "\n     "), text)
	}
	for _, d := range list {
		if d.Message == "" || d.Hint == "" {
			t.Errorf("%s: %s has message %q and hint %q", name, d.Code, d.Message, d.Hint)
		}
	}
}

func replaceEnds(text, end string) string { return strings.ReplaceAll(text, "\n", end) }
