package main

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
)

// growing are inputs of a size that nobody writes by hand: each comes from a faulty program or from
// malice, and must not cost more than a lab's own pages.
func growing() map[string]struct {
	files map[string]string
	says  string
} {
	type input = struct {
		files map[string]string
		says  string
	}
	many := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	page := func(head, body string) string {
		return "---\ntitle: T\naudience: customers\n" + head + "---\n\n" + body + "\n"
	}
	manyPages := map[string]string{}
	for i := range 100 {
		manyPages[fmt.Sprintf("p%d.md", i)] = page("", strings.Repeat("{zzz} ", 300))
	}
	deadLinks := map[string]string{"a.md": page("", many(20_000, "[x](no%d.md)\n\n"))}
	for i := range 300 {
		deadLinks[fmt.Sprintf("p%d.md", i)] = page("", "x")
	}
	return map[string]input{
		"placements of an unknown name on one line": {map[string]string{"a.md": page("", strings.Repeat("{zzz} ", 50_000))}, "49900 errors more"},
		"on many pages":         {manyPages, "from here on there are"},
		"hand-typed quantities": {map[string]string{"a.md": page("", strings.Repeat("5 ml é ", 10_000))}, "9900 reports more"},
		"settings of 20 MB":     {map[string]string{"a.md": page("", "x"), "labsite.yaml": "name: " + strings.Repeat("x", 20_000_000)}, "the limit is 65536 bytes"},
		"a drawing of 30 MB": {map[string]string{"a.md": page("", "![a](a.svg)"),
			"a.svg": `<svg xmlns="http://www.w3.org/2000/svg">` + strings.Repeat("<rect/>", 4_300_000) + "</svg>"}, "the limit is 2.0 MiB"},
		"choices": {map[string]string{"a.md": page("given: {a: {value: c1, choices: ["+strings.TrimSuffix(many(40_000, "c%d, "), ", ")+"]}}\n", "{a}")}, "there are 40000 choices here"},
		"rows as choices": {map[string]string{"a.md": page("data: {t: t.csv}\ngiven: {a: {value: r1, choices: t.a}}\n", "{a}"),
			"t.csv": "a\n" + many(20_000, "r%d\n")}, "there are 20000 choices here"},
		"rows of numbers as choices": {map[string]string{"a.md": page("data: {t: t.csv}\ngiven: {a: {value: 1 ml, choices: t.a}}\n", "{a}"),
			"t.csv": "a [ml]\n" + many(20_000, "1%d\n")}, "there are 20000 choices here"},
		"unknown substances": {map[string]string{"a.md": page("substances:\n"+many(2_000, "  - nosuch%d\n"), "x")}, "1900 errors more"},
		"dead links":         {deadLinks, "19900 errors more"},
		"dead anchors":       {map[string]string{"a.md": page("", many(20_000, "[x](#no%d)\n\n")+many(1_000, "## h%d\n\n"))}, "19900 errors more"},
	}
}

// However much is wrong with an input, what the command prints and how much memory it takes are
// bounded. The memory is the sum of all allocations, which does not depend on the speed of the
// machine.
func TestGrowth(t *testing.T) {
	const mostTaken, mostSaid = 512 << 20, 4 << 20
	for name, x := range growing() {
		t.Run(name, func(t *testing.T) {
			dir := writeLab(t, x.files)
			for _, flags := range [][]string{{}, {"--json"}} {
				var out, said bytes.Buffer
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				status := run(t.Context(), append([]string{"check", "--fresh", "--from", dir}, flags...), &out, &said)
				runtime.ReadMemStats(&after)
				text := said.String() + out.String()
				if status == good && !strings.Contains(x.says, "reports") || !strings.Contains(text, x.says) {
					t.Errorf("%v: exit %d, and it does not say %q:\n%.600s", flags, status, x.says, text)
				}
				if n := len(text); n > mostSaid {
					t.Errorf("%v: it says %d KiB", flags, n>>10)
				}
				if n := after.TotalAlloc - before.TotalAlloc; n > mostTaken {
					t.Errorf("%v: it takes %d MiB", flags, n>>20)
				}
			}
		})
	}
}
