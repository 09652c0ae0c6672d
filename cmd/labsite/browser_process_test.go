//go:build browser

package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestBrowserProcess runs the guide's process under a clock that the test sets, through a reload, a
// closed tab and a clock set back.
func TestBrowserProcess(t *testing.T) {
	t.Parallel()
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

// clockAhead has the device's clock run ahead of the real one by milliseconds kept in the store.
func (r *reader) clockAhead() {
	r.t.Helper()
	r.first(ownClock)
}

// ownClock is a clock that can be set ahead, and counts how often the page has looked at it.
// Passing time moves both of a browser's clocks; setting the clock moves only one.
const ownClock = `{
	const real = Date.now.bind(Date), count = performance.now.bind(performance);
	const said = (key) => { try { return Number(localStorage.getItem(key) || 0); } catch { return 0; } };
	Date.now = () => real() + said('ahead') + said('jump');
	performance.now = () => count() + said('ahead');
	const again = setInterval.bind(window);
	window.setInterval = (look, ...rest) => {
		window.looks = 0;
		return again(() => { look(); window.looks++; }, ...rest);
	};
}`

// first has every page that the tab opens run a script before its own.
func (r *reader) first(js string) {
	r.t.Helper()
	_, err := chromedp.Call(r.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: js})
	must(r.t, err)
}

// later sets the clock ahead, and waits until the page has looked at it.
func (r *reader) later(seconds float64) {
	r.t.Helper()
	r.is(fmt.Sprintf(`localStorage.setItem('ahead', Number(localStorage.getItem('ahead') || 0) + %v), true`, seconds*1000))
	r.looked()
}

// jumps sets the clock of the device, and waits until the page has looked at it.
func (r *reader) jumps(seconds float64) {
	r.t.Helper()
	r.is(fmt.Sprintf(`localStorage.setItem('jump', Number(localStorage.getItem('jump') || 0) + %v), true`, seconds*1000))
	r.looked()
}

// looked waits for the page's next look at the clock.
func (r *reader) looked() {
	r.t.Helper()
	if n := ask[int](r.t, r.tab, `window.looks ?? -1`); n >= 0 {
		r.until("a look at the clock", fmt.Sprintf(`window.looks > %d`, n+1)) // one may have begun before
	}
}

// left checks the seconds left of the step, or those since its end, to a range, since the clock
// goes on while the test looks.
func (r *reader) left(from, to int) {
	r.t.Helper()
	got := ask[int](r.t, r.tab, `document.querySelector('.run-left').textContent.replace('+', '').split(':').reduce((n, p) => n * 60 + Number(p), 0)`)
	if got < from || got > to {
		r.t.Errorf("%d s are left, want %d to %d", got, from, to)
	}
}

func runGuide(r *reader) {
	r.open(r.serverURL(guide) + "#tank=600%20ml&bath=22%20C")
	start, tap := `.run-desk .button`, r.tapButton
	if r.is(`!!document.querySelector('dialog[open]')`) {
		r.t.Error("a run begins by itself")
	}
	r.tap(start)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	// it is ready, and no clock runs before somebody starts it
	r.looked()
	r.later(60)
	r.says(".run-title", "Ready: Pre-soak")
	r.left(120, 120)
	r.picture("run-phone-ready", "dialog")
	tap("Start: Pre-soak")
	r.says(".run-title", "Pre-soak")
	r.left(115, 120)
	r.later(60)
	r.left(50, 60)
	r.largeEnough(".run-sheet .button")
	r.has(".run-sheet", "Changed from the tested values: Working solution 600 ml, tested at 500 ml; Developer temperature 22 °C, tested at 20 °C.")
	r.picture("run-phone", "dialog")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with the run sheet: %s", text) })
	tap("Hold before the next step")
	// after the end of a step it counts upwards, and nothing goes on by itself
	r.later(72)
	r.says(".run-title", "Pre-soak")
	r.has(".run-left", "+0:")
	r.has(".run-now", "Over: on to Develop")
	tap("Next: Develop")
	r.says(".run-title", "Hold before: Develop")
	r.later(600)
	r.says(".run-title", "Hold before: Develop")
	r.has(".run-left", "+10:")
	r.has(".run-passed", "since Pre-soak ended")
	tap("Start: Develop")
	r.says(".run-title", "Develop")
	r.left(550, 555) // 9 min 15 s, as the page shows at 22 °C
	r.has(".run-now", "without pause, until 0:30")
	r.later(50)
	r.has(".run-then", "At 1:00")
	// a pause
	tap("Pause")
	r.later(100)
	r.says(".run-title", "Paused: Develop")
	r.left(490, 505)
	r.has(".run-passed", "no bath waits")
	tap("Go on")
	r.left(490, 505)
	// a reload, and the values locked behind the sheet
	r.do(chromedp.Reload())
	r.settle(r.t)
	r.until("the run sheet again", `!!document.querySelector('dialog[open]')`)
	r.says(".run-title", "Develop")
	r.left(480, 505)
	if !r.is(`document.querySelector('[data-given="tank"] .hand-field').disabled && document.querySelector('[data-given="tank"] .hand-field').value === '600 ml'`) {
		r.t.Error("the controls are not locked at the run's values")
	}
	runJumps(r)
	runAway(r)
	landscape(r)
	// back to the step before, and forward again
	tap("Back")
	r.says(".run-title", "Pre-soak")
	r.has(".run-left", "+")
	tap("Next: Develop")
	r.left(545, 555)
	tap("Start this step again")
	tap("Press again: this step from 0:00")
	r.left(545, 555)
	r.later(548)
	r.has(".run-now", "Pour out now")
	tap("Dim display")
	r.has(".run-dimmed", "It is no safelight")
	r.picture("run-phone-dim", "dialog")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with the dim run sheet: %s", text) })
	// hands free: steps go on by themselves, as long as the sheet watches
	r.later(10)
	tap("Next: Stop")
	tap("Steps go on by themselves")
	for !r.is(`document.querySelector('.run-title').textContent === 'Fix'`) && !r.t.Failed() {
		r.later(1) // a step does not go on across time that was not watched
	}
	for !r.is(`document.querySelector('.run-title').textContent === 'The process is over'`) && !r.t.Failed() {
		r.tap(`.run-buttons .button:first-child`)
		r.looked()
	}
	tap("Close without a record")
	tap("Press again: the record is lost")
	if r.is(`!!document.querySelector('dialog[open]') || document.querySelector('[data-given="tank"] .hand-field').disabled`) {
		r.t.Error("a run that was closed still locks the page")
	}
}

// runJumps sets the device's clock while a step is under way: the reader is asked, and the jump
// does not count.
func runJumps(r *reader) {
	r.t.Helper()
	at := func() int {
		return ask[int](r.t, r.tab, `document.querySelector('.run-left').textContent.replace('+', '').split(':').reduce((n, p) => n * 60 + Number(p), 0)`)
	}
	left := at()
	r.jumps(3600) // past the end of the step, and of every later one
	r.says(".run-title", "Develop")
	r.left(left-15, left)
	r.has(".run-question", "went forward by 1:00:00 at once. Did the device sleep, or was the clock set?")
	r.picture("run-phone-asks", "dialog")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with a question: %s", text) })
	r.tapButton("The clock was set: do not count it")
	r.until("the end of the question", `document.querySelector('.run-question').hidden`)
	r.left(left-30, left)
	left = at()
	r.jumps(120)
	r.left(left-15, left)
	r.tapButton("It slept: 2:00 passed")
	r.left(left-120-30, left-120)
	left = at()
	r.jumps(-7200)
	r.has(".run-question", "was set back by 2:00:00")
	r.tapButton("Understood")
	r.left(left-30, left)
}

// runAway leaves the page of the run: every other page says that it is on and links back.
func runAway(r *reader) {
	r.t.Helper()
	r.open(r.serverURL("printing/index.html"))
	r.until("the line of the run", `!!document.querySelector('.run-bar a')`)
	r.has(".run-bar", "Develop, ")
	r.has(".run-bar", " left.")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with the line of a run: %s", text) })
	r.picture("run-phone-bar", ".run-bar")
	r.later(60)
	r.leaves(`document.querySelector('.run-bar a').click()`)
	r.until("the run sheet once more", `!!document.querySelector('dialog[open]')`)
	r.until("the run's values", `document.querySelector('[data-given="tank"] .hand-field').value === '600 ml'`)
	r.has(".run-question", "The page was closed for 1:")
	r.tapButton("Yes")
	r.tapButton("Show the page")
	r.has(".run-line", "Running: Develop")
	r.tap(`.run-bar a`)
	r.until("the run sheet by its line", `!!document.querySelector('dialog[open]')`)
}

// landscape turns the phone: every button that moves the run on stays in view.
func landscape(r *reader) {
	r.t.Helper()
	turn := func(width, height int64) {
		must(r.t, call(r.tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1, Mobile: true}))
		r.until("the turned window", fmt.Sprintf(`innerWidth === %d && innerHeight === %d`, width, height))
	}
	turn(844, 390)
	out := ask[[]string](r.t, r.tab, `[...document.querySelectorAll('.run-buttons .button')].filter(b => {
		const x = b.getBoundingClientRect();
		return !b.hidden && !(x.width > 0 && x.top >= 0 && x.left >= 0 && x.bottom <= innerHeight && x.right <= innerWidth && document.elementFromPoint(x.left + x.width / 2, x.top + x.height / 2) === b);
	}).map(b => b.textContent)`)
	if n := ask[int](r.t, r.tab, `[...document.querySelectorAll('.run-buttons .button')].filter(b => !b.hidden).length`); len(out) > 0 || n < 5 {
		r.t.Errorf("in landscape these of %d buttons are out of view: %q", n, out)
	}
	if !r.is(`(x => x.top >= 0 && x.bottom <= innerHeight)(document.querySelector('.run-left').getBoundingClientRect())`) {
		r.t.Error("in landscape the clock is out of view")
	}
	r.picture("run-landscape", "dialog")
	turn(r.w.width, r.w.height)
}

// runDark runs a process that begins in darkness: the page says to leave the device outside, and
// then stays black until it is pressed for two seconds.
func runDark(r *reader) {
	r.open(r.serverURL("developing/rotary-drum.html"))
	r.tap(`.run-desk .button`)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	for range 10 {
		if r.is(`document.querySelector('.run-now').textContent.startsWith('Darkness ahead')`) {
			break
		}
		r.tap(`.run-buttons .button:first-child`)
		r.looked()
	}
	r.has(".run-now", "leave this device outside")
	r.picture("run-desk-dark-ahead", "dialog")
	r.tap(`.run-buttons .button:first-child`)
	black := `(e => !e.hidden && getComputedStyle(e).backgroundColor === 'rgb(0, 0, 0)' && e.getBoundingClientRect().width >= innerWidth && e.getBoundingClientRect().height >= innerHeight && document.elementFromPoint(200, 300) === e)(document.querySelector('.run-black'))`
	r.until("a dark screen", black)
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with a dark screen: %s", text) })
	r.press(" ") // a short press lights nothing
	r.later(1)
	if !r.is(black) {
		r.t.Error("a short press lights the screen")
	}
	// Escape does not close the sheet in the dark, though browsers let a page prevent that only
	// once
	for range 3 {
		r.press(kb.Escape)
		r.later(0)
	}
	if !r.is(black) {
		r.t.Error("Escape lights the screen")
	}
	// nor does a reload
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
	r.tapButton("Next: Pre-soak")
	r.has(".run-title", "Hold before: Pre-soak")
}

// TestBrowserDarkForAWhile runs a dark step with a time: when it is over the screen stays black,
// since only the person holding the film knows when it is safe.
func TestBrowserDarkForAWhile(t *testing.T) {
	t.Parallel()
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
		r.says(".run-title", "Load") // nothing goes on by itself
		r.has(".run-left", "+0:")
		r.tapButton("Next: Fix")
		r.says(".run-title", "Hold before: Fix")
	})
}
