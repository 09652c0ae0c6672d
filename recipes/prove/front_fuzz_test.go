package prove

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/page/pagetest"
)

// FuzzFrontMatter decodes, resolves and proves any text as the front matter of a page. Every diagnostic
// must have a place in the file and a message, and a page without errors must be worked out.
func FuzzFrontMatter(f *testing.F) {
	for _, seed := range []string{
		"given:\n  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 2 l, step: 50 ml}\n  s: {value: 1+100, choices: [1+50, 1+100]}\nfigures:\n  a: tank * s\n  b: {label: B, formula: \"round(a, 0.1 ml)\", show: 0.1 ml}\nlimits:\n  - when: a < 4 ml\n    refuse: Too little.\nchecks:\n  - at: {tank: 500 ml}\n    expect: {b: 5.0 ml, a: 4.95 ml ± 0.01 ml}\n    source: from memory\n  - always: a < 1 l\n",
		"given:\n  bath: {value: 20 °C, from: 18 °C, to: 24 °C, step: 0.5 K}\n  on: {value: true}\n  film: {value: slow, choices: [slow, fast]}\nfigures:\n  t: \"if film == 'slow' and on { 8 min } else { 10 min }\"\n  d: {formula: bath - 20 °C, show: 0.1 K}\nsteps:\n  - do: Develop\n    for: t\n    agitate: {first: 30 s, every: 60 s, inversions: 2}\n    drain: 10 s\n    aim: 20 °C ± 0.5 K\n",
		"figures:\n  a: b + 1\n  b: a * 2\n", "figures:\n  x: 1 / 0\n", "given:\n  n: {value: 3, from: 1, to: 8}\nfigures:\n  y: n ** 2 * 2 g\ntables:\n  t: {caption: T, rows: n, cell: y}\ncharts:\n  c: {caption: C, x: n, y: y}\n",
		"control:\n  number: G-1\n  revision: 2\n  status: approved\n  approved_by: owner\n  approved: 2026-09-30\n  review: 12 months\n  changes: {2: Better.}\n",
		"cautions:\n  c: {word: WARNING, text: \"Hot, {x}.\"}\nsubstances: [pyrogallol, {name: acetic acid, strength: 28 %}]\n",
		"summary: >\n  folded\n  text\ntopics: [a, \"b, c\", 'd''s']\nsupplies:\n  - Water\n", "a: b: c\n", "given: {x: round(a, 1 ml)}\n", "x: &y [1]\nz: *y\n",
	} {
		f.Add(seed)
	}
	pages, _ := filepath.Glob("../../content/*/*.md")
	for _, p := range pages {
		raw, err := os.ReadFile(p)
		if err != nil {
			continue
		}
		if parts := strings.SplitN(string(raw), "---\n", 3); len(parts) == 3 {
			f.Add(strings.Replace(strings.Replace(parts[1], "title:", "summary:", 1), "audience:", "order:", 1))
		}
	}
	f.Fuzz(func(t *testing.T, front string) {
		if len(front) > 1<<14 {
			return
		}
		s, proof, list := build(pagetest.WithKeys(front))
		for _, d := range list {
			if d.Line < 1 || d.Column < 1 || d.Code == "" || d.Message == "" {
				t.Fatalf("bad diagnostic %+v", d)
			}
			_ = d.String()
		}
		if list.Errors() > 0 || s == nil || proof == nil {
			return
		}
		proof.Own.Process()
		for _, g := range s.Grids {
			Cells(g, proof.Own)
		}
		for _, fig := range s.Figures {
			if text := proof.Own.Shown(fig).Text; strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
				t.Fatalf("%s is shown as %s", fig.Name, text)
			}
		}
	})
}
