//go:build browser

package main

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/render/build"
)

const arithmeticOf = "#Arithmetic > .more > summary"

func workingOf(name, line string) string { return `[data-working="` + name + `"] .working-` + line }

// TestBrowserWorkings opens "How it was worked out" and sets values: its numbers belong to the
// values set, whether it was opened before or after; there are none if the page refuses; and the
// result is in the units that the reader chose.
func TestBrowserWorkings(t *testing.T) {
	t.Parallel()
	readers(t, demoSite(t, "customers"), []string{"workings, phone"}, func(r *reader, _ string) {
		r.open(r.serverURL(guide))
		if r.is(`later.asked.has('workings.js')`) {
			t.Error("what writes the arithmetic again is loaded before it is opened")
		}
		r.tap(arithmeticOf)
		r.says(workingOf("water", "numbers"), "500 ml - 5.0 ml")
		// 600 ml / 101 = 5.940594059 ml, shown as 5.9 ml; 600 - 5.9 = 594.1
		set := func(when string) {
			r.until("the numbers "+when, `document.querySelector('`+workingOf("water", "numbers")+`').textContent.includes('600')`)
			r.says(workingOf("exact", "numbers"), "concentrate_in(600 ml, dilution(1, 100))")
			r.says(workingOf("exact", "result"), "5.94 ml unrounded 5.940594059 ml")
			r.says(workingOf("water", "numbers"), "600 ml - 5.9 ml")
			r.says(workingOf("water", "result"), "594 ml unrounded 594.1 ml")
			// a lookup in a table shows the key that it used
			r.says(workingOf("base_time", "numbers"), "lookup(times.minutes, times.strength, dilution(1, 100))")
		}
		r.is(`location.hash = '#tank=600%20ml', true`)
		set("of a block that was open")
		r.open(r.fileURL(guide) + "#tank=600%20ml&strength=1%2B100")
		r.tap(arithmeticOf)
		set("of a block that is opened")

		r.is(`location.hash = '#rolls=4', true`)
		r.until("a refusal", `hand.gone`)
		r.withdrawn("four rolls")
		r.has("#Arithmetic .stead", "No results at these values.")

		r.tap(`.unit-switch input[value="us"]`)
		r.is(`location.hash = '#tank=20%20fl_oz', true`)
		r.until("numbers again", `!hand.gone`)
		// 20 fl_oz * 29.5735295625 ml = 591.470591 ml
		r.says(workingOf("water", "numbers"), "591.4705913 ml - 5.9 ml")
		r.says(workingOf("water", "result"), "19.8 fl oz (586 ml) unrounded 19.8 fl oz (585.5705913 ml)")
		r.tap(`.unit-switch input[value="metric"]`)
		r.until("metric units", `!document.querySelector('#Arithmetic .metric')`)
		r.tap(".back")
		r.says(workingOf("water", "numbers"), "500 ml - 5.0 ml")
		r.is(`localStorage.clear(), true`)

		// if the script that writes it does not load, there are no numbers of other values, and the
		// page says so
		r.open(r.serverURL(guide) + "#tank=600%20ml")
		r.is(`(missing => { missing.catch(() => {}); later.asked.set('workings.js', missing); return true; })(Promise.reject(new Error('missing')))`)
		r.tap(arithmeticOf)
		r.until("that a part is missing", `/did not load/.test(document.querySelector('#Arithmetic').innerText)`)
		if r.is(`document.querySelector('.workings').checkVisibility()`) {
			t.Error("the arithmetic of the tested values stands at others")
		}
	})
}

// workedAt is a page's arithmetic at some values.
type workedAt struct {
	Values []*float64 // nil for a reading that is not entered
	Rows   []workedRow
}

type workedRow struct{ Name, Numbers, Full string }

// TestBrowserWorkingsAgree opens the arithmetic of every page at some settings, and compares the
// formulas with their numbers and the unrounded results with what Go writes.
func TestBrowserWorkingsAgree(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "staff")
	day, err := dayOf(demoDay)
	must(t, err)
	site, list := build.Open(context.Background(), filepath.Join("..", "..", "content"), build.Options{Day: day, Unwritten: true})
	if site == nil {
		t.Fatal(list)
	}
	var names []string
	sheets := map[string]*page.Sheet{}
	for _, name := range pagesOf(t, dir) {
		p := site.Content.Page(strings.TrimSuffix(name, ".html") + ".md")
		if p == nil || isForPaper(name) {
			continue
		}
		if x := site.Desk().Resolved(p); x != nil && x.Sheet != nil {
			names = append(names, name)
			sheets[name] = x.Sheet
		}
	}
	var compared atomic.Int64
	inTabs(t, theShell(t), dir, len(names), func(tab *tab, i int) {
		r := &reader{tab, t, windows[0]}
		r.open(r.fileURL(names[i]))
		if !r.is(`"hand" in window && !!document.querySelector(".workings")`) {
			return
		}
		for _, at := range ask[[]workedAt](t, tab, atSomeValues) {
			c := prove.NewBlank(sheets[names[i]])
			for k, g := range c.Sheet.Given {
				if at.Values[k] != nil {
					c.Set(g, *at.Values[k])
				}
			}
			c.Work()
			for _, row := range at.Rows {
				f := c.Sheet.Figure(row.Name)
				compared.Add(1)
				if want := c.WithNumbers(f.Formula); row.Numbers != want || row.Full != c.Unrounded(f) {
					t.Errorf("%s at %s: %s is %q, %q in the page, and in Go %q, %q", names[i], told(at.Values), row.Name, row.Numbers, row.Full, want, c.Unrounded(f))
				}
			}
		}
	})
	if compared.Load() < 500 {
		t.Errorf("only %d lines were compared, of %d pages", compared.Load(), len(names))
	}
}

func told(values []*float64) string {
	var out []string
	for _, v := range values {
		x := math.NaN()
		if v != nil {
			x = *v
		}
		out = append(out, fmt.Sprint(x))
	}
	return strings.Join(out, " ")
}

// atSomeValues sets other values on a page up to three times and reads its arithmetic.
const atSomeValues = `(async () => {
	const more = document.querySelector('#Arithmetic > .more'), out = [], sheet = hand.sheet;
	more.open = true;
	await later('figures-further.js');
	await later('workings.js');
	const plain = (e) => e.textContent.replace(/\u00a0/g, ' ');
	for (let k = 1; k < 20 && out.length < 3; k++) {
		const copy = sheet.copy();
		copy.given.filter(g => g.settable).forEach((g, i) => {
			const values = g.choices ? g.choices.map(c => c.base) : g.reading ? [g.own] : copy.values(g.name);
			if (values.length && !(g.reading && k % 2)) copy.put(g.name, values[(k * 7 + i * 3) % values.length]);
		});
		hand.take(copy.settings());
		if (hand.gone) continue;
		out.push({
			Values: sheet.base.map(v => v === undefined ? null : v),
			Rows: [...document.querySelectorAll('[data-working]')].map(li => ({
				Name: li.dataset.working, Numbers: plain(li.querySelector('.working-numbers')),
				Full: measure.read((li.querySelector('.unrounded .q') || li.querySelector('.working-result .q')).textContent) || '…',
			})),
		});
	}
	return out;
})()`
