package write_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// TestTextsOfOtherPages checks that a text of a page drawn on shows the values that it has there, and never
// those of a name that means something else here.
func TestTextsOfOtherPages(t *testing.T) {
	files := buildtest.Sited(t, map[string]string{
		"mix.md": `---
title: Mix
audience: customers
given:
  tank: {label: Tank, value: 1 l, from: 500 ml, to: 2 l}
  parts: {label: Parts, value: 10, from: 5, to: 20}
figures:
  dose: {label: Dose, formula: tank / parts, show: 1 ml}
limits:
  - when: dose > 150 ml
    notice: "Of the mix {dose} are taken for {tank}, {dose in cl} or {tank / 2}."
---
Take {dose}.
`,
		"use.md": `---
title: Use
audience: customers
draws_on: {mix: {page: mix.md, at: {tank: volume}}}
given:
  volume: {label: Volume, value: 1 l, from: 500 ml, to: 2 l}
  tank: {label: Something else, value: 3, from: 1, to: 5}
figures:
  dose: {label: Another dose, formula: tank * 2}
  taken: {label: Taken, formula: mix.dose}
---
Take {taken} and {dose} for {tank}.
`,
	}, page.Customers)
	js := string(files["use.figures.js"])
	_, text, _ := strings.Cut(js, `"mix#0":`)
	text, _, _ = strings.Cut(text, "</div></div>")
	if strings.Count(text, "data-placed") != 4 || strings.Contains(text, "data-figure") || strings.Contains(text, "data-given") {
		t.Errorf("the text of the other page names this page's values: %s", text)
	}
}
