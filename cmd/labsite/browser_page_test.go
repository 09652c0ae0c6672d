//go:build browser

package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// faultsOfLayout reports if the whole page scrolls sideways, and which elements cause it. Parts of
// a page may scroll by themselves, such as a wide table.
func faultsOfLayout(t *testing.T, tab *tab, l look, add func(string)) {
	type wide struct {
		Width    int64
		Elements []string
	}
	w := ask[wide](t, tab, fmt.Sprintf(`(() => {
		const width = %d, root = document.scrollingElement;
		const inside = e => {
			for (let p = e.parentElement; p && p !== document.body; p = p.parentElement)
				if (getComputedStyle(p).overflowX !== 'visible') return true;
			return false;
		};
		const name = e => e.localName + (e.id ? '#' + e.id : '') + [...e.classList].map(c => '.' + c).join('');
		const out = [...document.body.querySelectorAll('*')].filter(e =>
			e.getBoundingClientRect().right > width + 0.5 && !inside(e)).map(name);
		return {Width: Math.max(root.scrollWidth, innerWidth), Elements: [...new Set(out)].slice(0, 3)};
	})()`, l.width))
	if w.Width > l.width {
		add(fmt.Sprintf("scrolls sideways: %d px wide instead of %d; too wide: %s", w.Width, l.width, strings.Join(w.Elements, ", ")))
	}
}

// allRules are the groups of axe-core's rules that are used: WCAG 2.0, 2.1 and 2.2 at levels A and
// AA, and what axe-core calls best practice. Naming wcag22aa also turns on the rule for target
// sizes.
const allRules = `{type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22a', 'wcag22aa', 'best-practice']}`

// rulesOfTheLook are those of allRules that depend on the width of the window or on the colour
// scheme; the others judge what elements are and say. So these run in both windows, and the others
// in the first and, in the second, only on what is shown only there (faultsOfAccessAgain).
const rulesOfTheLook = `{type: 'rule', values: ['color-contrast', 'link-in-text-block', 'target-size', 'scrollable-region-focusable']}`

// faultsOfColour finds colours that a style sheet sets only for some widths. axe-core takes most of
// the time of these tests, so it runs once in each scheme, dark on the desk and light on the phone,
// which is enough as long as width changes no colour.
func faultsOfColour(t *testing.T, tab *tab, add func(string)) {
	for _, rule := range ask[[]string](t, tab, `(() => {
		const out = [];
		const look = (rules, narrow) => {
			for (const r of rules) {
				const here = narrow || r instanceof CSSMediaRule && /width/.test(r.conditionText);
				if (here && r.style) for (const p of r.style)
					if (/^(color|background-color|background-image|opacity)$/.test(p) && !/::/.test(r.selectorText) && !/^(transparent|currentcolor|inherit|initial|none|auto)$/.test(r.style.getPropertyValue(p))) out.push(r.selectorText + ' {' + p + '}');
				if (r.cssRules) look(r.cssRules, here);
			}
		};
		for (const s of document.styleSheets) look(s.cssRules, false);
		return out;
	})()`) {
		add("sets a colour for some widths alone, where no test of contrast looks: " + rule)
	}
}

// faultsOfAccess runs axe-core. What it cannot decide by itself (incomplete) is for a person, and
// no fault here. It must not fetch style sheets, which only rules that are not used would read,
// since the page's policy refuses that.
func faultsOfAccess(t *testing.T, tab *tab, rules string, add func(string)) {
	faultsOfAccessIn(t, tab, "document", rules, add)
}

// faultsOfAccessAgain checks a page that faultsOfAccess has checked in another window: by
// rulesOfTheLook, and by all rules for what was not shown there.
func faultsOfAccessAgain(t *testing.T, tab *tab, add func(string)) {
	faultsOfAccess(t, tab, rulesOfTheLook, add)
	if ask[bool](t, tab, `(() => {
		const here = [...document.querySelectorAll('body *')].filter(e => !shownBefore.has(e) && e.checkVisibility());
		window.shownHere = here.filter(e => !here.includes(e.parentElement));
		return shownHere.length > 0;
	})()`) {
		faultsOfAccessIn(t, tab, `{include: shownHere}`, allRules, add)
	}
}

// shown notes what a page shows in the current window.
const shown = `window.shownBefore = new Set([...document.querySelectorAll('body *')].filter(e => e.checkVisibility())); true`

// faultsOfAccessIn runs axe-core on a part of the page, given as an expression.
func faultsOfAccessIn(t *testing.T, tab *tab, part, rules string, add func(string)) {
	if !ask[bool](t, tab, `'axe' in window`) {
		ask[bool](t, tab, tab.axe+"\n; true")
	}
	ask[int](t, tab, oneOfEachColour)
	for _, text := range ask[[]string](t, tab, `axe.run(`+part+`, {runOnly: `+rules+`, resultTypes: ['violations'], preload: {assets: ['media']}}).finally(unasked).then(r =>
		r.violations.map(v => v.id + ' (' + v.help + '): ' + v.nodes.slice(0, 3).map(n =>
			n.target.join(' ') + ' ' + n.any.concat(n.all, n.none).map(c => c.message).slice(0, 1).join('')).join('; ') +
			(v.nodes.length > 3 ? ' and ' + (v.nodes.length - 3) + ' more' : '')))`) {
		add(text)
	}
}

// controlled selects the parts of a page whose text a script may replace by a control with the same
// value.
const controlled = `[data-given]`

// textOf is the text of a page, line by line, and its title.
type textOf struct {
	Title string
	Lines []string
}

func readText(t *testing.T, tab *tab) textOf {
	return ask[textOf](t, tab, `(() => {
		const main = document.querySelector('main') || {innerText: ''};
		const controls = [...document.querySelectorAll('`+controlled+`')].filter(e => !e.hidden);
		for (const e of controls) e.hidden = true;
		const lines = main.innerText.split('\n').map(l => l.trim()).filter(l => l);
		for (const e of controls) e.hidden = false;
		return {Title: document.title, Lines: lines};
	})()`)
}

// faultsWithoutScripts compares the page's main text with that of the page after its scripts ran:
// each line must be there as often with scripts too. Scripts may add lines.
func faultsWithoutScripts(t *testing.T, tab *tab, name string, with textOf, add func(string)) {
	must(t, call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	tab.mute = true
	var without textOf
	tab.visit(t, tab.fileURL(name), phone.looks()[:1], func(look) {
		tab.tell(add)
		without = readText(t, tab)
	}, add)
	must(t, call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{}))
	tab.mute = false
	if len(without.Lines) == 0 {
		add("has no text in <main>")
	}
	if with.Title != without.Title {
		add(fmt.Sprintf("is called %q, with scripts %q", without.Title, with.Title))
	}
	left := slices.Clone(with.Lines)
	for _, line := range without.Lines {
		if line == "Set to" && slices.Contains(left, "Set these") {
			continue // without scripts nothing invites a reader to set a value
		}
		if i := slices.Index(left, line); i >= 0 {
			left = slices.Delete(left, i, i+1)
			continue
		}
		add(fmt.Sprintf("says %q, which scripts take away or change", line))
	}
}

// squeeze leaves out what line breaks, hyphens and ligatures change.
func squeeze(s string) string {
	return strings.NewReplacer(" ", "", "\n", "", "\u00a0", "", "-", "", "\u00ad", "", "ﬁ", "fi", "ﬂ", "fl").Replace(strings.ToLower(s))
}
