package sheet

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"labsite/recipes/source"
)

// bounded runs something hostile and asks that it ends, and takes less than 256 MiB. On an
// idle machine none takes a second; what this guards against takes minutes or gigabytes,
// so that a busy machine fails no test.
func bounded(t *testing.T, what string, run func()) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	done := make(chan bool)
	go func() { run(); close(done) }()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatalf("%s does not end", what)
	}
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; used > 256<<20 {
		t.Errorf("%s took %d MiB", what, used>>20)
	}
}

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
		{"a bomb of aliases", page(bomb), "front-matter-too-large"},
		{"a bomb of maps", page(wide), "front-matter-too-large"},
		{"aliases of a long text", page("summary: &x " + strings.Repeat("y", 100_000) + "\ntopics: [" + strings.Repeat("*x, ", 20_000) + "*x]"), ""},
		{"ten thousand levels of brackets", page("topics: " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000)), "front-matter-too-large"},
		{"ten thousand levels of braces", page("given: " + strings.Repeat("{a: ", 10_000) + strings.Repeat("}", 10_000)), "front-matter-too-large"},
		{"ten thousand open brackets", page("topics: " + strings.Repeat("[", 10_000)), "front-matter-too-large"},
		{"ten thousand dashes", page("topics:\n  " + strings.Repeat("- ", 10_000) + "x"), "front-matter-too-large"},
		{"ten thousand question marks", page(strings.Repeat("? ", 10_000) + "x"), "front-matter-too-large"},
		{"ten thousand indented levels", page(indented(10_000)), "front-matter-too-large"},
		{"a thousand indented levels", page(indented(1_000)), "front-matter-too-large"},
		{"sixty indented levels", page(indented(60)), "unknown-key"},
		{"a hundred levels in turns", page("topics:\n" + inTurns(100)), "front-matter-too-large"},
		{"a million keys", page(many(1_000_000, "k%d: 1\n")), "page-too-large"},
		{"fifty thousand keys", page(many(50_000, "k%d: 1\n")), "front-matter-too-large"},
		{"five thousand unknown keys", page(many(5_000, "k%d: 1\n")), "unknown-key"},
		{"five thousand keys of one name", page(strings.Repeat("summary: x\n", 5_000)), "repeated-key"},
		{"five thousand figures", page("figures:\n" + many(5_000, "  k%d: 1 ml\n")), "too-many-figures"},
		{"five thousand given values", page("given:\n" + many(5_000, "  k%d: 1 ml\n")), ""},
		{"three thousand limits", page("limits:\n" + many(3_000, "  - {when: 1 > 2, notice: n%d}\n")), ""},
		{"ten thousand choices", page("given:\n  x: {value: 1, choices: [" + strings.TrimSuffix(many(10_000, "%d, "), ", ") + "]}"), ""},
		{"ten thousand texts to choose", page("given:\n  x: {value: t1, choices: [" + strings.TrimSuffix(many(10_000, "t%d, "), ", ") + "]}"), ""},
		{"500 figures in a row", page("figures:\n  f0: 1 ml\n" + chained(499)), ""},
		{"500 figures in a circle", page("figures:\n  f0: f499 * 1\n" + chained(499)), "cycle"},
		{"500 figures that double", page("figures:\n  f0: 1\n" + doubled(499)), "not-finite"},
		{"a text of 1 MiB", page("summary: " + strings.Repeat("x", 1<<20)), "page-too-large"},
		{"a text of 900 KiB", page("summary: " + strings.Repeat("x", 900<<10)), ""},
		{"a formula of 900 KiB", page("figures:\n  x: " + strings.Repeat("1+", 450<<10) + "1"), "formula-too-long"},
		{"a value of 900 KiB", page("given:\n  x: " + strings.Repeat("9", 900<<10)), "number-too-long"},
		{"a quoted text of 900 KiB of escapes", page("summary: \"" + strings.Repeat("\\n", 450<<10) + "\""), ""},
		{"a block of 900 KiB", page("summary: |\n" + strings.Repeat("  x\n", 225<<10)), ""},
		{"a folded block of 900 KiB", page("summary: >\n" + strings.Repeat("  x\n\n", 180<<10)), ""},
		{"a key of 900 KiB", page(strings.Repeat("k", 900<<10) + ": x"), "unknown-key"},
		{"900 KiB of comments", page(strings.Repeat("# x\n", 225<<10)), ""},
		{"900 KiB of line ends", page(strings.Repeat("\n", 900<<10)), ""},
		{"900 KiB of blanks", page("summary: a" + strings.Repeat(" ", 900<<10) + "b"), ""},
		{"900 KiB of tabs", page("summary: a" + strings.Repeat("\t", 900<<10) + "b"), ""},
		{"900 KiB of quotes", page("summary: " + strings.Repeat("'", 900<<10)), ""},
		{"900 KiB of commas", page("topics: [" + strings.Repeat(",", 900<<10) + "]"), "front-matter-too-large"},
		{"900 KiB of colons", page("summary: " + strings.Repeat(": ", 450<<10)), "front-matter-too-large"},
		{"900 KiB of colons in braces", page("given: {a: " + strings.Repeat(": ", 450<<10) + "}"), "front-matter-too-large"},
		{"900 KiB of number signs", page("summary: " + strings.Repeat(" #x", 300<<10)), ""},
		{"900 KiB of anchors", page("topics: [" + strings.TrimSuffix(many(90_000, "&a%d x, "), ", ") + "]"), "front-matter-too-large"},
		{"900 KiB of wide characters", page("summary: " + strings.Repeat("界", 300<<10)), ""},
		{"900 KiB on one line of braces", page("given: {" + many(45_000, "k%d: {value: 1}, ") + "}"), "front-matter-too-large"},
		{"300,000 list items", page("topics:\n" + strings.Repeat("- a\n", 220_000)), "front-matter-too-large"},
		{"NUL", page("summary: a\x00b"), "control-character"},
		{"an escape sign", page("summary: a\x1bb"), "control-character"},
		{"a NUL escaped", page("summary: \"a\\0b\""), ""},
		{"no UTF-8", page("summary: a\xffb"), "not-utf8"},
		{"a byte-order mark inside", page("summary: a\ufeffb"), ""},
		{"a line separator", page("summary: a\u2028b"), ""},
		{"a document inside", page("summary: x\n--- \nmore: y"), ""},
		{"a directive", "---\n%YAML 1.2\ntitle: T\naudience: staff\n---\n", "quote-for-yaml"},
		{"a tag of no kind", page("summary: !<tag:x> y"), "quote-for-yaml"},
		{"a binary tag", page("summary: !!binary aGVsbG8="), ""},
		{"a set", page("topics: !!set {a, b}"), "wrong-shape"},
	} {
		bounded(t, c.name, func() {
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

// Settings are read with the same care.
func TestHostileSettings(t *testing.T) {
	for _, text := range []string{"", "# nothing\n", "name: [a\n", "name: {a: b}\n", "- a\n", "\x00", strings.Repeat("[", 10_000), strings.Repeat("a: b\n", 50_000)} {
		bounded(t, "settings", func() {
			f, list := source.New("labsite.yaml", []byte(text))
			s, more := DecodeSettings(f)
			_ = append(list, more...)
			if s.Language == "" || s.Units == "" {
				t.Errorf("%.20q leaves no defaults: %+v", text, s)
			}
		})
	}
}
