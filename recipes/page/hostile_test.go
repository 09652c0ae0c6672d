package page_test

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
	"labsite/recipes/source/sourcetest"
)

func TestHostileFrontMatter(t *testing.T) {
	many := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	bomb := "a0: &a0 [x, x, x, x, x, x, x, x, x]\n"
	for i := 1; i < 12; i++ {
		bomb += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	wide := "b0: &b0 {x: 1}\n"
	for i := 1; i < 16; i++ {
		wide += fmt.Sprintf("b%d: &b%d {%s}\n", i, i, strings.TrimSuffix(many(9, fmt.Sprintf("k%%d: *b%d, ", i-1)), ", "))
	}
	for _, c := range []struct{ name, text, code string }{
		{"a bomb of aliases", pagetest.WithKeys(bomb), "front-matter-too-large"},
		{"a bomb of maps", pagetest.WithKeys(wide), "front-matter-too-large"},
		{"aliases of a long text", pagetest.WithKeys("summary: &x " + strings.Repeat("y", 100_000) + "\ntopics: [" + strings.Repeat("*x, ", 20_000) + "*x]"), ""},
		{"ten thousand levels of brackets", pagetest.WithKeys("topics: " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000)), "front-matter-too-large"},
		{"ten thousand levels of braces", pagetest.WithKeys("given: " + strings.Repeat("{a: ", 10_000) + strings.Repeat("}", 10_000)), "front-matter-too-large"},
		{"ten thousand open brackets", pagetest.WithKeys("topics: " + strings.Repeat("[", 10_000)), "front-matter-too-large"},
		{"ten thousand dashes", pagetest.WithKeys("topics:\n  " + strings.Repeat("- ", 10_000) + "x"), "front-matter-too-large"},
		{"ten thousand question marks", pagetest.WithKeys(strings.Repeat("? ", 10_000) + "x"), "front-matter-too-large"},
		{"ten thousand indented levels", pagetest.WithKeys(indented(10_000)), "front-matter-too-large"},
		{"a thousand indented levels", pagetest.WithKeys(indented(1_000)), "front-matter-too-large"},
		{"sixty indented levels", pagetest.WithKeys(indented(60)), "unknown-key"},
		{"a hundred levels in turns", pagetest.WithKeys("topics:\n" + inTurns(100)), "front-matter-too-large"},
		{"a million keys", pagetest.WithKeys(many(1_000_000, "k%d: 1\n")), "page-too-large"},
		{"fifty thousand keys", pagetest.WithKeys(many(50_000, "k%d: 1\n")), "front-matter-too-large"},
		{"five thousand unknown keys", pagetest.WithKeys(many(5_000, "k%d: 1\n")), "unknown-key"},
		{"five thousand keys of one name", pagetest.WithKeys(strings.Repeat("summary: x\n", 5_000)), "repeated-key"},
		{"five thousand figures", pagetest.WithKeys("figures:\n" + many(5_000, "  k%d: 1 ml\n")), "too-many-figures"},
		{"five thousand given values", pagetest.WithKeys("given:\n" + many(5_000, "  k%d: 1 ml\n")), ""},
		{"three thousand limits", pagetest.WithKeys("limits:\n" + many(3_000, "  - {when: 1 > 2, notice: n%d}\n")), ""},
		{"ten thousand choices", pagetest.WithKeys("given:\n  x: {value: 1, choices: [" + strings.TrimSuffix(many(10_000, "%d, "), ", ") + "]}"), "too-many-choices"},
		{"ten thousand texts to choose", pagetest.WithKeys("given:\n  x: {value: t1, choices: [" + strings.TrimSuffix(many(10_000, "t%d, "), ", ") + "]}"), "too-many-choices"},
		{"500 figures in a row", pagetest.WithKeys("figures:\n  f0: 1 ml\n" + chained(499)), ""},
		{"500 figures in a circle", pagetest.WithKeys("figures:\n  f0: f499 * 1\n" + chained(499)), "cycle"},
		{"500 figures that double", pagetest.WithKeys("figures:\n  f0: 1\n" + doubled(499)), "not-finite"},
		{"a text of 1 MiB", pagetest.WithKeys("summary: " + strings.Repeat("x", 1<<20)), "page-too-large"},
		{"a text of 900 KiB", pagetest.WithKeys("summary: " + strings.Repeat("x", 900<<10)), ""},
		{"a formula of 900 KiB", pagetest.WithKeys("figures:\n  x: " + strings.Repeat("1+", 450<<10) + "1"), "formula-too-long"},
		{"a value of 900 KiB", pagetest.WithKeys("given:\n  x: " + strings.Repeat("9", 900<<10)), "number-too-long"},
		{"a quoted text of 900 KiB of escapes", pagetest.WithKeys("summary: \"" + strings.Repeat("\\n", 450<<10) + "\""), ""},
		{"a block of 900 KiB", pagetest.WithKeys("summary: |\n" + strings.Repeat("  x\n", 225<<10)), ""},
		{"a folded block of 900 KiB", pagetest.WithKeys("summary: >\n" + strings.Repeat("  x\n\n", 180<<10)), ""},
		{"a key of 900 KiB", pagetest.WithKeys(strings.Repeat("k", 900<<10) + ": x"), "unknown-key"},
		{"900 KiB of comments", pagetest.WithKeys(strings.Repeat("# x\n", 225<<10)), ""},
		{"900 KiB of line ends", pagetest.WithKeys(strings.Repeat("\n", 900<<10)), ""},
		{"900 KiB of blanks", pagetest.WithKeys("summary: a" + strings.Repeat(" ", 900<<10) + "b"), ""},
		{"900 KiB of tabs", pagetest.WithKeys("summary: a" + strings.Repeat("\t", 900<<10) + "b"), ""},
		{"900 KiB of quotes", pagetest.WithKeys("summary: " + strings.Repeat("'", 900<<10)), ""},
		{"900 KiB of commas", pagetest.WithKeys("topics: [" + strings.Repeat(",", 900<<10) + "]"), "front-matter-too-large"},
		{"900 KiB of colons", pagetest.WithKeys("summary: " + strings.Repeat(": ", 450<<10)), "front-matter-too-large"},
		{"900 KiB of colons in braces", pagetest.WithKeys("given: {a: " + strings.Repeat(": ", 450<<10) + "}"), "front-matter-too-large"},
		{"900 KiB of number signs", pagetest.WithKeys("summary: " + strings.Repeat(" #x", 300<<10)), ""},
		{"900 KiB of anchors", pagetest.WithKeys("topics: [" + strings.TrimSuffix(many(90_000, "&a%d x, "), ", ") + "]"), "front-matter-too-large"},
		{"900 KiB of wide characters", pagetest.WithKeys("summary: " + strings.Repeat("界", 300<<10)), ""},
		{"900 KiB on one line of braces", pagetest.WithKeys("given: {" + many(45_000, "k%d: {value: 1}, ") + "}"), "front-matter-too-large"},
		{"300,000 list items", pagetest.WithKeys("topics:\n" + strings.Repeat("- a\n", 220_000)), "front-matter-too-large"},
		{"NUL", pagetest.WithKeys("summary: a\x00b"), "control-character"},
		{"an escape sign", pagetest.WithKeys("summary: a\x1bb"), "control-character"},
		{"a NUL escaped", pagetest.WithKeys("summary: \"a\\0b\""), ""},
		{"no UTF-8", pagetest.WithKeys("summary: a\xffb"), "not-utf8"},
		{"a byte-order mark inside", pagetest.WithKeys("summary: a\ufeffb"), ""},
		{"a line separator", pagetest.WithKeys("summary: a\u2028b"), ""},
		{"a document inside", pagetest.WithKeys("summary: x\n--- \nmore: y"), ""},
		{"a directive", "---\n%YAML 1.2\ntitle: T\naudience: staff\n---\n", "quote-for-yaml"},
		{"a tag of no kind", pagetest.WithKeys("summary: !<tag:x> y"), "quote-for-yaml"},
		{"a binary tag", pagetest.WithKeys("summary: !!binary aGVsbG8="), ""},
		{"a set", pagetest.WithKeys("topics: !!set {a, b}"), "wrong-shape"},
	} {
		sourcetest.Bounded(t, c.name, func() {
			_, _, list := build(c.text)
			found := c.code == "" && list.Errors() == 0
			for _, d := range list {
				found = found || d.Code == c.code
				_ = d.String()
			}
			if !found {
				shown := list
				if len(shown) > 3 {
					shown = shown[:3]
				}
				t.Errorf("%s: want %q, got %d: %s", c.name, c.code, len(list), clip(fmt.Sprint(shown)))
			}
		})
	}
}

func clip(s string) string {
	if len(s) > 600 {
		return s[:600] + "…"
	}
	return s
}

func indented(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i))
		b.WriteString("k:\n")
		if b.Len() > 900<<10 {
			break
		}
	}
	return b.String()
}

func inTurns(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", 2*i) + "- k:\n")
	}
	return b.String()
}

func chained(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  f%d: f%d * 1\n", i+1, i)
	}
	return b.String()
}

func doubled(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  f%d: f%d * 1e9 + f%d\n", i+1, i, i)
	}
	return b.String()
}

// Hostile settings do no harm either.
func TestHostileSettings(t *testing.T) {
	for _, text := range []string{"", "# nothing\n", "name: [a\n", "name: {a: b}\n", "- a\n", "\x00", strings.Repeat("[", 10_000), strings.Repeat("a: b\n", 50_000)} {
		sourcetest.Bounded(t, "settings", func() {
			f, list := source.New("labsite.yaml", []byte(text))
			s, more := page.DecodeSettings(f)
			_ = append(list, more...)
			if s.Language == "" || s.Units == "" {
				t.Errorf("%.20q leaves no defaults: %+v", text, s)
			}
		})
	}
}
