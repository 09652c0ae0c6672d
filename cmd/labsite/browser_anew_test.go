//go:build browser

package main

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
)

// anewPage is a page whose times depend on a reading; everything on it is invented.
const anewPage = `---
title: Rest
audience: customers
control: {number: T-1, revision: REVISION, status: STATUS, owner: process lead, approved_by: shop owner, approved: 2026-01-01}
keeps: rest-log.csv
given:
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  drop: {label: Drop, example: 3 mm, from: 0 mm, to: 9 mm}
  factor: {label: Rest for each millimetre, value: FACTOR, source: measured here 2026-01-01, owner: process lead}
figures:
  rest: {label: Rest, formula: "drop / 1 mm * factor", show: 15 s}
limits:
  - {when: drop > 8 mm, refuse: The drop is too large.}
  - {when: bath > 24 °C, notice: Warm.}
checks:
  - at: {drop: 3 mm}
    expect: {rest: EXPECTED}
    source: measured here 2026-01-01
STEPS---
Wait.
`

const anewSteps = `steps:
  - {do: Look, for: 1 min}
  - {do: Rest, for: rest}
  - {do: Close, for: FINAL min}
`

// anewSite publishes revisions of a lab into one folder, which a web server serves.
type anewSite struct {
	t    *testing.T
	from string
	dir  atomic.Value
	*httptest.Server
}

func newAnewSite(t *testing.T) *anewSite {
	s := &anewSite{t: t, from: t.TempDir()}
	must(t, os.WriteFile(filepath.Join(s.from, "index.md"), []byte("---\ntitle: Home\naudience: customers\n---\nHome.\n"), 0o644))
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Header.Del("If-Modified-Since")
		w.Header().Set("Cache-Control", "no-store")
		http.FileServer(http.Dir(s.dir.Load().(string))).ServeHTTP(w, r)
	}))
	t.Cleanup(s.Close)
	return s
}

func (s *anewSite) labsite(args ...string) string {
	s.t.Helper()
	var out, errs bytes.Buffer
	if run(s.t.Context(), append(args, "--from", s.from), &out, &errs) != 0 {
		s.t.Fatalf("%v: %s%s", args, &out, &errs)
	}
	return out.String()
}

// publish publishes the page with these replacements; approve records it first.
func (s *anewSite) publish(approve bool, words ...string) {
	s.t.Helper()
	text := strings.NewReplacer(words...).Replace(strings.Replace(anewPage, "STEPS", anewSteps, 1))
	text = strings.NewReplacer("STATUS", "approved").Replace(text)
	must(s.t, os.WriteFile(filepath.Join(s.from, "rest.md"), []byte(text), 0o644))
	if approve {
		s.labsite("approve", "rest", "--by", "shop owner", "--yes")
	}
	to := filepath.Join(s.t.TempDir(), "site")
	s.labsite("publish", "--to", to)
	s.dir.Store(to)
}

var (
	firstRest  = []string{"REVISION", "1", "FACTOR", "20 s", "EXPECTED", "1 min", "FINAL", "5"}
	secondRest = []string{"REVISION", "2", "FACTOR", "40 s", "EXPECTED", "2 min", "FINAL", "7"}
)

// again reloads the page and opens the sheet of its run.
func (r *reader) again() {
	r.t.Helper()
	r.do(chromedp.Reload())
	r.settle(r.t)
	r.until("the run sheet again", `!!document.querySelector('dialog[open]')`)
}

// reads enters a reading on the sheet of a run.
func (r *reader) reads(text string) {
	r.t.Helper()
	r.until("the field of the reading", `!!document.querySelector('#Run-reading-0') && document.querySelector('#Run-reading-0').checkVisibility()`)
	r.is(`(f => { f.value = '` + text + `'; f.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.querySelector('#Run-reading-0'))`)
}

// TestBrowserRepublishedDuringARun republishes a page during a run. The run works out readings with the formulas
// that it began with, as long as they are available, and in any case ends in a record.
func TestBrowserRepublishedDuringARun(t *testing.T) {
	t.Parallel()
	scenes := map[string]func(r *reader){"recorded, phone": anewRecorded, "unrecorded, desk": anewUnrecorded, "without steps, desk": anewWithoutSteps}
	var names []string
	for name := range scenes {
		names = append(names, name)
	}
	readers(t, t.TempDir(), names, func(r *reader, name string) { scenes[name](r) })
}

func (r *reader) beginsRest(s *anewSite) {
	r.t.Helper()
	r.server = s.URL
	r.open(s.URL + "/rest.html")
	r.tap(`.run-desk .button`)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	r.tapButton("Start: Look")
	r.says(".run-title", "Look")
	if !r.is(`document.querySelector('.run-anew').hidden && document.querySelector('.run-readings').hidden`) {
		r.t.Error("a run speaks of a new revision where there is none")
	}
}

func (r *reader) endsRest() string {
	r.t.Helper()
	for _, b := range []string{"End early. Next: Rest", "End early. Next: Close", "End early. Done"} {
		if b == "End early. Next: Close" && r.is(`[...document.querySelectorAll('.run-buttons .button')].every(e => !e.textContent.startsWith('End early. Next: Close'))`) {
			b = "Next: Close" // a step whose time is unknown
		}
		r.tapButton(b)
		r.looked()
	}
	r.says(".run-title", "The process is over")
	return r.savedRecord()
}

func anewRecorded(r *reader) {
	s := newAnewSite(r.t)
	r.clockAhead()
	s.publish(true, firstRest...)
	r.beginsRest(s)
	s.publish(true, secondRest...)
	r.again()
	r.has(".run-anew", "T-1, Revision 2 was published during this run. It differs from step 3, Close, on.")
	r.has(".run-next", "Next: Rest")
	r.reads("9 mm")
	r.has(".run-trouble", "gives no numbers")
	r.reads("much")
	r.until("a reading that is refused", `document.querySelector('#Run-reading-0').getAttribute('aria-invalid') === 'true'`)
	r.reads("6 mm")
	r.has(".run-results", "2 min") // 6 times 20 s, not 40 s
	r.has(".run-next", "Next: Rest, 2:00")
	r.has(".run-anew", "It differs from step 2, Rest, on.")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with a page published again: %s", text) })
	r.picture("run-anew-readings", "dialog")
	r.largeEnough(".run-sheet .button")
	r.again()
	r.has(".run-results", "2 min")
	made := r.endsRest()
	for _, want := range []string{`"revision": 1`, `"drop": "6 mm"`, `"rest": "2 min"`, `"planned": 120`, `"planned": 300`, "T-1, Revision 2 was published during this run. It differs from step 3, Close, on. The run keeps T-1, Revision 1.",
		"With the reading that was entered: It differs from step 2, Rest, on."} {
		if !strings.Contains(made, want) {
			r.t.Errorf("the record does not hold %s:\n%s", want, made)
		}
	}
	// the record agrees with what the lab keeps of revision 1
	at := filepath.Join(s.from, "handed.json")
	must(r.t, os.WriteFile(at, []byte(made), 0o600))
	if said := s.labsite("record", at); !strings.Contains(said, "Recorded") {
		r.t.Errorf("record says %s", said)
	}
	r.tapButton("Close this run")
	r.until("the page as it is now", `!document.querySelector('dialog[open]') && !document.querySelector('`+fieldOf("bath")+`').disabled`)
}

func anewUnrecorded(r *reader) {
	s := newAnewSite(r.t)
	r.clockAhead()
	s.publish(false, firstRest...)
	r.beginsRest(s)
	s.publish(false, secondRest...)
	r.again()
	r.has(".run-anew", "Its formulas are not to be had any more")
	r.reads("6 mm")
	if !r.is(`document.querySelector('.run-results').childElementCount === 0`) {
		r.t.Error("results are worked out without the formulas of the run")
	}
	made := r.endsRest()
	for _, want := range []string{`"revision": 1`, `"drop": "6 mm"`, `"do": "Look"`, "T-1, Revision 2 was published"} {
		if !strings.Contains(made, want) {
			r.t.Errorf("the record does not hold %s:\n%s", want, made)
		}
	}
}

// anewWithoutSteps removes the steps from the page, and then its figures.
func anewWithoutSteps(r *reader) {
	for _, withdrawn := range []bool{false, true} {
		s := newAnewSite(r.t)
		r.clockAhead()
		s.publish(true, firstRest...)
		r.beginsRest(s)
		if withdrawn {
			s.publish(false, append([]string{anewSteps, "", "STATUS", "withdrawn"}, secondRest...)...)
		} else {
			s.publish(true, append([]string{anewSteps, ""}, secondRest...)...)
		}
		r.again()
		r.has(".run-anew", "Its steps are not on this page any more.")
		r.says(".run-title", "Look")
		if !withdrawn {
			r.reads("6 mm")
			r.has(".run-results", "2 min")
		}
		made := r.endsRest()
		for _, want := range []string{`"page": "rest"`, `"revision": 1`, `"do": "Close"`, "Its steps are not on this page any more."} {
			if !strings.Contains(made, want) {
				r.t.Errorf("withdrawn %v: the record does not hold %s:\n%s", withdrawn, want, made)
			}
		}
		r.tapButton("Close this run")
		r.until("no run any more", `!document.querySelector('dialog[open]') && !document.querySelector('.run-desk .button')?.checkVisibility()`)
	}
}
