//go:build browser

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// calendarClock is a clock that shows the time kept in the store, in milliseconds, or the real
// time if none is kept. window.nights holds what waits for a midnight.
const calendarClock = `{
	const Real = Date, at = () => Number(localStorage.getItem('at')) || Real.now();
	window.Date = class extends Real {
		constructor(...parts) { if (parts.length) super(...parts); else super(at()); }
		static now() { return at(); }
	};
	const later = setTimeout.bind(window);
	window.nights = [];
	window.setTimeout = (job, wait, ...rest) => {
		if (wait > 60000) { window.nights.push([job, wait]); return 0; }
		return later(job, wait, ...rest);
	};
}`

// TestBrowserDates opens a page that follows the calendar in five time zones, past midnight and on
// days when the clocks change, and sets a date with the browser's own field.
func TestBrowserDates(t *testing.T) {
	t.Parallel()
	const shelf = `---
title: Shelf life
audience: customers
given:
  now: {label: Today, value: today}
  mixed: {label: Mixed on, value: 2026-11-01, from: 2026-01-01, to: 2027-12-31}
figures:
  discard: {label: Discard after, formula: "months_after(mixed, 3)", show: weekday}
  left: {label: Left, formula: discard - now, show: 0.1 day}
tables:
  by_day: {caption: By day, rows: {mixed: 2026-11-01 .. 2026-11-30 by 1 week}, cell: left}
---
{left} left.

{by_day}
`
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	for name, text := range map[string]string{"index.md": "---\ntitle: Home\naudience: customers\n---\nHome.\n", "shelf.md": shelf} {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"publish", "--from", from, "--to", to, "--on", "2026-11-28"}, &out, &errs) != 0 {
		t.Fatal(errs.String())
	}
	// a moment shortly before a midnight of each zone, the day there, and the two results
	for _, c := range []struct{ zone, moment, day, before, after string }{
		{"UTC", "2026-11-28T23:59:00Z", "28 November 2026", "65.0", "64.0"},
		{"Europe/Berlin", "2026-03-29T21:59:00Z", "29 March 2026", "309.0", "308.0"},    // 02:00 became 03:00 that day
		{"America/New_York", "2026-11-02T04:59:00Z", "1 November 2026", "92.0", "91.0"}, // 02:00 became 01:00 that day
		{"Pacific/Kiritimati", "2026-11-28T09:59:00Z", "28 November 2026", "65.0", "64.0"},
		{"Pacific/Pago_Pago", "2026-11-29T10:59:00Z", "28 November 2026", "65.0", "64.0"},
		{"Australia/Lord_Howe", "2026-10-04T12:59:00Z", "4 October 2026", "120.0", "119.0"}, // by half an hour that day
	} {
		readers(t, to, []string{c.zone + ", desk"}, func(r *reader, _ string) {
			must(t, call(r.tab, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: c.zone}))
			r.first(calendarClock)
			r.open(r.serverURL("index.html"))
			r.is(`localStorage.setItem('at', Date.parse('` + c.moment + `')), true`)
			r.open(r.serverURL("shelf.html"))
			r.says(figureOf("left"), c.before+" days as of "+c.day)
			r.has("#Fixed", c.day)
			r.has("main", c.before+" days as of "+c.day+" left.")
			if c.day != "28 November 2026" && r.is(`[...document.querySelectorAll('.changed')].some((e) => !e.hidden)`) {
				t.Errorf("%s: another day is told as a change", c.zone)
			}
			// one timer is set, for slightly more than a minute
			if !r.is(`window.nights.length > 0 && Math.abs(window.nights.at(-1)[1] - 60010) < 100`) {
				t.Errorf("%s: the page waits %s ms for midnight", c.zone, ask[string](t, r.tab, `String(window.nights.map((n) => n[1]))`))
			}
			r.is(`localStorage.setItem('at', Number(localStorage.getItem('at')) + 61000), window.nights.at(-1)[0](), true`)
			r.until("the new day", `document.querySelector('.figure[data-figure=left] .figure-value').innerText.includes('`+c.after+`')`)
			// a device that slept through the next midnight
			r.is(`localStorage.setItem('at', Number(localStorage.getItem('at')) - 61000), document.dispatchEvent(new Event('visibilitychange')), true`)
			r.until("the day before", `document.querySelector('.figure[data-figure=left] .figure-value').innerText.includes('`+c.before+`')`)
			if c.zone != "UTC" {
				return
			}
			if kind := ask[string](t, r.tab, `document.querySelector('[data-given=mixed] .hand-field').type`); kind != "date" {
				t.Errorf("the field is of the type %s", kind)
			}
			r.is(`(() => { const f = document.querySelector('[data-given=mixed] .hand-field'); f.value = '2026-11-30'; f.dispatchEvent(new Event('input')); f.dispatchEvent(new Event('change')); return true; })()`)
			r.says(figureOf("discard"), "Sunday, 28 February 2027")
			r.has(".changed:not([hidden])", "Mixed on 30 November 2026, tested at 1 November 2026")
			r.until("the address", `location.hash === '#mixed=2026-11-30'`)
			r.is(`(() => { const f = document.querySelector('[data-given=mixed] .hand-field'); f.value = '2025-11-30'; f.dispatchEvent(new Event('input')); return true; })()`)
			r.has("#Limits", "2025-11-30")
			r.is(`(() => { const f = document.querySelector('[data-given=mixed] .hand-field'); f.value = ''; f.dispatchEvent(new Event('input')); return true; })()`)
			r.has("#Limits", "A date is missing here")
			r.picture("dates", "main")
		})
	}
}
