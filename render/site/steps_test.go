package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/sheet"
)

// A step's aim is a value with its tolerance as it is written, or follows what a reader
// sets; its tolerance is no number that nobody checks.
func TestAim(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "page.md"), []byte(`---
title: Aims
audience: customers
given:
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
steps:
  - {do: Temper, aim: 20 °C ± 0.5 K}
  - {do: Develop, aim: "{bath + 1 K} ± 0.5 K"}
---

{steps}
`), 0o666); err != nil {
		t.Fatal(err)
	}
	s, list := Load(t.Context(), dir, Options{Today: testDay})
	if len(list) > 0 {
		t.Fatal(told(list))
	}
	page := string(rendered(t, s, sheet.Customers)["page.html"])
	for _, want := range []string{
		`Aim: <span class="q">20&nbsp;°C</span> ± <span class="q">0.5&nbsp;K</span></p>`,
		`Aim: <span class="q" data-placed="0">21&nbsp;°C</span> ± 0.5 K</p>`,
	} {
		if !strings.Contains(page, want) {
			at := strings.Index(page, "Aim:")
			t.Errorf("lacks %s: %s", want, page[at:min(len(page), at+600)])
		}
	}
}
