package prove

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// folderOf resolves pages that draw on one another, each after those that it draws on.
func folderOf(t testing.TB, fronts ...string) (sheets map[string]*page.Sheet, list source.List) {
	t.Helper()
	sheets = map[string]*page.Sheet{}
	for i := 0; i+1 < len(fronts); i += 2 {
		f, _ := source.New(fronts[i], []byte(pagetest.WithKeys(fronts[i+1])))
		s, more := page.Decode(f, tablesOf{"t.csv": "film,amount [ml]\nslow,11\nfast,13\n"})
		list = append(list, more...)
		list = append(list, s.ResolveIn(page.World{Page: func(p string) (*page.Sheet, source.Problem, bool) {
			return sheets[p], source.LinkNowhere(p, ""), sheets[p] != nil
		}})...)
		sheets[fronts[i]] = s
	}
	return sheets, list
}

const (
	drawnEnd  = "given:\n  x: {value: 5 ml, from: 1 ml, to: 100 l}\n  f: {value: slow, choices: [slow, fast]}\nfigures: {y: x + 1 ml}"
	drawnPass = "draws_on: {e: {page: end.md, at: {x: x}}}\ngiven: {x: {value: 5 ml, from: 1 ml, to: 100 l}}\nfigures: {y: e.y * 2}"
)

// A page drawn on is worked out once for each set of values, along whatever path it is reached.
func TestPartsAreShared(t *testing.T) {
	for _, c := range []struct {
		what, front string
		parts       string // the names of the parts worked out
		y           string // the page's figure y
	}{
		{"at their own values", "draws_on: {a: end.md, b: end.md}\nfigures: {y: a.y + b.y}", "a", "12 ml"},
		{"own values, set", "draws_on: {a: end.md, b: {page: end.md, at: {x: 5 ml}}}\nfigures: {y: a.y + b.y}", "a", "12 ml"},
		{"set alike", "draws_on: {a: {page: end.md, at: {x: z * 2}}, b: {page: end.md, at: {x: z*2.0}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y}", "a", "10 ml"},
		{"set otherwise", "draws_on: {a: {page: end.md, at: {x: z * 2}}, b: {page: end.md, at: {x: z * 3}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y}", "a b", "12 ml"},
		{"another given set", "draws_on: {a: {page: end.md, at: {f: \"'fast'\"}}, b: end.md, c: {page: end.md, at: {f: \"'slow'\"}}}\nfigures: {y: a.y + b.y + c.y}", "a b", "18 ml"},
		{"looked up alike", "data: {t: t.csv}\ndraws_on:\n  a: {page: end.md, at: {x: \"lookup(t.amount, t.film, f)\"}}\n  b: {page: end.md, at: {x: \"lookup(t.amount, t.film, f)\"}}\n  c: {page: end.md, at: {x: \"lookup(t.amount, t.film, 'slow')\"}}\ngiven: {f: {value: slow, choices: [slow, fast]}}\nfigures: {y: a.y + b.y + c.y}", "a c", "36 ml"},
		{"passed on", "draws_on: {a: {page: pass.md, at: {x: z}}, b: {page: end.md, at: {x: z}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y}", "a a.e", "9 ml"},
		{"passed on, the nearer first", "draws_on: {b: {page: end.md, at: {x: z}}, a: {page: pass.md, at: {x: z}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y}", "b a", "9 ml"},
		{"set by the other's figure", "draws_on: {a: {page: end.md, at: {x: b.y}}, b: {page: end.md, at: {x: z}}, c: {page: end.md, at: {x: b.y}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y + c.y}", "a b", "11 ml"},
		{"of one number by chance", "draws_on: {a: {page: end.md, at: {x: z}}, b: {page: end.md, at: {x: w}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 4 ml}, w: {value: 2 ml, from: 1 ml, to: 4 ml}}\nfigures: {y: a.y + b.y}", "a b", "6 ml"},
	} {
		sheets, list := folderOf(t, "end.md", drawnEnd, "pass.md", drawnPass, "page.md", c.front)
		if list.Errors() > 0 {
			t.Fatalf("%s: %v", c.what, list)
		}
		s := sheets["page.md"]
		var names []string
		for _, p := range s.Parts() {
			names = append(names, p.Name)
		}
		if got := strings.Join(names, " "); got != c.parts {
			t.Errorf("%s: worked out are %q, want %q", c.what, got, c.parts)
		}
		if got := OwnCase(s).Shown(s.Figure("y")).Text; got != c.y {
			t.Errorf("%s: y is %s, want %s", c.what, got, c.y)
		}
	}
}

// If pages each draw on the next one twice, the work grows only with the different values, and the
// numbers are those of a million paths.
func TestDoubling(t *testing.T) {
	for _, c := range []struct {
		second string
		levels int
		parts  int
	}{
		{"x", 16, 16},
		{"x * 2", 16, 16*17/2 + 16},
		{"x + 1 ml", 16, 16*17/2 + 16},
		{"5 ml", 16, 2 * 16},
	} {
		var fronts []string
		fronts = append(fronts, "p0.md", "given: {x: {value: 5 ml, from: 1 ml, to: 1000 l}}\nfigures: {y: x + 1 ml}")
		for i := range c.levels {
			fronts = append(fronts, fmt.Sprintf("p%d.md", i+1),
				fmt.Sprintf("draws_on: {a: {page: p%d.md, at: {x: x}}, b: {page: p%d.md, at: {x: %s}}}\ngiven: {x: {value: 5 ml, from: 1 ml, to: 1000 l}}\nfigures: {y: a.y + b.y}", i, i, c.second))
		}
		sheets, list := folderOf(t, fronts...)
		if list.Errors() > 0 {
			t.Fatal(list)
		}
		s := sheets[fmt.Sprintf("p%d.md", c.levels)]
		if got := len(s.Parts()); got != c.parts {
			t.Errorf("%s: %d parts, want %d", c.second, got, c.parts)
		}
		if most := 8 * (c.parts + 1); s.FrameSize() > most {
			t.Errorf("%s: %d slots, want at most %d", c.second, s.FrameSize(), most)
		}
		var y func(level int, x float64) float64
		y = func(level int, x float64) float64 {
			if level == 0 {
				return x + 1
			}
			second := map[string]float64{"x": x, "x * 2": x * 2, "x + 1 ml": x + 1, "5 ml": 5}[c.second]
			return y(level-1, x) + y(level-1, second)
		}
		if run := OwnCase(s); !quantity.Equal(run.Frame.V[s.Figure("y").Slot], y(c.levels, 5)) {
			t.Errorf("%s: y is %v, want %v", c.second, run.Frame.V[s.Figure("y").Slot], y(c.levels, 5))
		}
	}
}

// If the values differ on every path, layout stops at the bound, and the error names the path.
func TestTooManyDrawn(t *testing.T) {
	twice := func(next string) string {
		return "draws_on: {a: {page: " + next + ", at: {x: x + 1 ml}}, b: {page: " + next + ", at: {x: x * 2}}}\ngiven: {x: {value: 5 ml, from: 1 ml, to: 1000 l}}\nfigures: {y: a.y + b.y}"
	}
	fronts := []string{"p0.md", "given: {x: {value: 5 ml, from: 1 ml, to: 1000 l}}\nfigures: {y: x + 1 ml}"}
	for i := range 7 {
		fronts = append(fronts, fmt.Sprintf("p%d.md", i+1), twice(fmt.Sprintf("p%d.md", i)))
	}
	sheets, list := folderOf(t, fronts...)
	if len(sheets["p6.md"].Parts()) != 126 || len(list) != 1 || list[0].File != "p7.md" || list[0].Code != "drawn-too-many" ||
		!strings.Contains(list[0].Message, "p7.md → p6.md → p5.md → p4.md → p3.md") {
		t.Errorf("%d parts, and\n%v", len(sheets["p6.md"].Parts()), list)
	}
	if s := sheets["p7.md"]; s.Parts() != nil || s.FrameSize() > 16 {
		t.Errorf("room was made for %d parts in %d slots", len(s.Parts()), s.FrameSize())
	}

	var many strings.Builder
	many.WriteString("draws_on:\n")
	for i := range page.MostDrawn + 1 {
		fmt.Fprintf(&many, "  u%d: p0.md\n", i)
	}
	if _, list := folderOf(t, "p0.md", fronts[1], "page.md", many.String()); len(list) != 1 || list[0].Code != "drawn-too-many" || list[0].Line != page.MostDrawn+5 {
		t.Error(list)
	}

	var wide strings.Builder
	wide.WriteString("given:\n")
	for i := range page.MostValues / 20 {
		fmt.Fprintf(&wide, "  g%d: 1 ml\n", i)
	}
	uses := func(n int) string { return strings.Join(strings.SplitAfter(many.String(), "\n")[:n+1], "") }
	_, list = folderOf(t, "p0.md", wide.String(), "19.md", uses(19), "20.md", uses(20), "21.md", uses(21))
	if len(list) != 2 || list[0].Code != "drawn-too-large" || list[0].File != "20.md" || list[1].Code != "drawn-too-large" || list[1].File != "21.md" {
		t.Error(list)
	}
}

// The limits of a shared page are reported once, and all that use its values have no numbers if it
// refuses.
func TestSharedRefusal(t *testing.T) {
	sheets, list := folderOf(t, "end.md", drawnEnd+"\nlimits:\n  - {when: x > 50 ml, notice: Large.}\n  - {when: x > 70 ml, refuse: Too large.}",
		"pass.md", drawnPass+"\nlimits:\n  - {when: x > 60 ml, caution: Watch.}", "other.md", drawnPass,
		"page.md", "draws_on: {a: {page: pass.md, at: {x: z}}, b: {page: other.md, at: {x: z}}}\ngiven: {z: {value: 2 ml, from: 1 ml, to: 200 l}}\nfigures: {y: a.y + b.y}")
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	s := sheets["page.md"]
	c := NewCase(s)
	for _, x := range []struct {
		z        float64
		holding  string
		refusals int
		shut     []bool // a, b
	}{
		{2, "", 0, []bool{false, false}},
		{55, "a.e notice", 0, []bool{false, false}},
		{65, "a.e notice, a caution", 0, []bool{false, false}},
		{75, "a.e notice, a.e refuse, a caution", 1, []bool{true, true}},
		{150000, "", 2, []bool{true, true}}, // neither page was tested for it
		{55, "a.e notice", 0, []bool{false, false}},
	} {
		c.Set(s.GivenNamed("z"), x.z)
		c.Work()
		var holding []string
		for _, h := range c.AllHolding() {
			holding = append(holding, c.PartOf(h.Run).Name+" "+string(h.Limit.Kind))
		}
		if got := strings.Join(holding, ", "); got != x.holding {
			t.Errorf("at %g: %s hold, want %s", x.z, got, x.holding)
		}
		var shut []bool
		for _, u := range s.Uses {
			shut = append(shut, c.Inside(u).Refused())
		}
		if len(c.Refusals) != x.refusals || !slices.Equal(shut, x.shut) {
			t.Errorf("at %g: %d refusals, refused %v", x.z, len(c.Refusals), shut)
		}
	}
}
