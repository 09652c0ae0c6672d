package formula

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/source/sourcetest"
)

// Every trap that the engine has, or had: refused by code, within its bounds.
func TestTraps(t *testing.T) {
	chain := func(n int, open, mid, end string) string {
		return strings.Repeat(open, n) + mid + strings.Repeat(end, n)
	}
	million := 1_000_000
	for _, c := range []struct {
		name, text, code string
	}{
		{"a million parentheses", chain(million, "(", "1", ")"), "formula-too-long"},
		{"a million open parentheses", strings.Repeat("(", million), "formula-too-long"},
		{"a million minus signs", strings.Repeat("-", million) + "1", "formula-too-long"},
		{"a million blanks", strings.Repeat(" ", million) + "1", "formula-too-long"},
		{"a million blanks alone", strings.Repeat(" ", million), "formula-empty"},
		{"a million wide characters", strings.Repeat("界", million), "formula-too-long"},
		{"a million quotes", strings.Repeat(`"`, million), "formula-too-long"},
		{"parentheses up to the bound", chain(990, "(", "1", ")"), "formula-too-deep"},
		{"65 levels", chain(65, "(", "1", ")"), "formula-too-deep"},
		{"64 levels", chain(64, "(", "1", ")"), ""},
		{"65 calls", chain(65, "abs(", "1", ")"), "formula-too-deep"},
		{"65 braces", chain(65, "if y { ", "1", " } else { 2 }"), "formula-too-deep"},
		{"minus chain", strings.Repeat("- ", 900) + "1", "formula-too-deep"},
		{"minus chain, dense", strings.Repeat("-", 1990) + "1", "formula-too-large"},
		{"plus chain", strings.Repeat("+", 1990) + "1", "formula-too-large"},
		{"not chain", strings.Repeat("not ", 450) + "y", "formula-too-deep"},
		{"power chain", "2" + strings.Repeat("**2", 600), "formula-too-deep"},
		{"power chain, spelt ^", "2" + strings.Repeat("^2", 900), "formula-too-large"},
		{"ternary chain", strings.Repeat("y?1:", 450) + "2", "formula-too-deep"},
		{"ternary chain in the middle", strings.Repeat("y?", 300) + "1" + strings.Repeat(":2", 300), "formula-too-deep"},
		{"else-if chain", strings.Repeat("if y{1}else ", 150) + "{2}", "formula-too-deep"},
		{"let chain", strings.Repeat("let x=1;", 200) + "2", "name-taken"},
		{"sum of 100", "1" + strings.Repeat(" + 1", 99), ""},
		{"sum of 101", "1 " + strings.Repeat("+ 1 ", 100), "formula-too-large"},
		{"sum of 400", "1 " + strings.Repeat("+ 1 ", 399), "formula-too-large"},
		{"and of 100", "y" + strings.Repeat(" and y", 99), ""},
		{"2,000 characters", "1" + strings.Repeat(" ", 1999), ""},
		{"2,001 characters", "1" + strings.Repeat(" ", 2000), "formula-too-long"},
		{"2,000 wide characters", `film == "` + strings.Repeat("界", 1990) + `"`, "not-a-choice"},
		{"2,001 wide characters", `film == "` + strings.Repeat("界", 1991) + `"`, "formula-too-long"},
		{"min of 199", "min(1" + strings.Repeat(",1", 197) + ")", ""},
		{"min of 300", "min(1" + strings.Repeat(",1", 299) + ")", "formula-too-large"},
		{"chained comparisons", "1" + strings.Repeat("<1", 999), "not-allowed"},
		{"nested chained comparisons", nested(8, "(1<X<3)"), "not-allowed"},
		{"chained comparisons in brackets", nested(60, "(X<1)<2"), "not-allowed"},
		{"nested ?:", nested(9, "(X ?: 1)"), "not-allowed"},
		{"map", "map([1], # + 1)", "not-allowed"},
		{"map without signs", "map(tank, tank)", "not-allowed"},
		{"filter", "filter(tank, y)", "not-allowed"},
		{"reduce", "reduce(tank, 1, 0)", "not-allowed"},
		{"sum", "sum(tank)", "wants-column"},
		{"loops in loops", nested(9, "map(1..9, X)"), "not-allowed"},
		{"pipe", "tank | abs()", "not-allowed"},
		{"pipe of a pipe", "tank | abs | sum", "not-allowed"},
		{"::", "a::b(1)", "not-allowed"},
		{"string +", `"a" + "b"`, "wrong-kind"},
		{"string + with a choice", `film == "a" + "b"`, "wrong-kind"},
		{"string doubling", `let x = "aaaaaaaa"; let x2 = x + x; x2 == film`, "wrong-kind"},
		{"string in a branch", `film == (y ? "roll" : "sheet")`, ""},
		{"a ?: b", "tank ?: 5 ml", "not-allowed"},
		{"a ? : b", "tank ? : 5 ml", "not-allowed"},
		{"a ?  : b", "y ?\n: 5 ml", "not-allowed"},
		{"5 ml (x)", "5 ml (tank)", "operator-missing"},
		{"5 (x)", "5 (tank)", "operator-missing"},
		{`"a"b`, `"a"b`, "operator-missing"},
		{`"a" b`, `"a" b`, "operator-missing"},
		{`"a"(b)`, `"a"(tank)`, "operator-missing"},
		{`"a""b"`, `film == "roll""x"`, "operator-missing"},
		{`5"a"`, `5"a"`, "operator-missing"},
		{`not"a"`, `not"a"`, "operator-missing"},
		{"literal and its blanks", "_____", "name-underscore"},
		{"literal beside underscores", "5 ml + ____", "name-underscore"},
		{"underscores called", "____(5)", "unknown-function"},
		{"a point behind a literal", "5 ml.x", "unexpected-sign"},
		{"a point behind a text", `"a".b`, "unexpected-sign"},
		{"an escape in a text", `film == "ro\"ll"`, "operator-missing"},
		{"a backslash in a text", `film == "ro\ll"`, "not-a-choice"},
		{"a back quote", "film == `roll`", "not-allowed"},
		{"two lines in a text", "film == \"ro\nll\"", "not-a-choice"},
		{"a semicolon alone", ";", "not-allowed"},
		{"two semicolons", "let x = 1;; x", "not-allowed"},
		{"a second result", "1; 2", "not-allowed"},
		{"let of itself", "let x = x; x", "unknown-name"},
		{"let twice", "let x = 1; let x = 2; x", "name-taken"},
		{"let of a name of the page", "let tank = 1; tank", "name-taken"},
		{"let of a literal", "let 5 ml = 1; 5 ml", "let-name"},
		{"let of a text", `let "a" = 1; 2`, "let-name"},
		{"let of a function", "let abs = 1; abs", "let-name"},
		{"let of a unit", "let ml = 1; ml", "let-name"},
		{"let out of its place", "(let x = 1; x) + x", "unknown-name"},
		{"the environment", "$env", "not-allowed"},
		{"a slice", "tank[1:2]", "not-allowed"},
		{"an optional point", "mix?.syrup", "not-allowed"},
		{"a method", "tank.String()", "not-allowed"},
		{"a comment to the end", "tank // + 1", "not-allowed"},
		{"a comment over lines", "tank /* \n */ + 1", "not-allowed"},
		{"NaN", "nan", "unknown-name"},
		{"Infinity", "inf + Infinity", "unknown-name unknown-name"},
		{"a hundred unknown units", strings.Repeat("5 mmll+", 280) + "1", "unknown-unit"},
		{"a hundred unknown names", strings.Repeat("nnnname+", 99) + "1", "unknown-name"},
		{"an endless unit", "5 " + strings.Repeat("m*", 900) + "m", "units-do-not-join"},
		{"an endless joined unit", "5 " + strings.Repeat("m/m*", 490) + "m", ""},
		{"an endless number", strings.Repeat("9", 1999), "number-too-long"},
		{"an endless fraction", "1/" + strings.Repeat("9", 1900) + " s", "number-too-long"},
	} {
		sourcetest.Bounded(t, c.name, func() {
			n, list := infer(c.text)
			code := ""
			if len(list) > 0 {
				code = list[0].Code
			}
			if strings.Contains(c.code, " ") {
				code = codes(list)
			}
			if code != c.code || (n == nil) != (c.code != "") {
				shown := c.text
				if len(shown) > 60 {
					shown = shown[:60] + "…"
				}
				t.Errorf("%s (%s): %q, want %q", c.name, shown, code, c.code)
			}
			for _, d := range list {
				_ = d.String()
			}
			if n != nil {
				frame := Frame{V: make([]float64, 2000)}
				n.Eval(&frame)
				n.FirstUnit()
				n.Ownership()
			}
		})
	}
}

// nested puts a formula into itself, n times.
func nested(n int, form string) string {
	text := "1"
	for range n {
		next := strings.ReplaceAll(form, "X", text)
		if len(next) > 1900 {
			break
		}
		text = next
	}
	return text
}

// All problems of a formula are reported, each at its own place.
func TestAllProblemsAreReported(t *testing.T) {
	for text, want := range map[string]string{
		"tnak + srtength":               "unknown-name unknown-name",
		"(tank + bath) + (rolls + a)":   "kinds-differ kinds-differ",
		"film == \"x\" and 5 == 1 ml":   "not-a-choice kinds-differ",
		"abs() + min(1) + round(2)":     "argument-count argument-count argument-count",
		"tank && rolls || bath":         "not-allowed not-allowed",
		"if tank { tnak } else { 5 g }": "unknown-name wrong-kind",
	} {
		_, list := infer(text)
		if got := codes(list); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// No text panics: every cut of every trap and of some ordinary formulas.
func TestCutsDoNotPanic(t *testing.T) {
	for _, text := range []string{`if film == "roll" and not (bath > -5 °C) { let x = round(5 μl, 1 µl); x ** 2 } else { lookup(times.y, times.x, 1 2/3) }`,
		"time_at_temperature(base_time, 20 °C, bath, 1.09, 18 °C, 24 °C)", "mix.syrup * (1 in 100) ? 10:30 : 1+100"} {
		for i := range text {
			for _, part := range []string{text[:i], text[i:], text[:i] + "\"" + text[i:], text[:i] + "(" + text[i:], text[:i] + "; " + text[i:], text[:i] + "5" + text[i:]} {
				func() {
					defer func() {
						if r := recover(); r != nil {
							t.Fatalf("%q: %v", part, r)
						}
					}()
					_, list := infer(part)
					_ = fmt.Sprint(list)
				}()
			}
		}
	}
}
