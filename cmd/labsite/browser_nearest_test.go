//go:build browser

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

const nearestPage = `---
title: Tank
audience: customers
given:
  tank: {label: Working solution, value: 500 ml, from: 300 ml, to: 2 l, step: 50 ml}
  rolls: {label: Rolls, value: 1, from: 1, to: 4}
  strength: {label: Dilution, value: 1+100, choices: [1+100, 1+50]}
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 0.5 K}
  on: {label: Day, value: 2026-11-28, from: 2026-11-01, to: 2026-12-31}
figures:
  each: {label: Each roll, formula: tank * strength / rolls, show: 0.01 ml}
limits:
  - {when: each < 4 ml, refuse: "Too little for each roll. Use more."}
  - {when: bath > 22 °C and bath < 23 °C, refuse: "Nobody tried this."}
  - {when: on > 2026-12-24, refuse: "Closed."}
  - {when: on > 2026-12-01 and rolls > 3, refuse: "No more than three in December."}
---
Pour {each}.
`

// The text of each offer.
const offersTold = `[...document.querySelectorAll('.hand-nearest [role=listitem]')].map(e => e.textContent.replace(/\u00a0/g, ' ').trim()).join('; ')`

// TestBrowserNearest has a page refuse, and takes one of the settings offered.
func TestBrowserNearest(t *testing.T) {
	t.Parallel()
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	if err := os.WriteFile(filepath.Join(from, "index.md"), []byte(nearestPage), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
		t.Fatal(errs.String())
	}
	scenes := map[string]func(*reader){"offers, phone": offersMade, "touch, phone": offerTouched, "keys, desk": offerByKeys, "quick, desk": offersOvertaken, "paper, desk": offersOnPaper}
	var names []string
	for name := range scenes {
		names = append(names, name)
	}
	readers(t, to, names, func(r *reader, name string) { scenes[name](r) })
	readers(t, demoSite(t, "customers"), []string{"demo, phone"}, func(r *reader, _ string) { offersOfTheGuide(r) })
}

func (r *reader) offered(want string) {
	r.t.Helper()
	if !r.until("the offers", offersTold+" !== ''") {
		return
	}
	if got := ask[string](r.t, r.tab, offersTold); got != want {
		r.t.Errorf("offered is %q, want %q", got, want)
	}
}

// offersMade goes through the kinds of refusals: fixed by one change, by one of several, by two
// together, a value beyond its range, and one with no fix.
func offersMade(r *reader) {
	r.open(r.serverURL("index.html"))
	if r.is(`!!document.querySelector('.hand-nearest')`) {
		r.t.Error("something is offered where nothing is refused")
	}
	for set, want := range map[string]string{
		"rolls=2":                 "Working solution 850 ml or more; Rolls 1; Dilution 1+50",
		"bath=22.5 °C":            "Bath 22 °C or lower",
		"on=2026-12-28":           "Day 24 December 2026 or earlier",
		"rolls=4&on=2026-12-24":   "Rolls 1",
		"rolls=2&bath=22.5 °C":    "Working solution 850 ml and Bath 22 °C; Rolls 1 and Bath 22 °C; Dilution 1+50 and Bath 22 °C",
		"tank=3 l":                "Working solution 2000 ml down to 450 ml",
		"tank=100 ml":             "Working solution 450 ml or more",
		"rolls=2.5&strength=1+50": "Rolls 2 or fewer",
	} {
		r.open(r.serverURL("index.html") + "#" + strings.ReplaceAll(set, " ", "%20"))
		r.offered(want)
	}
	r.open(r.serverURL("index.html") + "#rolls=2&bath=22.5%20%C2%B0C&on=2026-12-28")
	r.until("that there is none", `document.querySelector('.hand-nearest')?.textContent === 'No change of one or two of these values was found that holds. The tested values hold.'`)
	r.open(r.serverURL("index.html") + "#tank=plenty")
	r.until("the refusal", `!!document.querySelector('.hand-nearest')`)
	r.hash("rolls=2")
	r.offered("Working solution 850 ml or more; Rolls 1; Dilution 1+50")
	// offers follow the units that the reader chose
	r.tap(`.unit-switch input[value="us"]`)
	r.until("US units", offersTold+`.includes('28.7 fl oz (850 ml)')`)
}

func offerTouched(r *reader) {
	r.open(r.fileURL("index.html"))
	r.typeInto(fieldOf("rolls"), "2")
	r.press(kb.Enter)
	r.offered("Working solution 850 ml or more; Rolls 1; Dilution 1+50")
	r.largeEnough(".hand-nearest button")
	r.picture("nearest-phone", "main")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with offers: %s", text) })
	faultsOfLayout(r.t, r.tab, look{window: r.w}, func(text string) { r.t.Errorf("with offers: %s", text) })
	r.until("what is said aloud", `document.querySelector('.hand-nearest + [role=status]').textContent.includes('Each of these holds')`)
	r.tap(`.hand-nearest [role=list] p:nth-child(1) button`)
	r.says(figureOf("each"), "4.21 ml") // 850 ml / 101 / 2 = 4.208 ml
	if r.is(`!!document.querySelector('.hand-nearest [role=listitem]')`) {
		r.t.Error("the offers stand behind what was taken")
	}
	r.until("the address", `location.hash.includes('tank=850')`)
	r.says(`.hand-nearest + [role=status]`, "")
}

// offerByKeys reaches an offer by keyboard and takes it; the focus goes to the results.
func offerByKeys(r *reader) {
	r.open(r.serverURL("index.html") + "#rolls=4&on=2026-12-20")
	r.until("the offers", offersTold+" !== ''")
	first := ask[string](r.t, r.tab, `document.querySelector('.hand-nearest button').textContent`)
	r.is(`[...document.querySelectorAll('.hand button, .hand input, .hand select')].findLast(e => !e.closest('.hand-nearest') && e.offsetParent).focus(), true`)
	for range 12 {
		if r.is(`document.activeElement === document.querySelector('.hand-nearest button')`) {
			break
		}
		r.press(kb.Tab)
	}
	if !r.is(`document.activeElement === document.querySelector('.hand-nearest button')`) {
		r.t.Fatalf("the keyboard does not reach %q", first)
	}
	r.press(kb.Enter)
	r.until("the results", `document.querySelector('.figure[data-figure="each"]').checkVisibility() && document.activeElement.closest('#Figures') !== null`)
	if r.text("#Limits .limit-refused") != "" {
		r.t.Errorf("%s was taken and is refused", first)
	}
}

// offersOvertaken changes the page before the search has ended: only the last change counts.
func offersOvertaken(r *reader) {
	r.open(r.serverURL("index.html") + "#rolls=2")
	for i := range 6 {
		r.hash(fmt.Sprintf("rolls=%d", 2+i%3))
	}
	r.offered("Working solution 1650 ml or more; Rolls 1")
	r.hash("tank=600%20ml")
	if r.is(`!!document.querySelector('.hand-nearest [role=listitem]')`) {
		r.t.Error("offers stand at values that hold")
	}
}

// offersOnPaper prints a page that refuses, without offers, since paper has no buttons.
func offersOnPaper(r *reader) {
	r.open(r.fileURL("index.html") + "#rolls=2")
	r.until("the offers", offersTold+" !== ''")
	if text := r.printed(); strings.Contains(text, squeeze("Each of these holds")) || !strings.Contains(text, squeeze("Too little for each roll")) {
		r.t.Errorf("on paper stands %q", text)
	}
}

// offersOfTheGuide is the customer with four rolls and half a litre of solution.
func offersOfTheGuide(r *reader) {
	r.open(r.serverURL(guide) + "#rolls=4")
	r.until("the offers", offersTold+" !== ''")
	r.picture("nearest-guide", "main")
	offers := strings.Split(ask[string](r.t, r.tab, offersTold), "; ")
	for i, offer := range offers {
		r.open(r.serverURL(guide) + "#rolls=4")
		r.until("the offers", offersTold+" !== ''")
		r.tap(fmt.Sprintf(".hand-nearest [role=list] p:nth-child(%d) button", i+1))
		if r.text("#Limits .limit-refused") != "" || r.text(figureOf("develop")) == "" {
			r.t.Errorf("%s does not hold", offer)
		}
	}
	r.t.Log(offers)
}
