//go:build browser

package main

import (
	"strings"
	"testing"
)

// labelPages make something whose amount and dates depend on what a reader sets; everything is
// invented.
var labelPages = map[string]string{
	"labsite.yaml": "address: https://invented.example/\n",
	"index.md":     "---\ntitle: Home\naudience: customers\n---\nHome.\n",
	"syrup.md": `---
title: Syrup
audience: customers
control: {number: T-1, revision: 2, status: approved, approved_by: shop owner, approved: 2026-01-01}
substances: [{name: acetic acid, strength: 28 %}]
cautions:
  gloves: {word: WARNING, text: Wear gloves.}
given:
  batch: {label: Batch, value: 500 ml, from: 250 ml, to: 2 l, step: 250 ml}
  mixed: {label: Mixed on, value: 2026-01-31, from: 2026-01-01, to: 2026-12-31}
  strength: {label: Strength, value: stock, choices: [stock, working]}
figures:
  acid: {label: Acid, formula: batch / 10, show: 1 ml}
  keeps: {formula: "strength == 'stock' ? 12 months : 3 months", show: month}
limits:
  - {when: batch > 1 l, refuse: The stirrer takes one litre.}
makes:
  shelf: {label: Shelf syrup, amount: batch, contains: [{name: acetic acid, strength: 28 %}], lasts: "months_after(mixed, 12)", opened: keeps}
  trial: {label: Trial syrup, amount: acid, lasts: keeps}
---
Take {acid}.
`,
}

// TestBrowserLabels prints labels at values that a reader set: numbers, dates and codes follow, a
// refusal leaves no number, and hazards stay.
func TestBrowserLabels(t *testing.T) {
	t.Parallel()
	readers(t, pagesSite(t, labelPages), []string{"labels, phone", "labels, desk"}, func(r *reader, _ string) {
		ready := func(file string) {
			r.t.Helper()
			r.until(file, `location.pathname.endsWith('`+file+`') && document.readyState === 'complete' && 'hand' in window`)
		}
		label := func(n string) string { return ".label:nth-child(" + n + ")" }
		r.open(r.serverURL("syrup.html") + "#batch=750%20ml&mixed=2026-03-31&strength=working")
		r.tap(`.papers a[href*=".products.html"]`)
		ready("syrup.products.html")
		for _, want := range []string{"Amount 750 ml", "Last day of use 31 March 2027", "then use within 3 months", "At Batch 750 ml; Mixed on 31 March 2026; Strength working", "T-1 revision 2", "Danger"} {
			if !strings.Contains(squeeze(r.text(label("1"))), squeeze(want)) {
				t.Errorf("the label does not say %q: %s", want, r.text(label("1")))
			}
		}
		for _, want := range []string{"Amount 75 ml", "3 months after mixing"} {
			if !strings.Contains(squeeze(r.text(label("3"))), squeeze(want)) {
				t.Errorf("the second product's label does not say %q: %s", want, r.text(label("3")))
			}
		}
		r.has(".changed", "Changed from the tested values: Batch 750 ml, tested at 500 ml")
		r.has(".changed", "The code leads to these values.")
		address := "https://invented.example/syrup.html#batch=750%20ml&mixed=2026-03-31&strength=working&paper=T-1.2"
		r.codeLeadsTo(address)
		printed := r.printed()
		for _, want := range []string{"750 ml", "31 March 2027", "At Batch 750 ml", "T-1 revision 2"} {
			if strings.Count(printed, squeeze(want)) < 2 {
				t.Errorf("%q is not on each printed label: %s", want, printed)
			}
		}
		for _, not := range []string{"500 ml", "31 January 2027", "12 months"} {
			if strings.Contains(printed, squeeze(not)) {
				t.Errorf("%q is printed", not)
			}
		}
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("labels at changed values: %s", text) })
		faultsOfLayout(t, r.tab, look{r.w, r.w.schemes[0]}, func(text string) { t.Errorf("labels at changed values: %s", text) })
		r.picture("labels-set-"+r.w.name, "main")
		r.tap(`.desk > a`)
		r.until("the page again, as set", `location.pathname.endsWith('syrup.html') && 'hand' in window && hand.sheet.get('batch').base === 750`)
		// the labels of substances have the code and say what was set
		r.tap(`.papers a[href*=".labels.html"]`)
		ready("syrup.labels.html")
		r.has(label("1"), "At Batch 750 ml; Mixed on 31 March 2026")
		r.codeLeadsTo(address)
		// at the tested values there is nothing to say, and the code is that of the page
		r.open(r.serverURL("syrup.products.html"))
		r.has(label("1"), "500 ml")
		if !r.is(`[...document.querySelectorAll('.label-set, .label-refused, .changed')].every(e => e.hidden) && [...document.querySelectorAll('[data-code="changed"]')].every(e => e.hidden)`) {
			t.Error("labels at the tested values speak of others")
		}
		for _, refused := range []string{"?batch=2%20l", "?batch=9%20l", "?batch=parsec", "?depth=3"} {
			for _, file := range []string{"syrup.products.html", "syrup.labels.html"} {
				r.open(r.serverURL(file) + refused)
				r.withdrawn(file + refused)
				printed := r.printed()
				for _, want := range []string{"No numbers: the page refuses the values that are set.", "Causes severe skin burns and eye damage", "Danger"} {
					if file == "syrup.labels.html" && !strings.HasPrefix(want, "No numbers") {
						continue // the label leaves space to copy them, since the lab has no data sheet of it
					}
					if !strings.Contains(printed, squeeze(want)) {
						t.Errorf("%s%s: %q is not on paper", file, refused, want)
					}
				}
				for _, not := range []string{"500 ml", "750 ml", "50 ml", "12 months", "January 2027"} {
					if strings.Contains(printed, squeeze(not)) {
						t.Errorf("%s%s: %q is on paper", file, refused, not)
					}
				}
				r.codeLeadsTo("https://invented.example/syrup.html#paper=T-1.2~")
			}
		}
		r.picture("labels-refused-"+r.w.name, "body")
	})
}

// codeLeadsTo checks module by module that the codes shown hold this text; TestCodeOfACard has a
// library read such a drawing.
func (r *reader) codeLeadsTo(text string) {
	r.t.Helper()
	if !r.is(`(() => {
		const shown = [...document.querySelectorAll('.label-code [data-code="changed"]')], want = codeOf('` + text + `').map((row) => row.join('')).join();
		return shown.length > 0 && shown.every((box) => {
			const [path] = [...box.querySelectorAll('path')].slice(-1), size = box.querySelector('svg').viewBox.baseVal.width - 8;
			const rows = Array.from({ length: size }, () => Array(size).fill(0));
			for (const [, x, y] of path.getAttribute('d').matchAll(/M(\d+) (\d+)h/g)) rows[y - 4][x - 4] = 1;
			return box.checkVisibility() && !box.previousElementSibling.checkVisibility() && rows.map((row) => row.join('')).join() === want;
		});
	})()`) {
		r.t.Errorf("%s: the codes do not lead to %s", r.text(".changed"), text)
	}
}
