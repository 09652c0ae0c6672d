//go:build browser

package main

import (
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// controlPages have a control of each kind; everything on them is invented.
var controlPages = map[string]string{"kinds.md": `---
title: Kinds
audience: customers
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}
  film: {label: Film, value: slow, choices: [slow, medium, fast, very fast, sheet, aerial, copying]}
  fresh: {label: Fresh, value: yes}
figures:
  dose: {label: Dose, formula: "tank / (film == 'fast' ? 50 : 100)", show: 0.1 ml}
---
Take {dose} for {film}.
`}

// TestBrowserControls uses every kind of control: what is typed is read or refused, what is moved
// counts, and everything works by keyboard alone.
func TestBrowserControls(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	scenes := map[string]func(r *reader){"typing, phone": typeForms, "restored, phone": setAndRestored}
	var names []string
	for name := range scenes {
		names = append(names, name)
	}
	readers(t, dir, names, func(r *reader, name string) { scenes[name](r) })
	// a process that runs in one tab locks the page in the others
	readers(t, dir, []string{"keys alone, desk"}, func(r *reader, _ string) { setByKeysAlone(r) })
	readers(t, pagesSite(t, controlPages), []string{"kinds, phone"}, func(r *reader, _ string) { setEachKind(r) })
}

func (r *reader) base(name string) float64 {
	return ask[float64](r.t, r.tab, `hand.sheet.get('`+name+`').base`)
}

// typeForms types what people type. 68 °F are 20 °C; a comma is a decimal point unless
// exactly three digits follow it.
func typeForms(r *reader) {
	r.open(r.fileURL(guide))
	for _, c := range []struct {
		given, typed string
		base         float64 // ml, °C; NaN if refused
		offers, says string
	}{
		{"tank", "600", 600, "", ""},
		{"tank", "0,65 l", 650, "", ""},
		{"tank", "1,5 l", 1500, "", ""},
		{"tank", "1,500 ml", math.NaN(), "1500 ml", "The comma can separate thousands or decimals. Which is meant?"},
		{"tank", "1,500 l", math.NaN(), "1.500 l", "The comma can separate thousands or decimals. Which is meant?"},
		{"tank", "1,2,3 ml", math.NaN(), "", "one decimal point"},
		{"tank", "600 parsec", math.NaN(), "", "parsec"},
		{"tank", "3 l", math.NaN(), "", "300 ml"},
		{"tank", "20 oz", math.NaN(), "20 fl oz,20 imp fl oz", "Which is meant?"},
		{"tank", "20 fl oz", math.NaN(), "20 US fl oz,20 imp fl oz", "A fluid ounce can be two things. Which is meant?"},
		{"tank", "2 pints", math.NaN(), "2 US pint,2 imp pint", "A pint can be two things. Which is meant?"},
		{"tank", "2 imperial pints", 1136.5225, "", ""},
		{"tank", "500ML", math.NaN(), "500 ml", "ml"}, // with other capitals it is no unit, and the right one is proposed
		{"tank", "500ml", 500, "", ""},
		{"bath", "68 F", 20, "", ""},
		{"bath", "22,5", 22.5, "", ""},
		{"bath", "72", math.NaN(), "72 °F", ""},
		{"bath", "20", 20, "", ""},
	} {
		r.is(`document.querySelector('` + fieldOf(c.given) + `').focus(), true`)
		r.is(`document.activeElement.select(), true`)
		r.press(c.typed)
		what := fmt.Sprintf("%s in the field of %s", c.typed, c.given)
		trouble := `[data-given="` + c.given + `"] .hand-trouble`
		if math.IsNaN(c.base) {
			r.withdrawn(what)
			r.has(trouble, c.says)
			got := ask[string](r.t, r.tab, `[...document.querySelectorAll('[data-given="`+c.given+`"] .hand-offer')].map(e => e.textContent.replace(/\u00a0/g, ' ')).join()`)
			if got != c.offers {
				r.t.Errorf("%s: offered are %q, want %q", what, got, c.offers)
			}
			continue
		}
		if r.is(`hand.gone`) {
			r.t.Errorf("%s is refused: %s", what, r.text(trouble))
		} else if got := r.base(c.given); math.Abs(got-c.base) > 1e-9 {
			r.t.Errorf("%s is read as %v, want %v", what, got, c.base)
		}
	}
	// addresses as people write them, and what is refused in them
	r.open(r.fileURL(guide) + "#tank=600 ml")
	r.results(map[string]string{"concentrate": "5.9 ml"})
	r.open(r.fileURL(guide) + "#tank=20 oz&bath=22 C")
	r.withdrawn("an ounce in the address")
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("with units to choose from: %s", text) })
}

// setByKeysAlone never touches the mouse.
func setByKeysAlone(r *reader) {
	r.open(r.fileURL(guide))
	to := func(selector string) {
		r.t.Helper()
		for range 60 {
			if r.is(`document.activeElement.matches('` + selector + `')`) {
				return
			}
			r.press(kb.Tab)
		}
		r.t.Errorf("no key leads to %s", selector)
	}
	in := func(name, part string) string { return `[data-given="` + name + `"] ` + part }
	to(in("tank", ".hand-field"))
	r.press(kb.ArrowUp)
	r.press("20 oz")
	r.withdrawn("an ounce")
	to(in("tank", ".hand-offer"))
	r.press(kb.Enter)
	if !r.is(`document.activeElement.matches('` + in("tank", ".hand-field") + `')`) {
		r.t.Error("after an ounce was chosen the field is not in focus")
	}
	if got := r.base("tank"); math.Abs(got-20*29.5735295625) > 1e-9 { // NIST SP 811, from memory
		r.t.Errorf("20 fluid ounces are read as %v ml", got)
	}
	to(in("tank", ".hand-step:last-child"))
	r.press(" ") // from between two steps to the next step
	to(in("tank", ".hand-slide"))
	r.press(kb.ArrowRight)
	if got := r.base("tank"); got != 650 {
		r.t.Errorf("a step and the slider led to %v ml, want 650", got)
	}
	to(in("strength", ".hand-choice input"))
	r.press(kb.ArrowLeft)
	r.results(map[string]string{"concentrate": "12.7 ml"}) // 650 ml / 51 = 12.745 ml
	to(".back")
	r.press(kb.Enter)
	r.results(map[string]string{"concentrate": "5.0 ml"})
	if !r.is(`document.activeElement.matches('` + in("tank", ".hand-field") + `')`) {
		r.t.Error("back at the tested values no control is in focus")
	}
	// the run sheet
	to(".run-desk .button")
	r.press(kb.Enter)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	if !r.is(`document.activeElement.textContent === 'Start: Pre-soak'`) {
		r.t.Error("the run sheet opens without a button in focus")
	}
	faultsOfAccess(r.t, r.tab, allRules, func(text string) { r.t.Errorf("behind a running process: %s", text) })
	r.press(kb.Enter)
	r.until("the start", `document.querySelector('.run-title').textContent === 'Pre-soak'`)
	r.has(".run-next", "Next: Develop, 11:00")
	for range 4 { // to stop it, and to close it without a record, each with two presses
		for range 12 {
			if r.is(`/^(Stop the run|Press again|Close without a record)/.test(document.activeElement.textContent)`) {
				break
			}
			r.press(kb.Tab)
		}
		r.press(kb.Enter)
	}
	r.until("the end of the run", `!document.querySelector('dialog[open]') && !document.querySelector('`+fieldOf("tank")+`').disabled && !Object.keys(localStorage).some(k => k.startsWith('labsite-run'))`)
}

// setAndRestored leaves the page and comes back to it, restored from memory and loaded again.
func setAndRestored(r *reader) {
	agree := func(when, field, concentrate string) {
		r.t.Helper()
		r.until("the page "+when, `'hand' in window && document.readyState === 'complete' && window.timesShown === 1 && location.pathname.endsWith('one-shot-developer.html')`)
		if v := ask[string](r.t, r.tab, `document.querySelector('`+fieldOf("tank")+`').value`); v != field {
			r.t.Errorf("%s the field says %q, want %q", when, v, field)
		}
		if concentrate == "" {
			r.withdrawn(when)
		} else {
			r.results(map[string]string{"concentrate": concentrate})
		}
	}
	// a page restored from memory takes its values again when it is shown
	r.first(`window.timesShown = 0; addEventListener('pageshow', () => setTimeout(() => { window.timesShown++; }, 0)); addEventListener('pagehide', () => { window.timesShown = 0; });`)
	r.open(r.serverURL(guide))
	r.typeInto(fieldOf("tank"), "600 ml")
	r.until("the value in the address", `location.hash === '#tank=600%20ml'`)
	r.do(chromedp.Reload())
	r.settle(r.t)
	agree("loaded again", "600 ml", "5.9 ml")
	for _, kept := range []bool{true, false} {
		when := fmt.Sprintf("gone back to, kept in memory %v", kept)
		if !kept {
			r.is(`addEventListener('unload', () => {}), true`) // a page with such a listener is not kept in memory
		}
		r.do(chromedp.Navigate(r.serverURL("developing/index.html")))
		r.settle(r.t)
		r.is(`setTimeout(() => history.back(), 0), true`)
		agree(when, "600 ml", "5.9 ml")
	}
	r.typeInto(fieldOf("tank"), "20 oz")
	r.until("what was typed in the address", `location.hash === '#tank=20%20oz'`)
	r.do(chromedp.Reload())
	r.settle(r.t)
	agree("loaded again with a refused value", "20 oz", "")
}

// setEachKind moves a slider, a list and a yes or no.
func setEachKind(r *reader) {
	r.open(r.fileURL("kinds.html"))
	r.results(map[string]string{"dose": "5.0 ml"})
	r.tap(fieldOf("tank")) // opens it
	r.tap(".hand-slide")   // in the middle: 600 or 700 ml of 300 to 1000
	if got := r.base("tank"); got != 600 && got != 700 {
		r.t.Errorf("the middle of the slider is %v ml", got)
	}
	r.tap(`[data-given="tank"] .hand-step:first-child`)
	r.is(`document.querySelector('.hand-list').focus(), true`)
	r.press("fast")
	r.until("the film", `hand.sheet.get('film').shown === 'fast'`)
	r.until("the dose", `document.querySelector('.text').textContent.replace(/\u00a0/g, ' ').includes((hand.sheet.get('tank').base / 50).toFixed(1) + ' ml for fast')`)
	r.largeEnough(".hand-list, .hand-choice")
	r.tap(`[data-given="fresh"] .hand-choice:first-child`)
	r.until("no", `hand.sheet.get('fresh').shown === 'no' && location.hash.includes('fresh=no') && location.hash.includes('film=fast')`)
	r.tap(".back")
	r.results(map[string]string{"dose": "5.0 ml"})
}
