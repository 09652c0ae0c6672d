package write_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build"
	"labsite/render/build/buildtest"
	"labsite/render/write"
)

// Pages of an invented lab; their numbers are made up.
const (
	treeStock = `---
title: Stock
audience: customers
given:
  tank: {label: Tank, value: 500 ml, from: 100 ml, to: 2 l}
  parts: {label: Parts, value: 10, from: 1, to: 20, source: measured here 2026-09-14, owner: process lead}
figures:
  part: {label: Part, formula: tank / parts, show: 1 ml}
limits:
  - when: part > 0 ml
    notice: "Half of the part is {part / 2}."
cautions:
  gloves: {word: WARNING, text: "Never pour {part * 3} at once."}
---

Take {part}.
`
	treeUse = `---
title: Two of them
audience: customers
draws_on:
  small: {page: stock.md, at: {tank: jug}}
  large: {page: stock.md, at: {tank: jug * 3}}
given:
  jug: {label: Jug, value: 200 ml, from: 100 ml, to: 300 ml, step: 100 ml}
  pace: {label: Pace, value: 2, from: 1, to: 3}
figures:
  both: {label: Both, formula: small.part + large.part, show: 1 ml}
  late: {label: Late, formula: 3 min * pace, show: 1 min}
steps:
  - do: "Pour {jug / 4} of it"
    for: late / 2
    note: "Then {both in fl_oz}."
  - do: Wait
    for: late
tables:
  by_jug: {caption: Both by jug, rows: jug, columns: {pace: [1, 3]}, cell: [both, late]}
---

Take {jug / pace} twice, {pace}, {both}, {large.part} and {1 min}.

{by_jug}

{steps}
`
)

// outline writes a tree in short, with a line for each branch.
func outline(b write.Branch, in string) string {
	out := fmt.Sprintf("%s%s %s %s", in, b.Kind, b.Name, b.Shown)
	if b.Formula != "" {
		out += " = " + b.Formula + " = " + b.Numbers
	}
	out += fmt.Sprintf(" @%s:%d\n", b.Page, b.Line)
	for _, x := range b.Inputs {
		out += outline(x, in+"  ")
	}
	return out
}

// Each number of a page has its tree: a placement, each of two uses of one page with its own inputs, a cell of
// a table at its own values, a step's time.
func TestTrees(t *testing.T) {
	s, list := build.Follow(t.Context(), buildtest.Lab(t, map[string]string{"stock.md": treeStock, "use.md": treeUse}), build.Options{Day: buildtest.Day})
	if s == nil {
		t.Fatal(buildtest.Told(list))
	}
	defer s.Close()
	use, _ := s.Answer(page.Customers, "use.html", true)
	if use.List.Errors() > 0 {
		t.Fatal(buildtest.Told(use.List))
	}
	html := string(use.Bytes)
	// written finds where a number was written, according to the preview
	written := func(shown string) write.Ask {
		t.Helper()
		m := regexp.MustCompile(`data-written="([0-9:]+)"(?: data-drawn="([0-9]+)")?>` + shown + "<").FindStringSubmatch(strings.ReplaceAll(html, "&nbsp;", " "))
		if m == nil {
			t.Fatalf("%s is not marked with its place:\n%s", shown, html)
		}
		return write.Ask{Written: m[1], From: m[2]}
	}
	const (
		small = "  figure small.part 20 ml = tank / parts = 200 ml / 10 @stock.md:8\n    set tank 200 ml = jug = 200 ml @use.md:5\n      given jug 200 ml @use.md:8\n    given parts 10 @stock.md:6\n"
		large = "  figure large.part 60 ml = tank / parts = 600 ml / 10 @stock.md:8\n    set tank 600 ml = jug * 3 = 200 ml * 3 @use.md:6\n      given jug 200 ml @use.md:8\n    given parts 10 @stock.md:6\n"
	)
	for _, x := range []struct {
		what string
		ask  write.Ask
		want string
	}{
		{"a figure", write.Ask{Name: "both"}, "figure both 80 ml = small.part + large.part = 20 ml + 60 ml @use.md:11\n" + small + large},
		{"a formula in the text", written("100 ml"), "placed jug / pace 100 ml = jug / pace = 200 ml / 2 @use.md:23\n  given jug 200 ml @use.md:8\n  given pace 2 @use.md:9\n"},
		{"a figure of a page drawn on", write.Ask{Written: "23:43"}, strings.ReplaceAll(large[2:], "\n  ", "\n")},
		{"a formula in a step", written("50 ml"), "placed jug / 4 50 ml = jug / 4 = 200 ml / 4 @use.md:14\n  given jug 200 ml @use.md:8\n"},
		{"a figure in another unit", written("2.71 fl oz"), "figure both 2.71 fl_oz = small.part + large.part = 20 ml + 60 ml @use.md:11\n" + small + large},
		{"a quantity", written("1 min"), "placed 1 min 1 min @use.md:23\n"},
		{"a caution of a page drawn on", write.Ask{Written: "13:46", From: written("10 ml").From}, "placed part * 3 60 ml = part * 3 = 20 ml * 3 @stock.md:13\n" + strings.ReplaceAll(small, "small.part", "part")},
		{"a limit of a page drawn on", written("30 ml"), "placed part / 2 30 ml = part / 2 = 60 ml / 2 @stock.md:11\n" + strings.ReplaceAll(large, "large.part", "part")},
		{"the same limit at the other values", written("10 ml"), "placed part / 2 10 ml = part / 2 = 20 ml / 2 @stock.md:11\n" + strings.ReplaceAll(small, "small.part", "part")},
		{"a time", write.Ask{Step: 1}, "time step 1 3 min = late / 2 = 6 min / 2 @use.md:15\n  figure late 6 min = 3 min * pace = 3 min * 2 @use.md:12\n    given pace 2 @use.md:9\n"},
		{"a time that is a figure", write.Ask{Step: 2}, "figure late 6 min = 3 min * pace = 3 min * 2 @use.md:12\n  given pace 2 @use.md:9\n"},
		{"a cell", write.Ask{Table: "by_jug", Row: 2, Column: 1, Figure: 1}, "figure late 9 min = 3 min * pace = 3 min * 3 @use.md:12\n  given pace 3 @use.md:9\n"},
		{"another cell", write.Ask{Table: "by_jug", Row: 2}, "figure both 120 ml = small.part + large.part = 30 ml + 90 ml @use.md:11\n" +
			strings.NewReplacer("20 ml", "30 ml", "200 ml", "300 ml").Replace(small) + strings.NewReplacer("600 ml", "900 ml", "200 ml", "300 ml", "60 ml", "90 ml").Replace(large)},
	} {
		x.ask.Page = "use.md"
		b, ok := s.Tree(x.ask)
		if got := outline(b, ""); !ok || got != x.want {
			t.Errorf("%s (%+v): %v\n%swant\n%s", x.what, x.ask, ok, got, x.want)
		}
	}
	for _, ask := range []write.Ask{{Name: "none"}, {Written: "1:1"}, {Written: "23:7", From: "9999"}, {Written: "23:7", From: "x"}, {Table: "by_jug", Row: 3}, {Table: "by_jug", Row: -1},
		{Table: "by_jug", Figure: 2}, {Table: "none"}, {Step: 3}, {Step: -1}} {
		ask.Page = "use.md"
		if b, ok := s.Tree(ask); ok {
			t.Errorf("%+v has a tree: %+v", ask, b)
		}
	}
	if published, _ := s.Answer(page.Customers, "use.html", false); strings.Contains(string(published.Bytes), "data-written") {
		t.Error("the published page tells where its numbers were written")
	}
}
