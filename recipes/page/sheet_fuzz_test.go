package page_test

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// No text of a whole file makes reading fail; every message has a place in the file; what is proved
// holds at the page's own values.
func FuzzPage(f *testing.F) {
	for _, keys := range []string{exampleMix, "figures:\n  x: \"round(5 ml, 1 ml)\"", "summary: >\n  a\n\n  b", "topics: &x [a, *x]", "given: {a1: !!str 5 ml}"} {
		f.Add(pagetest.WithKeys(keys))
	}
	for _, marked := range examples {
		if len(marked) < 1000 {
			f.Add(pagetest.WithKeys(unmarked(marked)))
		}
	}
	for _, marked := range whole {
		if len(marked) < 1000 {
			f.Add(unmarked(marked))
		}
	}
	if text, err := os.ReadFile("../prove/testdata/whole-page.md"); err == nil {
		f.Add(string(text))
	}
	world := page.World{Trades: formulary.Load()}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 20_000 {
			return
		}
		file, list := source.New("page.md", []byte(text))
		tell := func(list source.List) {
			for _, d := range list {
				if d.Code == "" || d.Message == "" || d.File == "" || d.Line < 1 || d.Line > file.Lines() || d.Column < 1 ||
					d.Column > utf8.RuneCountInString(file.Line(d.Line))+1 || !utf8.ValidString(d.Message+d.Hint) {
					t.Fatalf("%+v", d)
				}
				_ = d.String()
			}
		}
		tell(list)
		s, list := page.Decode(file, exampleFiles)
		tell(list)
		if s == nil {
			if list.Errors() == 0 {
				t.Fatal("no sheet, and nothing is said")
			}
			return
		}
		if s.Body < 0 || s.Body > len(file.Text) {
			t.Fatalf("the body begins at %d of %d", s.Body, len(file.Text))
		}
		wrong := list.Errors()
		list = s.ResolveIn(world)
		tell(list)
		if wrong += list.Errors(); wrong > 0 || small(s) > 10_000 {
			return
		}
		p, list := prove.Sheet(context.Background(), s)
		tell(list)
		if p == nil {
			t.Fatal("nothing is proved")
		}
		if list.Errors() > 0 {
			return
		}
		if p.Own.Refused() || len(p.Own.Failed) > 0 || p.Own.Frame.Fault != formula.None {
			t.Fatalf("proved, and yet %v, %v", p.Own.Refusals, p.Own.Failed)
		}
		for _, f := range s.Figures {
			v := p.Own.Frame.V[f.Slot]
			shown := p.Own.Shown(f)
			if math.IsNaN(v) || math.IsInf(v, 0) || shown.Text == "" {
				t.Fatalf("%s is %v, shown as %q", f.Name, v, shown.Text)
			}
		}
		for _, g := range s.Given {
			if text := g.Shown(g.Own).Text; text == "" && g.Kind != quantity.Text {
				t.Fatalf("%s is shown as nothing", g.Name)
			}
		}
	})
}

func unmarked(marked string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(marked, "⟦")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		inner, after, _ := strings.Cut(rest, "⟧")
		_, text, _ := strings.Cut(inner, "|")
		b.WriteString(text)
		marked = after
	}
}

// small estimates how much work a sheet is: its cases times its formulas.
func small(s *page.Sheet) int {
	cases := 0
	prove.EachCase(s, prove.NewCase(s), func() bool { cases++; return true })
	return cases * (1 + len(s.Figures) + len(s.Limits) + len(s.Checks))
}
