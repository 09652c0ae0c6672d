//go:build browser

package main

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestBrowserRunKeeps runs a process while the page gets a new revision with other times, and while
// the clock is set back across a reload: the run keeps what it began with. It holds where the page
// says: nothing goes on before somebody has initialled.
func TestBrowserRunKeeps(t *testing.T) {
	t.Parallel()
	version := func(revision, minutes string) string {
		return pagesSite(t, map[string]string{"run.md": strings.NewReplacer("REVISION", revision, "MINUTES", minutes).Replace(`---
title: Run
audience: customers
control:
  number: T-1
  revision: REVISION
  status: approved
  owner: process lead
  approved_by: shop owner
  approved: 2026-01-01
  effective: 2026-01-02
given:
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
figures:
  time: {label: Time, formula: "MINUTES min * (1 + (20 °C - bath) / 10 K)", show: 15 s}
steps:
  - {do: Check, for: 1 min, hold: process lead}
  - {do: Develop, for: time, drain: 10 s}
  - {do: Fix, for: 5 min}
---
Take {time}.
`)})
	}
	first, second := version("1", "10"), version("2", "20")
	var dir atomic.Value
	dir.Store(first)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Header.Del("If-Modified-Since") // both versions were written in the same second
		w.Header().Set("Cache-Control", "no-store")
		http.FileServer(http.Dir(dir.Load().(string))).ServeHTTP(w, r)
	}))
	defer server.Close()
	readers(t, first, []string{"kept, phone"}, func(r *reader, _ string) {
		r.server = server.URL
		r.clockAhead()
		// begun at 19 °C: 10 min * 1.1 = 11 min
		r.open(server.URL + "/run.html#bath=19%20C")
		r.tap(`.run-desk .button`)
		r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
		r.has(".run-next", "Next: Develop, 11:00. It holds first.")
		r.tapButton("Start: Check")
		r.later(70)
		r.says(".run-title", "Check")
		r.tapButton("Done: initials next")
		r.says(".run-title", "Hold: Check")
		r.says(".run-now", "Do not go on before this step is initialled. Initials of: process lead.")
		r.later(30)
		r.has(".run-left", "+0:3") // it counts on while it waits for initials
		// a mere tap does not count as initials
		if !r.is(`document.querySelector('.run-buttons .button').disabled`) {
			t.Error("a hold is passed with a tap alone")
		}
		r.typeInto(".initials-field", " 12 ")
		if !r.is(`document.querySelector('.run-buttons .button').disabled`) {
			t.Error("initials without a letter are taken")
		}
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with a hold: %s", text) })
		r.picture("run-phone-hold", "dialog")
		r.typeInto(".initials-field", "KM")
		r.tapButton("Initialled: on to Develop")
		r.says(".run-title", "Hold before: Develop")
		r.tapButton("Start: Develop")
		dir.Store(second)
		// set back by an hour and reloaded before the page could notice
		r.later(120)
		r.open(server.URL + "/index.html")
		r.is(`localStorage.setItem('jump', -3600000), true`)
		r.open(server.URL + "/run.html")
		r.until("the run sheet again", `!!document.querySelector('dialog[open]')`)
		r.says(".run-title", "Develop")
		r.left(490, 541) // two of 11 minutes have passed
		r.has(".run-question", "While the page was closed the clock of this device was set back")
		r.tapButton("I have compared it")
		r.has(".run-anew", "T-1, Revision 2 was published during this run. It differs from step 2, Develop, on. This run keeps T-1, Revision 1: its steps and results are those that it began with.")
		r.has(".run-sheet", "This run keeps T-1, Revision 1. Changed from the tested values: Bath 19 °C, tested at 20 °C.")
		r.picture("run-phone-anew", "dialog")
		// the page behind the sheet is the new one, locked at the run's value
		r.until("the new page, locked at the run's value", `document.querySelector('`+fieldOf("bath")+`').disabled && hand.sheet.get('bath').base === 19 && hand.result.figures.time.shown === '22 min'`)
		r.hash("bath=24%20C")
		if r.base("bath") != 19 {
			t.Error("an address changes the values of a run")
		}
		r.later(541)
		r.tapButton("Next: Fix")
		r.says(".run-title", "Fix")
		r.do(chromedp.Reload())
		r.settle(t)
		r.until("the run sheet once more", `!!document.querySelector('dialog[open]')`)
		r.later(300)
		r.tapButton("Done")
		r.says(".run-title", "The process is over")
		made := r.savedRecord()
		for _, want := range []string{`"number": "T-1"`, `"revision": 1`, `"bath": "19 °C"`, `"time": "11 min"`, `"by": "KM"`, `"planned": 660`,
			"T-1, Revision 2 was published during this run. It differs from step 2, Develop, on. The run keeps T-1, Revision 1.", "the clock of the device went back by", "Next: from Develop at"} {
			if !strings.Contains(made, want) {
				t.Errorf("the record does not hold %s:\n%s", want, made)
			}
		}
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with a run that is over: %s", text) })
	})
}
