package page_test

import (
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// A figure depends on the given values in its formula, on those of figures in it, on all that is set
// on a page drawn on, and on nothing else.
func TestGivenOf(t *testing.T) {
	far, _, list := buildWith("---\ntitle: Other\naudience: staff\ngiven:\n  batch: {label: Batch, value: 1 l, from: 100 ml, to: 5 l}\nfigures:\n  half: batch / 2\n---\nB.\n", nil, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	sheet, _, list := buildWith(`---
title: T
audience: staff
draws_on: {far: {page: other.md, at: {batch: tank}}}
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l}
  fall: {label: Fall, example: 3 mm, from: 0 mm, to: 9 mm}
  idle: {label: Idle, example: 3 mm, from: 0 mm, to: 9 mm}
figures:
  rise: 2 * fall
  drawn: {label: Drawn, formula: far.half + 1 ml}
  both: {label: Both, formula: rise * 1 cm * 1 cm + far.half}
  none: {label: None, formula: 2 ml}
---
Body.
`, nil, page.World{Page: func(string) (*page.Sheet, source.Problem, bool) { return far, source.Problem{}, true }})
	if len(list) > 0 {
		t.Fatal(list)
	}
	want := map[string]string{"rise": "fall", "drawn": "tank", "both": "fall tank", "none": ""}
	for _, f := range sheet.Figures {
		given, ok := sheet.GivenOf(f)
		var names []string
		for g := range given {
			names = append(names, g.Name)
		}
		slices.Sort(names)
		if got := strings.Join(names, " "); !ok || got != want[f.Name] {
			t.Errorf("%s depends on %q (%v), want %q", f.Name, got, ok, want[f.Name])
		}
	}
}
