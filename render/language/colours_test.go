package language

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/dlclark/regexp2/v2"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/schema"
	"labsite/recipes/source"
)

// grammar is the TextMate grammar as an editor applies it to one line: the first rule that
// begins, and inside it the patterns of a formula.
type grammar struct {
	begin  []*regexp2.Regexp // of a placement, and of a key with a formula
	end    []*regexp2.Regexp
	inside []*regexp2.Regexp
	kinds  []formula.TokenKind
}

func readGrammar(t *testing.T) *grammar {
	t.Helper()
	var raw struct {
		Patterns []struct{ Begin, End string } `json:"patterns"`
	}
	if err := json.Unmarshal(schema.Colours(page.FormulaKeys()), &raw); err != nil {
		t.Fatal(err)
	}
	g := &grammar{}
	compiled := func(text string) *regexp2.Regexp {
		re, err := regexp2.Compile(text, regexp2.None)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		return re
	}
	for _, p := range raw.Patterns {
		g.begin, g.end = append(g.begin, compiled(p.Begin)), append(g.end, compiled(p.End))
	}
	for _, p := range schema.Patterns() {
		g.inside, g.kinds = append(g.inside, compiled(p.Match)), append(g.kinds, p.Kind)
	}
	return g
}

// first is the first match from a place on, and the expression that matched.
func first(t *testing.T, all []*regexp2.Regexp, line []rune, from int) (at, length, which int) {
	t.Helper()
	at = -1
	for i, re := range all {
		m, err := re.FindRunesMatchStartingAt(line, from)
		if err != nil {
			t.Fatal(err)
		}
		if m != nil && (at < 0 || m.RuneIndex < at) {
			at, length, which = m.RuneIndex, m.RuneLength, i
		}
	}
	return at, length, which
}

// coloured lists what the grammar colours in a line: kind, first column, text.
func (g *grammar) coloured(t *testing.T, text string) (out []string) {
	t.Helper()
	line := []rune(text)
	for at := 0; at <= len(line); {
		begin, length, rule := first(t, g.begin, line, at)
		if begin < 0 {
			return out
		}
		for at = begin + length; ; {
			end, endLength, _ := first(t, g.end[rule:rule+1], line, at)
			part, partLength, which := first(t, g.inside, line, at)
			if part < 0 || partLength == 0 || end >= 0 && end <= part {
				at = max(at, end+endLength)
				if end < 0 || at == begin+length && endLength == 0 && end >= len(line) {
					return out
				}
				break
			}
			out = append(out, fmt.Sprint(g.kinds[which], " ", part, " ", string(line[part:part+partLength])))
			at = part + partLength
		}
		if at >= len(line) {
			return out
		}
	}
	return out
}

// On every line of the demo's pages the grammar colours the placements of the body, and the
// formulas that are the value of a key, as the program parses them.
func TestGrammarOnTheDemo(t *testing.T) {
	g := readGrammar(t)
	demo := os.DirFS("../../content")
	placements, told := 0, 0
	err := fs.WalkDir(demo, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".md") || strings.HasPrefix(p, ".") || strings.HasPrefix(p, "approved") {
			return err
		}
		raw, err := fs.ReadFile(demo, p)
		if err != nil {
			return err
		}
		f, _ := source.New(p, raw)
		r := read(f)
		byLine := map[int][]string{}
		for _, x := range r.tokens {
			if x.kind == formula.Bracket || x.start < r.body {
				continue
			}
			line, column := f.Place(x.start)
			byLine[line] = append(byLine[line], fmt.Sprint(x.kind, " ", column-1, " ", f.Text[x.start:x.end]))
		}
		for line, want := range byLine {
			placements++
			got := g.coloured(t, f.Line(line))
			for _, token := range want {
				if !slices.Contains(got, token) && told < 10 {
					told++
					t.Errorf("%s:%d: %s\nthe program has %q, the grammar %q", p, line, f.Line(line), token, got)
				}
			}
		}
		return nil
	})
	if err != nil || placements < 100 {
		t.Errorf("%v; %d lines with placements", err, placements)
	}
}
