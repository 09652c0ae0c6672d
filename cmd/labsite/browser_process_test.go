//go:build browser

package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestBrowserProcess runs the guide's process under a clock that the test sets, through a
// page loaded again, a closed tab and a clock set back.
func TestBrowserProcess(t *testing.T) {
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"run, phone", "dark, desk"}, func(r *reader, name string) {
		r.clockAhead()
		if name == "run, phone" {
			runGuide(r)
		} else {
			runDark(r)
		}
	})
}

// clockAhead sets the clock of the device ahead of the real one by what the store says, in
// milliseconds.
func (r *reader) clockAhead() {
	r.t.Helper()
	_, err := chromedp.Call(r.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		const real = Date.now.bind(Date);
		Date.now = () => { try { return real() + Number(localStorage.getItem('ahead') || 0); } catch { return real(); } };`})
	must(r.t, err)
}

func (r *reader) later(seconds float64) {
	r.is(fmt.Sprintf(`localStorage.setItem('ahead', Number(localStorage.getItem('ahead') || 0) + %v), true`, seconds*1000))
	time.Sleep(350 * time.Millisecond) // more than one look at the clock
}

// left says the seconds left of the step; the clock goes on while a test looks.
func (r *reader) left(from, to int) {
	r.t.Helper()
	got := ask[int](r.t, r.tab, `document.querySelector('.run-left').textContent.split(':').reduce((n, p) => n * 60 + Number(p), 0)`)
	if got < from || got > to {
		r.t.Errorf("%d s are left, want %d to %d", got, from, to)
	}
}

func runGuide(r *reader) {
	r.open(r.serverURL(guide) + "#tank=600%20ml&bath=22%20C")
	start := `.run-desk .button`
	tap := r.tapButton
	if r.is(`!!document.querySelector('dialog[open]')`) {
		r.t.Error("a run begins by itself")
	}
	r.tap(start)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	r.says(".run-title", "Pre-soak")
	r.left(117, 120)
	r.later(60)
	r.left(55, 60)
	r.largeEnough(".run-sheet .button")
	r.has(".run-sheet", "Changed from the tested values: Working solution 600 ml, tested at 500 ml; Developer temperature 22 °C, tested at 20 °C.")
	r.picture("run-phone", "dialog")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with the run sheet: %s", text) })
	tap("Hold before the next step")
	r.later(62)
	r.says(".run-title", "Hold before: Develop")
	r.later(600) // nothing goes on by itself
	r.says(".run-title", "Hold before: Develop")
	tap("Start: Develop")
	r.says(".run-title", "Develop")
	r.left(552, 555) // 9 min 15 s as the page shows at 22 °C
	r.has(".run-now", "without pause, until 0:30")
	r.later(50)
	r.has(".run-then", "At 1:00")
	// a page loaded again, and values locked behind it
	r.do(chromedp.Reload())
	r.settle(r.t)
	r.until("the run sheet again", `!!document.querySelector('dialog[open]')`)
	r.says(".run-title", "Develop")
	r.left(495, 505)
	if !r.is(`document.querySelector('[data-given="tank"] .hand-field').disabled && document.querySelector('[data-given="tank"] .hand-field').value === '600 ml'`) {
		r.t.Error("the controls are not locked at the run's values")
	}
	// a closed tab: hours later the page is opened at its tested values
	r.later(-3600)
	r.left(490, 505)
	r.has(".run-notice", "set back by")
	r.open("about:blank")
	r.open(r.serverURL(guide))
	r.until("the run's values", `document.querySelector('[data-given="tank"] .hand-field').value === '600 ml'`)
	r.has(".run-line", "Running: Develop")
	r.tap(start)
	r.until("the run sheet once more", `!!document.querySelector('dialog[open]')`)
	r.later(495)
	r.has(".run-now", "Pour out now")
	tap("Start this step again")
	tap("Press again: this step from 0:00")
	r.left(550, 555)
	tap("Dim display")
	r.has(".run-dimmed", "It is no safelight")
	r.picture("run-phone-dim", "dialog")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with the dim run sheet: %s", text) })
	r.later(555 + 30 + 240 + 600 + 60)
	r.says(".run-title", "The process is over")
	tap("Close this run")
	if r.is(`!!document.querySelector('dialog[open]') || document.querySelector('[data-given="tank"] .hand-field').disabled`) {
		r.t.Error("a run that was closed still locks the page")
	}
	time.Sleep(rest)
	r.tell(func(string) {}) // axe-core asks for style sheets, which the policy refuses it
}

// runDark runs a process that begins in darkness: the page says to leave the device
// outside, and then shows nothing until it is pressed for two seconds.
func runDark(r *reader) {
	r.open(r.serverURL("developing/rotary-drum.html"))
	r.tap(`.run-desk .button`)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	for range 10 {
		if r.is(`document.querySelector('.run-now').textContent.startsWith('Darkness ahead')`) {
			break
		}
		r.tap(`.run-buttons .button:first-child`)
	}
	r.has(".run-now", "leave this device outside")
	r.picture("run-desk-dark-ahead", "dialog")
	r.tap(`.run-buttons .button:first-child`)
	black := `(e => !e.hidden && getComputedStyle(e).backgroundColor === 'rgb(0, 0, 0)' && e.getBoundingClientRect().width >= innerWidth && e.getBoundingClientRect().height >= innerHeight && document.elementFromPoint(200, 300) === e)(document.querySelector('.run-black'))`
	r.until("a dark screen", black)
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with a dark screen: %s", text) })
	time.Sleep(rest)
	r.tell(func(string) {})
	r.press(" ") // a short press lights nothing
	r.later(1)
	if !r.is(black) {
		r.t.Error("a short press lights the screen")
	}
	// Escape closes no sheet in the dark: a browser lets a page refuse it once only
	for range 3 {
		r.press(kb.Escape)
		r.later(0)
	}
	if !r.is(black) {
		r.t.Error("Escape lights the screen")
	}
	// nor does a page that is loaded again
	r.do(chromedp.Reload())
	r.settle(r.t)
	r.until("a dark screen again", black)
	long := func() {
		r.t.Helper()
		must(r.t, call(r.tab, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: "mousePressed", X: 200, Y: 300, Button: "left", ClickCount: 1}))
		r.until("the run sheet after a long press", `document.querySelector('.run-black').hidden`)
		must(r.t, call(r.tab, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: "mouseReleased", X: 200, Y: 300, Button: "left", ClickCount: 1}))
	}
	long()
	r.tapButton("Black screen")
	r.until("a screen that is black once more", black)
	long()
	r.tapButton("Done")
	r.has(".run-title", "Hold before: Pre-soak")
}

// TestBrowserDarkForAWhile runs a dark step that has a time: when it is over the screen
// stays black, since nobody knows when the film is safe but who holds it.
func TestBrowserDarkForAWhile(t *testing.T) {
	dir := pagesSite(t, map[string]string{"dark.md": `---
title: Dark
audience: customers
steps:
  - {do: Load, dark: true, for: 2 min}
  - {do: Fix, for: 5 min}
---
In the dark.
`})
	readers(t, dir, []string{"dark, phone"}, func(r *reader, _ string) {
		r.clockAhead()
		r.open(r.serverURL("dark.html"))
		r.tap(`.run-desk .button`)
		r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
		r.has(".run-now", "leave this device outside")
		r.tapButton("Start the dark step")
		black := `!document.querySelector('.run-black').hidden`
		r.until("a dark screen", black)
		r.later(150)
		r.until("the end of the step", `document.querySelector('.run-sheet .unseen').textContent.includes('Over: Load')`)
		if !r.is(black) {
			t.Error("the screen is lit as soon as the time is over")
		}
		r.is(`document.querySelector('.run-black').dispatchEvent(new Event('pointerdown'))`)
		r.until("the run sheet after a long press", `document.querySelector('.run-black').hidden`)
		r.says(".run-title", "Hold before: Fix") // nothing goes on by itself after darkness
	})
}
