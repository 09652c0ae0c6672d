package schema_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/dlclark/regexp2/v2"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/schema"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// coloured takes a formula apart as an editor does: the pattern that matches first and, of
// several, the one that is first in the grammar.
func coloured(t *testing.T, patterns []*regexp2.Regexp, kinds []formula.TokenKind, text string) (out []string) {
	t.Helper()
	runes := []rune(text)
	for at := 0; at < len(runes); {
		best, length, which := -1, 0, 0
		for i, p := range patterns {
			m, err := p.FindRunesMatchStartingAt(runes, at)
			if err != nil {
				t.Fatal(err)
			}
			if m != nil && m.RuneLength > 0 && (best < 0 || m.RuneIndex < best) {
				best, length, which = m.RuneIndex, m.RuneLength, i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, fmt.Sprint(kinds[which], " ", string(runes[best:best+length])))
		at = best + length
	}
	return out
}

// formulas calls see with every formula of a front matter.
func formulas(e *tree.Entry, v *tree.Value, see func(text string)) {
	if e == nil || v == nil {
		return
	}
	switch v.Shape {
	case tree.Scalar:
		if e.Reads == tree.Formula {
			see(v.Text)
		}
	case tree.List:
		for _, item := range v.Items {
			formulas(e.Item, item, see)
		}
	case tree.Mapping:
		for i, k := range v.Keys {
			formulas(e.Key(k.Text), v.Items[i], see)
		}
	}
}

// The grammar colours the formulas of the demo as the program takes them apart.
func TestColoursAreTheProgramsTokens(t *testing.T) {
	var patterns []*regexp2.Regexp
	var kinds []formula.TokenKind
	for _, p := range schema.Patterns() {
		re, err := regexp2.Compile(p.Match, regexp2.None)
		if err != nil {
			t.Fatalf("%s: %v", p.Name, err)
		}
		patterns, kinds = append(patterns, re), append(kinds, p.Kind)
	}
	tried, told := 0, 0
	see := func(text string) {
		f, _ := formula.Parse(text, nil)
		if f == nil || f.Normal() != text {
			return
		}
		var want []string
		for _, x := range f.Tokens() {
			if x.Kind != formula.Bracket {
				want = append(want, fmt.Sprint(x.Kind, " ", text[x.Start:x.End]))
			}
		}
		tried++
		if got := coloured(t, patterns, kinds, text); strings.Join(got, "\n") != strings.Join(want, "\n") && told < 10 {
			told++
			t.Errorf("%s\ngot  %q\nwant %q", text, got, want)
		}
	}
	demo := os.DirFS("../../content")
	fs.WalkDir(demo, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".md") {
			return err
		}
		raw, err := fs.ReadFile(demo, p)
		if err != nil {
			t.Fatal(err)
		}
		f, _ := source.New(p, raw)
		if start, end, _, ok := page.Parts(f); ok {
			v, _ := tree.Parse(f, start, end)
			formulas(page.Front(), v, see)
		}
		return nil
	})
	for _, o := range formula.Operations() {
		see(o.Example.Formula)
	}
	if tried < 150 {
		t.Errorf("only %d formulas were tried", tried)
	}
	var grammar map[string]any
	if err := json.Unmarshal(schema.Colours(page.FormulaKeys()), &grammar); err != nil || grammar["scopeName"] != "labsite.formulas" {
		t.Errorf("%v, %v", err, grammar["scopeName"])
	}
}
