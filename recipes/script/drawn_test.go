package script

import (
	"strings"
	"testing"
)

// A page that several uses share is in the script once. Script and Go agree about it: values, limits and
// refusals, in the same order, also if one of the pages that use it is withdrawn.
func TestSharedPages(t *testing.T) {
	t.Parallel()
	given := "given:\n  x: {label: X, value: 5 ml, from: 1 ml, to: 40 ml, step: 1 ml}\n"
	of := func(front string) string { return "---\ntitle: Other\naudience: staff\n" + given + front + "\n---\n" }
	files := []string{
		"end.md", of("figures:\n  help: let k = x * 2; k + 1 ml\n  y: x + help\nlimits:\n  - {when: y > 30 ml, notice: Large.}\n  - {when: y > 100 ml, refuse: Too large.}"),
		"left.md", of("draws_on: {e: {page: end.md, at: {x: x}}}\nfigures:\n  y: let k = e.y * 2; k + e.help\nlimits:\n  - {when: e.y > 50 ml, caution: Watch.}"),
		"right.md", of("draws_on: {e: {page: end.md, at: {x: x}}, own: end.md}\nfigures:\n  y: e.y - own.y\nlimits:\n  - {when: e.y > 60 ml, warning: Stop soon.}"),
		"narrow.md", "---\ntitle: Narrow\naudience: staff\ngiven:\n  x: {label: X, value: 5 ml, from: 1 ml, to: 20 ml}\ndraws_on: {r: {page: right.md, at: {x: x}}}\nfigures: {y: r.y}\n---\n",
	}
	r := referee(t)
	for _, c := range []struct {
		uses string
		ends int // how often the last page is in the script
	}{
		{"a: {page: left.md, at: {x: x}}, b: {page: right.md, at: {x: x}}", 2},
		{"a: {page: left.md, at: {x: x}}, b: {page: right.md, at: {x: x * 1.5}}", 3},
		{"a: left.md, b: right.md, c: {page: end.md, at: {x: 5 ml}}", 1},
		{"a: {page: narrow.md, at: {x: x}}, b: {page: right.md, at: {x: x}}, c: {page: end.md, at: {x: b.y / 2}}", 3},
		{"a: {page: left.md, at: {x: b.y}}, b: {page: end.md, at: {x: x}}, c: {page: right.md, at: {x: b.y}}", 3},
	} {
		s := pageOf(t, given+"draws_on: {"+c.uses+"}\nfigures: {y: a.y + b.y, twice: y * 2}\nlimits:\n  - {when: y > 200 ml, notice: Much.}", files...)
		cases, refused := compare(t, r, Page{Sheet: s}, 1000)
		if cases < 40 || refused == cases {
			t.Errorf("%s: %d cases, %d refused", c.uses, cases, refused)
		}
		js, _ := Page{Sheet: s}.Emit()
		if got := strings.Count(string(js), `{name:"help"`); got != c.ends {
			t.Errorf("%s: the last page is in the script %d times, want %d\n%s", c.uses, got, c.ends, js)
		}
	}
}
