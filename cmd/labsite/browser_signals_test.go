//go:build browser

package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// standIns replace the sound, the vibration and the screen lock of a device, and note what is asked
// of them. What ?utm_without names is missing, what ?utm_refuses names refuses; a page ignores
// parameters with such names.
const standIns = ownClock + `
	const has = (key, name) => new URLSearchParams(location.search).get(key)?.includes(name);
	window.asked = [];
	window.answered = 0;
	const take = (name, value) => Object.defineProperty(navigator, name, { value, configurable: true });
	const part = () => ({ frequency: {}, gain: { setValueAtTime() {}, exponentialRampToValueAtTime() {} }, connect: (to) => to, start() { asked.push('tone'); }, stop() {} });
	window.webkitAudioContext = undefined;
	window.AudioContext = has('utm_without', 'sound') ? undefined : class {
		constructor() {
			if (has('utm_refuses', 'sound')) throw new Error('no sound');
			asked.push('sound');
			this.state = 'running';
			window.speaker = this;
		}
		createOscillator() { return part(); }
		createGain() { return part(); }
		resume() { asked.push('sound again'); this.state = 'running'; return Promise.resolve(); }
		close() { asked.push('sound off'); }
	};
	take('vibrate', has('utm_without', 'vibration') ? undefined : (pattern) => { asked.push(pattern ? 'buzz' : 'buzz off'); return !has('utm_refuses', 'vibration'); });
	take('wakeLock', has('utm_without', 'screen') ? undefined : { async request(kind) {
		asked.push('awake ' + kind);
		await new Promise(f => setTimeout(f, 400)); // longer than between two looks at the clock
		setTimeout(() => { window.answered++; }, 0); // after the page has got its answer
		if (has('utm_refuses', 'screen')) throw new Error('battery');
		const lock = new EventTarget();
		lock.release = async () => { asked.push('asleep'); lock.dispatchEvent(new Event('release')); };
		window.lock = lock;
		return lock;
	} });
	window.seen = 'visible';
	Object.defineProperty(document, 'visibilityState', { get: () => window.seen });
	window.see = (state) => { window.seen = state; document.dispatchEvent(new Event('visibilitychange')); return true; };`

// TestBrowserSignals checks that sound, vibration and a screen that stays on are just what the
// reader asked for, on a device with all of them, on one with none, and on one that refuses.
func TestBrowserSignals(t *testing.T) {
	t.Parallel()
	readers(t, demoSite(t, "customers"), []string{"signals, phone"}, func(r *reader, _ string) {
		r.first(standIns)
		// answered waits until all n requests for the screen have been answered, and the page has
		// looked at its clock since.
		answered := func(n int) {
			t.Helper()
			r.until("the answers", fmt.Sprintf(`window.answered >= %d`, n))
			r.looked()
		}
		asked := func(what string) int {
			n := 0
			for _, a := range ask[[]string](t, r.tab, `window.asked`) {
				if a == what {
					n++
				}
			}
			return n
		}
		begin := func(query string) {
			t.Helper()
			r.open(r.serverURL(guide) + query)
			r.is(`localStorage.clear(), sessionStorage.clear(), true`)
			r.open(r.serverURL(guide) + query)
			r.tap(`.run-desk .button`)
			r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
			r.tapButton("Start: Pre-soak")
			if strings.Contains(query, "without") {
				answered(0)
			} else {
				answered(1)
			}
		}

		// Each is off until asked for; the screen is kept on while the sheet is open.
		begin("")
		if got := ask[[]string](t, r.tab, `window.asked`); !slices.Equal(got, []string{"awake screen"}) {
			t.Errorf("a run that began has asked for %q", got)
		}
		r.says(".run-kept:not([hidden])", "This run keeps G-001, Revision 4.")
		r.later(121) // the pre-soak is over, which is signalled
		if asked("tone")+asked("buzz") > 0 {
			t.Errorf("signals come unasked: %q", ask[[]string](t, r.tab, `window.asked`))
		}
		r.tapButton("Next: Develop")
		r.looked() // its first signal has come
		r.tapButton("Sound")
		r.tapButton("Vibration")
		if !r.is(`[...document.querySelectorAll('.run-options [aria-pressed="true"]')].map(e => e.textContent).join() === 'Sound,Vibration'`) {
			t.Error("what was asked for is not shown as on")
		}
		tones, buzzes := asked("tone"), asked("buzz")
		if tones != 1 || buzzes != 1 {
			t.Errorf("turned on, they try %d tones and %d times of vibration, want one of each", tones, buzzes)
		}
		r.is(`speaker.state = 'interrupted', true`)
		reach := func(moment float64) { // of the step, however long the test has taken so far
			r.later(moment - ask[float64](t, r.tab, `/; (\d+):(\d+) of/.exec(document.querySelector('.run-passed').textContent).slice(1).reduce((n, p) => n * 60 + Number(p), 0)`))
		}
		reach(61) // in Develop the tank is to be moved at 1:00
		if asked("tone") <= tones || asked("buzz") <= buzzes || asked("sound again") != 1 {
			t.Errorf("when to move the tank is not told: %q", ask[[]string](t, r.tab, `window.asked`))
		}
		r.tapButton("Vibration")
		buzzes = asked("buzz")
		reach(121)
		if asked("buzz") != buzzes {
			t.Error("vibration that was turned off goes on")
		}
		// The page is hidden and shown again.
		r.is(`see('hidden')`)
		r.until("the screen given back", `asked.includes('asleep')`)
		if n := asked("awake screen"); n != 1 {
			t.Errorf("out of sight the page asks for the screen: %d times", n)
		}
		r.is(`see('visible')`)
		r.until("the screen asked for again", `asked.filter(a => a === 'awake screen').length === 2 && !!lock`)
		answered(2)
		r.is(`lock.release(), true`) // the system takes it away
		r.until("the screen asked for once more", `asked.filter(a => a === 'awake screen').length === 3`)
		answered(3)
		// A reloaded page is silent and says so.
		r.do(chromedp.Reload())
		r.settle(t)
		r.until("the run sheet again", `!!document.querySelector('dialog[open]')`)
		r.has(`dialog`, "Before the page was loaded again, sound had been asked for. Ask once more")
		r.tapButton("Sound")
		r.tapButton("Vibration")
		if strings.Contains(r.text("dialog"), "Ask once more") {
			t.Error("what was asked for again is still missed")
		}
		r.until("the screen asked for", `asked.includes('awake screen')`)
		answered(1)
		// At the end everything is released, and the next run begins silent.
		for !r.is(`document.querySelector('.run-title').textContent === 'The process is over'`) && !t.Failed() {
			r.tap(`.run-buttons .button:first-child`)
			r.looked()
		}
		r.until("the screen given back at the end", `asked.includes('asleep')`)
		r.tapButton("Close without a record")
		r.tapButton("Press again: the record is lost")
		if asked("sound off") != 1 || asked("buzz off") != 1 {
			t.Errorf("after the run: %q", ask[[]string](t, r.tab, `window.asked`))
		}
		r.tap(`.run-desk .button`)
		r.until("a new run", `document.querySelector('dialog[open] .run-title').textContent === 'Ready: Pre-soak'`)
		if r.is(`!!document.querySelector('.run-options [aria-pressed="true"]')`) {
			t.Error("a new run begins with the signals of the old one")
		}

		// A device with none of them, and one that refuses: the sheet says so, and does not ask
		// again and again.
		for _, query := range []string{"?utm_without=sound,vibration,screen", "?utm_refuses=sound,vibration,screen"} {
			begin(query)
			if strings.HasPrefix(query, "?utm_refuses") {
				r.tapButton("Sound")
				r.tapButton("Vibration")
			}
			for _, want := range []string{"This device gives a page no sound.", "This device does not vibrate.", "The page cannot keep the screen of this device on."} {
				r.has("dialog", want)
			}
			if r.is(`[...document.querySelectorAll('.run-options .button')].some(e => !e.hidden && /Sound|Vibration/.test(e.textContent))`) {
				t.Errorf("%s: what the device cannot do is offered", query)
			}
			r.later(121)
			r.has(".run-left", "+0:0")
			if n := asked("awake screen"); n > 1 {
				t.Errorf("%s: the screen is asked for %d times", query, n)
			}
			r.picture("run-phone-cannot", "dialog")
			faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with a run sheet without signals: %s", text) })
		}
	})
}

// tapButton taps the button of the run sheet whose text begins with these words.
func (r *reader) tapButton(words string) {
	r.t.Helper()
	if !r.is(`(words => {
		const all = [...document.querySelectorAll('.run-sheet .button')], b = all.find(b => !b.hidden && b.textContent.startsWith(words));
		all.forEach(b => { delete b.dataset.test; });
		if (b) b.dataset.test = 'this';
		return !!b;
	})('` + words + `')`) {
		r.t.Errorf("there is no button %q", words)
		return
	}
	r.tap(`[data-test="this"]`)
}
