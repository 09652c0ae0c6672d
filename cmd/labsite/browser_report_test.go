//go:build browser

package main

import "testing"

// TestBrowserReport prints the sheet for a customer: only the part below its mark, with the day on
// it, and afterwards the page is as before.
func TestBrowserReport(t *testing.T) {
	t.Parallel()
	dir := pagesSite(t, map[string]string{"test.md": `---
title: Shutter
audience: customers
given:
  off: {label: Off by, value: 0.1 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}
figures:
  twice: {label: Twice, formula: 2 * off, show: 0.1 stop}
---
## For the bench

Before it.

## For the customer

{report}

It is off by {off}.

## For the shelf

After it.
`})
	readers(t, dir, []string{"report, desk"}, func(r *reader, _ string) {
		r.open(r.serverURL("test.html"))
		r.is(`window.print = () => { window.printed = [...document.querySelectorAll('.in-report')].map(e => e.textContent).join(' '); }, true`)
		r.tap(`.report-print`)
		r.until("the sheet is printed", `!!window.printed`)
		if !r.is(`document.documentElement.classList.contains('report-sheet') && printed.includes('It is off by') && !/Before it|After it/.test(printed) && /\d{4}/.test(document.querySelector('.report-day').textContent)`) {
			t.Errorf("on the sheet: %q", ask[string](t, r.tab, `window.printed || ''`))
		}
		r.is(`dispatchEvent(new Event('afterprint'))`)
		if r.is(`document.documentElement.classList.contains('report-sheet') || !!document.querySelector('.in-report')`) {
			t.Error("after printing the page is still the sheet")
		}
	})
}
