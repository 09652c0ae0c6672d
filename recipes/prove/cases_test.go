package prove

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page/pagetest"
)

// cases lists the given values of all cases of a page, as text.
func cases(t *testing.T, given string) (out []string, all bool) {
	t.Helper()
	s, _, list := build(pagetest.WithKeys("given:\n" + given))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	c := NewCase(s)
	all = EachCase(s, c, func() bool {
		var parts []string
		for _, g := range s.Given {
			parts = append(parts, g.Shown(c.Frame.V[g.Slot]).Text)
		}
		out = append(out, strings.Join(parts, ", "))
		return true
	})
	return out, all
}

func TestCasesInSteps(t *testing.T) {
	for _, c := range []struct {
		name, given, want string
	}{
		{"nothing to set", "  a1: 5 ml", "5 ml"},
		{"choices", "  a1: {value: 1+50, choices: [1+50, 1+100]}", "1+50 | 1+100"},
		{"texts", "  a1: {value: sheet, choices: [roll, sheet]}", "roll | sheet"},
		{"yes or no", "  a1: true", "no | yes"},
		{"whole numbers", "  a1: {value: 2, from: 1, to: 4}", "1 | 2 | 3 | 4"},
		{"whole numbers with a step", "  a1: {value: 1, from: 1, to: 5, step: 2}", "1 | 3 | 5"},
		{"a step that does not end at the end", "  a1: {value: 1, from: 1, to: 4, step: 2}", "1 | 3 | 4"},
		{"steps and their middles", "  a1: {value: 5 ml, from: 5 ml, to: 7 ml, step: 1 ml}", "5 ml | 6 ml | 7 ml | 5.5 ml | 6.5 ml"},
		{"the last step is shorter", "  a1: {value: 5 ml, from: 5 ml, to: 6.5 ml, step: 1 ml}", "5 ml | 6 ml | 6.5 ml | 5.5 ml | 6.25 ml"},
		{"steps without noise", "  a1: {value: 0.1 ml, from: 0.1 ml, to: 0.4 ml, step: 0.1 ml}", "0.1 ml | 0.2 ml | 0.3 ml | 0.4 ml | 0.15 ml | 0.25 ml | 0.35 ml"},
		{"points", "  a1: {value: 18 °C, from: 18 °C, to: 20 °C, step: 1 K}", "18 °C | 19 °C | 20 °C | 18.5 °C | 19.5 °C"},
		{"two of them", "  a1: {value: 1, from: 1, to: 2}\n  b1: {value: x, choices: [x, y]}", "1, x | 1, y | 2, x | 2, y"},
		{"middles at the page's own values of the rest", "  a1: {value: 1 ml, from: 1 ml, to: 2 ml, step: 1 ml}\n  b1: {value: y, choices: [x, y]}",
			"1 ml, x | 1 ml, y | 2 ml, x | 2 ml, y | 1.5 ml, y"},
		{"a fixed one is kept", "  a1: {value: 1, from: 1, to: 2}\n  b1: 7 ml", "1, 7 ml | 2, 7 ml"},
		{"one value", "  a1: {value: 5 ml, from: 5 ml, to: 5 ml, step: 1 ml}", "5 ml"},
	} {
		got, all := cases(t, c.given)
		if strings.Join(got, " | ") != c.want || !all {
			t.Errorf("%s: %s (all: %v), want %s", c.name, strings.Join(got, " | "), all, c.want)
		}
	}
}

// Without steps, or with too many combinations, there is a sample of 4,096 cases: the page's own values,
// the corners, and points that are the same on every machine.
func TestCasesSampled(t *testing.T) {
	for _, c := range []struct {
		name, given string
		corners     []string
	}{
		{"no steps", "  a1: {value: 5 ml, from: 1 ml, to: 9 ml}", []string{"1 ml", "9 ml"}},
		{"one without steps", "  a1: {value: 5 ml, from: 1 ml, to: 9 ml}\n  b1: {value: 2, from: 1, to: 3}", []string{"1 ml, 1", "1 ml, 3", "9 ml, 1", "9 ml, 3"}},
		{"too many", "  a1: {value: 5, from: 1, to: 99}\n  b1: {value: 2, from: 1, to: 99}", []string{"1, 1", "1, 99", "99, 1", "99, 99"}},
		{"a step too fine", "  a1: {value: 5 ml, from: 1 ml, to: 9 ml, step: 0.001 ml}", []string{"1 ml", "9 ml"}},
		{"texts among them", "  a1: {value: 5 ml, from: 1 ml, to: 9 ml}\n  b1: {value: x, choices: [x, y, z]}\n  c1: true",
			[]string{"1 ml, x, no", "9 ml, z, yes", "1 ml, z, no", "9 ml, x, yes"}},
	} {
		got, all := cases(t, c.given)
		if all || len(got) != MostCases {
			t.Errorf("%s: %d cases, all %v", c.name, len(got), all)
		}
		own := map[string]string{"no steps": "5 ml", "one without steps": "5 ml, 2", "too many": "5, 2", "a step too fine": "5 ml", "texts among them": "5 ml, x, yes"}[c.name]
		if got[0] != own {
			t.Errorf("%s: the first case is %s, not the page's own", c.name, got[0])
		}
		for _, corner := range c.corners {
			if !slices.Contains(got, corner) {
				t.Errorf("%s: the corner %s is missing", c.name, corner)
			}
		}
		if again, _ := cases(t, c.given); !slices.Equal(again, got) {
			t.Errorf("%s: the sample differs from run to run", c.name)
		}
	}
	got, all := cases(t, manyGivens(12))
	if all || len(got) != MostCases {
		t.Fatalf("twelve ranges: %d cases, all %v", len(got), all)
	}
	distinct := map[string]bool{}
	for _, g := range got {
		distinct[g] = true
	}
	if len(distinct) < MostCases*9/10 {
		t.Errorf("only %d of %d cases differ", len(distinct), len(got))
	}
	// every range is tried at both ends and in between, however many ranges there are
	for _, n := range []int{1, 2, 10, 11, 25, 26, 40} {
		s, _, list := build(pagetest.WithKeys("given:\n" + manyGivens(n)))
		if list.Errors() > 0 {
			t.Fatal(list)
		}
		low, high, middle := make([]bool, n), make([]bool, n), make([]int, n)
		c := NewCase(s)
		count := 0
		EachCase(s, c, func() bool {
			count++
			for i, g := range s.Given {
				switch v := c.Frame.V[g.Slot]; {
				case v == 0:
					low[i] = true
				case v == 10:
					high[i] = true
				case v > 2.5 && v < 7.5:
					middle[i]++
				case v < 0 || v > 10:
					t.Fatalf("%d ranges: %v is outside", n, v)
				}
			}
			return true
		})
		if count != MostCases {
			t.Errorf("%d ranges: %d cases", n, count)
		}
		for i := range n {
			if !low[i] || !high[i] || middle[i] < 1000 {
				t.Errorf("%d ranges: the %d. is met at its ends %v, %v and %d times in its middle half", n, i+1, low[i], high[i], middle[i])
			}
		}
	}
}

func manyGivens(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  x%d: {value: 5 ml, from: 0 ml, to: 10 ml}\n", i)
	}
	return b.String()
}

// A whole number without steps stays whole in the sample.
func TestSampleKeepsWholeNumbers(t *testing.T) {
	s, _, list := build(pagetest.WithKeys("given:\n  a1: {value: 5, from: 1, to: 100000}\n  b1: {value: 5 ml, from: 1 ml, to: 2e3 ml}"))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	c := NewCase(s)
	EachCase(s, c, func() bool {
		if v := c.Frame.V[s.Given[0].Slot]; v != math.Round(v) {
			t.Fatalf("%v is tried", v)
		}
		return true
	})
}

// The corners of a sample are those of the ranges, in whatever order a page lists its choices.
func TestSampleTriesExtremeChoices(t *testing.T) {
	s, _, list := build(pagetest.WithKeys("given:\n  a1: {value: 5 ml, choices: [5 ml, 9 ml, 1 ml, 4 ml]}\n  b1: {value: 5 ml, from: 1 ml, to: 2e3 ml}"))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	c := NewCase(s)
	corners := map[[2]float64]bool{}
	EachCase(s, c, func() bool {
		corners[[2]float64{c.Frame.V[s.Given[0].Slot], c.Frame.V[s.Given[1].Slot]}] = true
		return true
	})
	for _, a := range []int{1, 2} {
		for _, end := range []float64{s.Given[1].From.Base, s.Given[1].To.Base} {
			if choice := s.Given[0].Choices[a].Base; !corners[[2]float64{choice, end}] {
				t.Errorf("%v with %v is not tried", choice, end)
			}
		}
	}
}

// The Halton sequence in bases 2 and 3, as it is published (J. H. Halton, 1960).
func TestHalton(t *testing.T) {
	for i, want := range [][2]float64{{0, 0}, {1. / 2, 1. / 3}, {1. / 4, 2. / 3}, {3. / 4, 1. / 9}, {1. / 8, 4. / 9}, {5. / 8, 7. / 9}, {3. / 8, 2. / 9}, {7. / 8, 5. / 9}} {
		if a, b := halton(i, 0), halton(i, 1); math.Abs(a-want[0]) > 1e-15 || math.Abs(b-want[1]) > 1e-15 {
			t.Errorf("point %d is %v, %v, want %v", i, a, b, want)
		}
	}
	for k := range 60 {
		for i := range 5000 {
			if v := halton(i, k); v < 0 || v >= 1 {
				t.Fatalf("point %d of dimension %d is %v", i, k, v)
			}
		}
	}
}

// Afterwards the page is at its own values again, and no case is tried after one that says to stop.
func TestEachCaseStops(t *testing.T) {
	for _, given := range []string{"  a1: {value: 2, from: 1, to: 4}", "  a1: {value: 2 ml, from: 1 ml, to: 4 ml}", "  a1: {value: 2 ml, from: 1 ml, to: 4 ml, step: 1 ml}"} {
		s, _, list := build(pagetest.WithKeys("given:\n" + given))
		if list.Errors() > 0 {
			t.Fatal(list)
		}
		for stop := 1; stop < 8; stop++ {
			c := NewCase(s)
			n := 0
			EachCase(s, c, func() bool { n++; return n < stop })
			if n > stop || c.Frame.V[s.Given[0].Slot] != 2 {
				t.Errorf("%s: %d cases, then at %v", given, n, c.Frame.V[s.Given[0].Slot])
			}
		}
	}
}

// Rules, finiteness and limits are tried over the cases of a page.
func TestProve(t *testing.T) {
	for _, c := range []struct{ name, keys, want string }{
		{"a rule that holds", "given:\n  a1: {value: 2, from: 1, to: 4}\nchecks:\n  - always: a1 > 0", ""},
		{"a rule that fails at the page's own values", "given:\n  a1: {value: 2, from: 1, to: 4}\nchecks:\n  - always: a1 < 2", "always-fails at the page's own values, with 2 on the left and 2 on the right (and in 3 of 4"},
		{"a rule that fails elsewhere", "given:\n  a1: {value: 2, from: 1, to: 4}\n  b1: {value: 1, from: 1, to: 2}\nchecks:\n  - always: a1 < 4", "always-fails at a1 4, with 4 on the left and 4 on the right (and in 2 of 8"},
		{"a rule that fails between the steps", "given:\n  a1: {value: 1 ml, from: 1 ml, to: 3 ml, step: 1 ml}\nchecks:\n  - always: round(a1, 1 ml) == a1", "always-fails at a1 1.5 ml"},
		{"a rule that nothing can fail", "figures:\n  a1: 5 ml\nchecks:\n  - always: a1 > 4 ml", "always-constant"},
		{"a rule over a fixed given", "given:\n  b1: 5 ml\nchecks:\n  - always: b1 > 4 ml", "always-constant"},
		{"a rule asks nothing of refused cases", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 3, refuse: No.}\nchecks:\n  - always: a1 < 4", ""},
		{"a rule with a fault", "given:\n  a1: {value: 2, from: 0, to: 4}\nchecks:\n  - always: 1 / a1 > 0", "always-fails at a1 0"},
		{"a figure that is not finite", "given:\n  a1: {value: 2, from: 0, to: 4}\nfigures:\n  b1: 1 / a1", "not-finite b1 gives no finite number at a1 0"},
		{"a figure that is not finite at the page's own values", "given:\n  a1: {value: 0, from: 0, to: 4}\nfigures:\n  b1: 1 / a1", "not-finite b1 gives no finite number at the page's own values"},
		{"a figure that is not finite is told once", "given:\n  a1: {value: 2, from: 0, to: 4}\nfigures:\n  b1: 1 / a1\n  c1: b1 * 2", "not-finite b1"},
		{"finiteness asks nothing of refused cases", "given:\n  a1: {value: 2, from: 0, to: 4}\nfigures:\n  b1: 1 / a1\nlimits:\n  - {when: a1 == 0, refuse: No.}", ""},
		{"a figure in a branch that is never taken", "given:\n  a1: {value: 2, from: 0, to: 4}\nfigures:\n  b1: \"a1 == 0 ? 1 : 1 / a1\"", ""},
		{"an overflow", "given:\n  a1: {value: 2, from: 0, to: 400}\nfigures:\n  b1: 10 ** a1", "not-finite b1"},
		{"a limit that is not finite", "given:\n  a1: {value: 2, from: 0, to: 4}\nlimits:\n  - {when: 1 / a1 > 0.9, notice: Look.}", "not-finite the limit"},
		{"a limit that never holds", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 5, notice: Look.}", "limit-never whatever is set (proved)"},
		{"a refusal that never holds", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 5, refuse: No.}", "limit-never"},
		{"a limit that holds between the steps", "given:\n  a1: {value: 1 ml, from: 1 ml, to: 3 ml, step: 1 ml}\nlimits:\n  - {when: a1 > 2 ml and a1 < 3 ml, notice: Look.}", ""},
		{"refused at the page's own values", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 == 2, refuse: Not two.}", "refused-at-own-values Not two."},
		{"refused always", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 0, refuse: No.}", "refused-at-own-values"},
		{"a check that holds", "given:\n  a1: {value: 2, from: 1, to: 4}\nfigures:\n  b1: a1 * 2 ml\nchecks:\n  - at: {a1: 3}\n    expect: {b1: 6 ml}\n    source: from memory", ""},
		{"a check that fails", "given:\n  a1: {value: 2, from: 1, to: 4}\nfigures:\n  b1: a1 * 2 ml\nchecks:\n  - at: {a1: 3}\n    expect: {b1: 7 ml}\n    source: from memory", "check-fails at a1 3, b1 should be 7 ml but is 6 ml"},
		{"a check at the page's own values", "figures:\n  b1: 4 ml\nchecks:\n  - expect: {b1: 4.0 ml}\n    source: from memory", ""},
		{"a check of what is displayed", "figures:\n  b1: {formula: 4.04 ml, show: 0.1 ml}\nchecks:\n  - expect: {b1: 4.0 ml}\n    source: from memory", ""},
		{"a check of what is displayed, in another unit", "figures:\n  t1: {formula: 556 s, show: 15 s}\nchecks:\n  - expect: {t1: 9.25 min}\n    source: from memory", ""},
		{"a check of more digits than are displayed", "figures:\n  b1: {formula: 4.04 ml, show: 0.1 ml}\nchecks:\n  - expect: {b1: 4.04 ml}\n    source: from memory", "check-fails at the page's own values, b1 is 4.04 ml, but shown as 4.0 ml"},
		{"a tolerance compares the unrounded value", "figures:\n  b1: {formula: 4.04 ml, show: 0.1 ml}\nchecks:\n  - expect: {b1: 4.03 ml ± 0.01 ml}\n    source: from memory", ""},
		{"a tolerance that is too narrow", "figures:\n  b1: {formula: 4.04 ml, show: 0.1 ml}\nchecks:\n  - expect: {b1: 4.0 ml ± 0.03 ml}\n    source: from memory", "check-fails 4.0 ml ± 0.03 ml but is 4.04 ml"},
		{"a tolerance in percent", "figures:\n  b1: 4.04 ml\nchecks:\n  - expect: {b1: 4 ml ± 1 %}\n    source: from memory", ""},
		{"a check of a text", "given:\n  e1: {value: 0.2 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}\nfigures:\n  v1: \"e1 <= 1/3 stop ? 'ok' : 'repair'\"\nchecks:\n  - {at: {e1: 0.5 stop}, expect: {v1: repair}, source: from memory}", ""},
		{"a check of a text that fails", "given:\n  e1: {value: 0.2 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}\nfigures:\n  v1: \"e1 <= 1/3 stop ? 'ok' : 'repair'\"\nchecks:\n  - {at: {e1: 0.5 stop}, expect: {v1: ok}, source: from memory}", "check-fails v1 should be ok but is repair"},
		{"a rule on a text", "given:\n  e1: {value: 0.2 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}\nfigures:\n  v1: \"e1 <= 1/3 stop ? 'ok' : 'repair'\"\nchecks:\n  - always: v1 == 'ok'", "always-fails repair on the left and ok on the right"},
		{"a chart of a text", "given:\n  e1: {value: 0.2 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}\nfigures:\n  v1: \"e1 <= 1/3 stop ? 'ok' : 'repair'\"\ncharts:\n  c: {caption: C, x: e1, y: v1}", "wrong-kind a chart needs figures with a number"},
		{"a check of a fraction", "figures:\n  s1: {formula: stops(3.2), show: 1/3 stop}\nchecks:\n  - expect: {s1: 1 2/3 stop}\n    source: from memory", ""},
		{"a check of a short time", "figures:\n  t1: {formula: 8.1 ms, show: 1/n s}\nchecks:\n  - expect: {t1: 1/123 s}\n    source: from memory", ""},
		{"a check of a dilution", "figures:\n  d1: {formula: 0.0099, show: 1+n}\nchecks:\n  - expect: {d1: 1+100}\n    source: from memory", ""},
		{"a check of a yes", "given:\n  a1: {value: 2, from: 1, to: 4}\nfigures:\n  f1: a1 > 1\nchecks:\n  - expect: {f1: yes}\n    source: from memory", ""},
		{"a check of a no that fails", "given:\n  a1: {value: 2, from: 1, to: 4}\nfigures:\n  f1: a1 > 1\nchecks:\n  - expect: {f1: no}\n    source: from memory", "check-fails f1 should be no but is yes"},
		{"a check where the page refuses", "given:\n  a1: {value: 2, from: 1, to: 4}\nfigures:\n  b1: a1 * 2\nlimits:\n  - {when: a1 > 3, refuse: Too much.}\nchecks:\n  - at: {a1: 4}\n    expect: {b1: 8}\n    source: from memory", "check-refused at a1 4 the page refuses: Too much."},
		{"a check for a notice", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 3, notice: Much.}\nchecks:\n  - at: {a1: 4}\n    expect: notice\n    source: from memory", ""},
		{"a check for a notice where a caution holds", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 3, caution: Much.}\nchecks:\n  - at: {a1: 4}\n    expect: notice\n    source: from memory", "check-fails a notice should hold"},
		{"a check for a warning", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 3, warning: Much.}\nchecks:\n  - at: {a1: 4}\n    expect: warning\n    source: from memory", ""},
		{"a check for a refusal that fails", "given:\n  a1: {value: 2, from: 1, to: 4}\nlimits:\n  - {when: a1 > 3, refuse: No.}\nchecks:\n  - at: {a1: 3}\n    expect: refused\n    source: from memory", "check-fails the page should refuse, but it does not refuse"},
		{"ends of a range are included, up to noise", "given:\n  a1: {value: 0.1 ml, from: 0.1 ml, to: 0.3 ml}\nfigures:\n  b1: a1 * 1\nchecks:\n  - at: {a1: 0.3 ml}\n    expect: {b1: 0.3 ml}\n    source: from memory", ""},
		{"a sum meets its value in spite of noise", "figures:\n  b1: 0.1 ml + 0.2 ml\nchecks:\n  - expect: {b1: 0.3 ml ± 0 ml}\n    source: from memory", ""},
		{"a cycle", "figures:\n  a1: b1 * 2\n  b1: c1 + 1\n  c1: a1 / 2", "cycle a1 → b1 → c1 → a1"},
		{"a figure of itself", "figures:\n  a1: a1 + 1", "cycle a1 → a1"},
		{"figures in any order", "figures:\n  a1: b1 * 2\n  b1: c1 + 1\n  c1: 3\nchecks:\n  - expect: {a1: 8}\n    source: from memory", ""},
	} {
		_, _, list := build(pagetest.WithKeys(c.keys))
		code, part, _ := strings.Cut(c.want, " ")
		switch {
		case c.want == "" && len(list) > 0:
			t.Errorf("%s: %s", c.name, list)
		case c.want == "":
		case len(list) != 1 || list[0].Code != code || !strings.Contains(list[0].Message, part):
			t.Errorf("%s: want %s, got %s", c.name, c.want, list)
		}
	}
}

// A proof counts its cases and refusals, and names the case that breaks a rule as simply as possible.
func TestProofCounts(t *testing.T) {
	s, p, list := build(pagetest.WithKeys("given:\n  a1: {value: 2, from: 1, to: 4}\n  b1: {value: 1, from: 1, to: 3}\nlimits:\n  - {when: a1 > 3, refuse: No.}\nfigures:\n  c1: a1 * b1\nchecks:\n  - always: c1 < 10"))
	if len(list) > 0 {
		t.Fatal(list)
	}
	if p.Cases != 12 || p.Refused != 3 || !p.All || len(p.Verdicts) != 1 || !p.Verdicts[0].OK || p.Verdicts[0].At != "every setting (proved)" || !p.Verdicts[0].Proved || !p.Finite {
		t.Errorf("%+v", p)
	}
	if c := p.Own; c.Refused() || len(c.Failed) > 0 || c.Frame.V[s.Figure("c1").Slot] != 2 || c.Frame.Fault != formula.None {
		t.Errorf("%+v", c)
	}
}
