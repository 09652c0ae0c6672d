package prove

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
)

// A formula that gives no number between two tried values is reported; one that only looks like it is
// not.
func TestPolesBetweenCases(t *testing.T) {
	const (
		steps  = "  a1: {value: 10 ml, from: 1 ml, to: 20 ml, step: 0.5 ml}\n"
		sample = "  a1: {value: 10 ml, from: 1 ml, to: 20 ml}\n"
		two    = "  a1: {value: 10 ml, from: 1 ml, to: 20 ml}\n  b1: {value: 3 ml, from: 2 ml, to: 6 ml}\n  film: {value: roll, choices: [roll, sheet]}\n"
		both   = "  a1: {value: 10 ml, from: 1 ml, to: 20 ml, step: 1 ml}\n  b1: {value: 3 ml, from: 2 ml, to: 6 ml, step: 1 ml}\n  film: {value: roll, choices: [roll, sheet]}\n"
		whole  = "  a1: {value: 10, from: 1, to: 20}\n"
	)
	for _, c := range []struct{ what, given, formula, more, want string }{
		{"between steps", steps, "100 ml2 / (a1 - 3.1 ml)", "", "a1 3.1 ml"},
		{"in a sample of one given", sample, "100 ml2 / (a1 - 3.14159 ml)", "", "a1 3.14159 ml"},
		{"in a sample of two", two, "100 ml2 / (a1 - 3.14159 ml)", "", "a1 3.14159 ml"},
		{"of two together, where one alone does not come to it", two, "100 ml2 / (a1 + b1 - 25.5 ml)", "", "a1 "},
		{"where one alone does", two, "100 ml2 / (a1 - b1 * 1.1)", "", "a1 3.3 ml"},
		{"of two in steps", both, "100 ml2 / (a1 - b1 * 1.1)", "", "a1 3.3 ml"},
		{"of one choice", both, "film == 'roll' ? 1 ml : 100 ml2 / (a1 - b1 * 1.1)", "", "a1 3.3 ml, film sheet"},
		{"by way of a figure", steps, "100 ml2 / low", "  low: a1 - 3.1 ml\n", "a1 3.1 ml"},
		{"by way of a let", steps, "let low = a1 - 3.1 ml; 100 ml2 / low", "", "a1 3.1 ml"},
		{"a power", steps, "((a1 - 3.1 ml) / 1 ml) ** -1", "", "a1 3.1 ml"},
		{"a dilution", steps, "dilution(1, a1 / 1 ml - 4.1)", "", "a1 3.1 ml"},
		{"a step to round to", steps, "round(100 ml, 8.3 ml - a1)", "", "a1 8.3 ml"},
		{"a divisor that touches nothing", steps, "100 ml3 / (a1 - 3.1 ml) ** 2", "", "a1 3.1 ml"},
		{"the same in a sample", sample, "100 ml3 / (a1 - 3.14159 ml) ** 2", "", "a1 3.14159"},
		{"a root of less than nothing between", steps, "sqrt((a1 - 3.35 ml) ** 2 - 0.001 ml2)", "", "a1 3.3"},
		{"a logarithm of less than nothing between", steps, "log((a1 / 1 ml - 3.35) ** 2 - 0.001)", "", "a1 3.3"},
		{"a limit's own", steps, "a1", "limits:\n  - {when: 1 ml2 / (a1 - 3.1 ml) > 5 ml, notice: Much.}\n", "a1 3.1 ml"},
		{"a temperature", "  a1: {value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}\n", "1 K / (a1 - 22.3 °C)", "", "a1 22.3 °C"},
		{"a curve", steps, "1 ml / (interpolate(curve.y, curve.x, a1) - 2.05 ml)", "", "a1 "},

		{"a divisor that is never nothing", steps, "100 ml2 / (a1 + 3.1 ml)", "", ""},
		{"one that nobody can prove so", steps, "100 ml2 / (a1 * a1 / 1 ml - a1 + 3 ml)", "", ""},
		{"one that only comes near", steps, "100 ml3 / ((a1 - 3.2 ml) ** 2 + 0.001 ml2)", "", ""},
		{"one whose place is refused", steps, "100 ml2 / (a1 - 3.1 ml)", "limits:\n  - {when: abs(a1 - 3.1 ml) < 0.01 ml, refuse: No.}\n", ""},
		{"one whose place is refused, in a sample", sample, "100 ml2 / (a1 - 3.1 ml)", "limits:\n  - {when: abs(a1 - 3.1 ml) < 0.01 ml, refuse: No.}\n", ""},
		{"one whose side is refused", sample, "100 ml2 / (a1 - 3.1 ml)", "limits:\n  - {when: a1 <= 3.2 ml, refuse: No.}\n", ""},
		{"one that a branch guards", steps, "a1 == 3.1 ml ? 0 ml : 100 ml2 / (a1 - 3.1 ml)", "", ""},
		{"one in a branch that is not taken", steps, "a1 > 4 ml ? 100 ml2 / (a1 - 3.1 ml) : 1 ml", "", ""},
		{"one that and guards", steps, "a1 > 4 ml and 100 ml2 / (a1 - 3.1 ml) > 1 ml", "", ""},
		{"one that jumps over nothing", steps, "100 ml2 / (round(a1 - 3.1 ml, 1 ml) - 0.25 ml)", "", ""},
		{"one that jumps by a branch", steps, "100 ml2 / (a1 > 3.1 ml ? 2 ml : -2 ml)", "", ""},
		{"one that is itself a quotient with a place of its own", "  a1: {value: 10 ml, from: 4 ml, to: 20 ml, step: 0.5 ml}\n", "1 / (1 / (a1 / 1 ml - 3.1))", "", ""},
		{"whole numbers have nothing between", whole, "100 / (a1 - 3.1)", "", ""},
		{"choices have nothing between", "  a1: {value: 1 ml, choices: [1 ml, 5 ml]}\n", "100 ml2 / (a1 - 3.1 ml)", "", ""},
		{"a step to round to that stays", steps, "100 ml2 / round_up(a1, 0.5 ml)", "", ""},
		{"a curve above nothing", steps, "1 ml / interpolate(curve.y, curve.x, a1)", "", ""},
		{"a logarithm of what is never less", steps, "log(a1 / 1 ml)", "", ""},
	} {
		figures := "figures:\n  b2: \"" + c.formula + "\"\n"
		more, rest := c.more, ""
		if strings.HasPrefix(more, "limits") {
			more, rest = "", c.more
		}
		_, _, list := buildWith(pagetest.WithKeys("data: {curve: curve.csv}\ngiven:\n"+c.given+figures+more+rest), pagetest.Shelf{"curve.csv": "x [ml],y [ml]\n1,1\n5,3\n9,2\n20,2.5\n"}, page.World{})
		switch {
		case c.want == "" && len(list) > 0:
			t.Errorf("%s: %s", c.what, list)
		case c.want == "":
		case len(list) != 1 || list[0].Code != "not-finite" || !strings.Contains(list[0].Message, "no finite number near "+c.want):
			t.Errorf("%s: %s, want one near %s", c.what, list, c.want)
		}
	}
}

// No case comes to a value outside the span that a reach gives.
func TestReachHolds(t *testing.T) {
	formulas := []string{"a1 + b1", "a1 - b1", "a1 * b1 / 1 ml", "a1 / b1 * 1 ml", "-a1", "abs(a1 - 7 ml)", "min(a1, b1)", "max(a1, b1, 5 ml)", "mean(a1, b1)",
		"clamp(a1, 3 ml, b1)", "sqrt(a1 * b1)", "exp(b1 / 1 ml) * 1 ml", "exp2(b1 / 1 ml) * 1 ml", "log(a1 / 1 ml) * 1 ml", "log10(a1 / 1 ml) * 1 ml", "floor(a1 / 3 ml) * 1 ml",
		"ceil(a1 / 3 ml) * 1 ml", "round(a1, 3 ml)", "round_up(a1, 3 ml)", "round_down(a1, 0.3 ml)", "(a1 / 1 ml) ** 2 * 1 ml", "(a1 / 1 ml) ** -0.5 * 1 ml", "((a1 - 9 ml) / 1 ml) ** 2 * 1 ml",
		"dilution(a1 / 1 ml, b1 / 1 ml) * 1 ml", "a1 > 7 ml ? a1 : -b1", "let x = a1 - b1; x * x / 1 ml", "interpolate(curve.y, curve.x, a1)", "ratio(stops(a1 / 1 ml)) * 1 ml",
		"kelvin(bath) * 1 ml", "(bath - 20 °C) * 1 ml / 1 K", "(a1 > b1 and b1 > 3 ml) ? 1 ml : 2 ml", "100 ml2 / a1", "100 ml2 / (a1 + b1)", "yes1 ? a1 : b1"}
	keys := "data: {curve: curve.csv}\ngiven:\n  a1: {value: 10 ml, from: 1 ml, to: 20 ml}\n  b1: {value: 3 ml, from: 2 ml, to: 6 ml}\n  bath: {value: 20 °C, from: 18 °C, to: 24 °C}\n  yes1: true\nfigures:\n"
	for i, f := range formulas {
		keys += fmt.Sprintf("  f%d: \"%s\"\n", i+10, f)
	}
	s, _, list := buildWith(pagetest.WithKeys(keys), pagetest.Shelf{"curve.csv": "x [ml],y [ml]\n1,1\n5,3\n9,2\n20,2.5\n"}, page.World{})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	r := NewReach(s)
	c := NewCase(s)
	narrow := 0
	EachCase(s, c, func() bool {
		c.Work()
		for i, f := range s.Figures {
			if v, x := c.Frame.V[f.Slot], r.slot(f.Slot); v < x.Low || v > x.High {
				t.Errorf("%s comes to %v, not within %v", formulas[i], v, x)
			}
		}
		return !t.Failed()
	})
	for i, f := range s.Figures {
		if x := r.slot(f.Slot); x.Low > formula.Everything.Low || x.High < formula.Everything.High {
			narrow++
		} else {
			t.Logf("nothing is known of %s", formulas[i])
		}
	}
	if narrow < len(formulas)-2 {
		t.Errorf("only %d of %d are bounded", narrow, len(formulas))
	}
}
