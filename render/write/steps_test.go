package write_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// A step's aim is a value with its tolerance as it is written, or changes with what a reader sets; its
// tolerance is not reported as a number typed by hand.
func TestAim(t *testing.T) {
	page := string(buildtest.Sited(t, map[string]string{"page.md": `---
title: Aims
audience: customers
given:
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
steps:
  - {do: Temper, aim: 20 °C ± 0.5 K}
  - {do: Develop, aim: "{bath + 1 K} ± 0.5 K"}
---

{steps}
`}, page.Customers)["page.html"])
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
