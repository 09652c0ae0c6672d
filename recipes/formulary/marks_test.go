package formulary_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/source"
)

// marks takes ⟦code|text⟧ out of a text, and gives the places and texts that diagnostics
// of those codes must point to.
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
		want = append(want, fmt.Sprintf("%d:%d %s %s", line, column, code, marked))
		b.WriteString(marked)
		text = after
	}
}

// found writes diagnostics as marks does.
func found(list source.List) []string {
	var out []string
	for _, d := range list {
		line, mark := d.Excerpt()
		runes := []rune(line)
		from, width := strings.Count(strings.TrimRight(mark, "^"), " "), strings.Count(mark, "^")
		out = append(out, fmt.Sprintf("%d:%d %s %s", d.Line, d.Column, d.Code, string(runes[from:min(len(runes), from+width)])))
	}
	return out
}

func sameMarks(t *testing.T, list source.List, want []string) {
	t.Helper()
	got := found(list)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
		for _, d := range list {
			t.Log(d.String())
		}
	}
}
