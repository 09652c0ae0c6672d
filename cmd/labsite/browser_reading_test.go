//go:build browser

package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

const readingPage = `---
title: Reading the control strip
audience: staff
given:
  density: {label: Density, example: 0.62, from: 0, to: 2, step: 0.01}
  film: {label: Film, value: fast, choices: [slow, fast]}
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 30 °C, step: 1 K}
  factor: {value: 1.09, source: from memory, owner: process lead}
figures:
  off: {label: Off the aim, formula: density - 0.6, show: +0.01}
  time: {label: Time, formula: "time_at_temperature(8 min, 20 °C, bath, factor, 18 °C, 24 °C)", else: Nobody tested this bath.}
  soak: {label: Soak, formula: 1 min + density * 10 s, show: 1 s}
limits:
  - {when: off > 0.1, caution: "Off by {off}."}
checks:
  - {expect: {off: +0.02, soak: 1 min 6 s}, source: from memory}
  - {at: {bath: 26 °C}, expect: {time: Nobody tested this bath.}, source: from memory}
steps:
  - {do: Soak, for: soak}
  - {do: Wash, for: 2 min}
tables:
  by_bath: {caption: By bath, rows: {bath: [20 °C, 21 °C]}, cell: off}
---

Density {density} is {off} off; {time}.

{steps}

{by_bath}
`

// A reading starts empty, with everything that depends on it; once entered it is everywhere, in the
// address and on the card too, and it can be removed.
func TestBrowserReading(t *testing.T) {
	t.Parallel()
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	must(t, os.WriteFile(filepath.Join(from, "strip.md"), []byte(readingPage), 0o644))
	if status := run(t.Context(), []string{"publish", "--from", from, "--to", to, "--audience", "staff", "--fresh"}, os.Stderr, os.Stderr); status != 0 {
		t.Fatal("the page is not published")
	}
	readers(t, to, []string{"reading, desk"}, func(r *reader, _ string) {
		r.open(r.serverURL("strip.html"))
		r.results(map[string]string{"off": "", "soak": "", "time": "8 min"})
		if v := ask[string](r.t, r.tab, `document.querySelector('[data-given="density"] .hand-field').value`); v != "" {
			t.Errorf("the field of a reading begins with %q", v)
		}
		if r.is(`document.querySelectorAll('[data-given="density"] .hand-step').length > 0`) {
			t.Error("a reading can be made up by buttons")
		}
		r.says("#Step-1 .step-time", "")
		r.says("#Step-2 .step-time", "2 min")
		r.has("#Table-by_bath", "As an example, at Density 0.62")
		r.typeInto(fieldOf("density"), "0.75")
		r.press(kb.Enter)
		r.results(map[string]string{"off": "+0.15", "soak": "1 min 8 s"})
		r.says("#Step-1 .step-time", "1 min 8 s")
		r.has("#Step-2 .step-clock", "1:08")
		r.has("#Limits", "Off by +0.15.")
		r.has("#Table-by_bath tbody", "+0.15")
		r.hash("#density=0.75")
		// the address carries it, and once removed it is gone everywhere
		r.open(r.serverURL("strip.html") + "#density=0.7&bath=26%20%C2%B0C")
		r.results(map[string]string{"off": "+0.10", "time": "Nobody tested this bath."})
		r.open(r.serverURL("strip.card.html") + "?density=0.7")
		r.has("main", "+0.10")
		r.open(r.serverURL("strip.html") + "#density=0.7")
		r.typeInto(fieldOf("density"), " ")
		r.press(kb.Enter)
		r.results(map[string]string{"off": "", "soak": ""})
	})
}
