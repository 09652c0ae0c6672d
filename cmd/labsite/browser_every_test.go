//go:build browser

package main

import (
	"slices"
	"strings"
	"testing"
)

// moves is the outcome of moving every control of a page.
type moves struct {
	Faults   []string
	Anew     int // tables that were rebuilt
	Examples int // reasons in those that name an example
}

// faultsOfMoves moves every control of the open page, if it has any, and checks that the page shows
// what was worked out, and no numbers if it refuses. In the end the tested values are back, letter
// by letter. It is called while the page is open anyway: opening every page once more would take
// longer than this does for most.
func faultsOfMoves(t *testing.T, tab *tab, add func(string)) moves {
	m := ask[moves](t, tab, everyControl)
	for _, f := range m.Faults {
		add(f)
	}
	tab.tell(func(text string) {
		if !strings.Contains(text, "Throttling") { // about the address, which is written at each click of a control
			add(text)
		}
	})
	return m
}

// hasControls reports whether a page has values to set.
func hasControls(t *testing.T, dir, name string) bool {
	return slices.ContainsFunc(loadedBy(t, dir, name), func(file string) bool { return strings.HasSuffix(file, ".figures.js") })
}

// everyControl evaluates to moves.
const everyControl = `(async () => {
	if (!('hand' in window)) return {Faults: ['has values to set, and no script that sets them'], Anew: 0, Examples: 0};
	const out = [], plain = (e) => measure.read(e.textContent).trim();
	const main = document.querySelector('main');
	// paints at once what is put off
	const rest = () => new Promise(f => setTimeout(() => { dispatchEvent(new Event('beforeprint')); f(); }, 0));
	const address = (hash) => new Promise(f => {
		if (location.hash === hash) f();
		addEventListener('hashchange', () => f(rest()), {once: true});
		location.hash = hash;
	});
	// a chart of measured points only does not depend on settings, and stays
	const measured = (svg) => !(labsitePage.charts || []).some(c => 'Chart-' + c.name === svg.closest('figure').id);
	// announcements come a little later, by a timer
	for (const e of main.querySelectorAll('.unseen[role=status]')) e.hidden = true;
	const before = main.innerText;
	let anew = 0, examples = 0;
	const look = (when) => {
		const r = hand.result;
		for (const e of main.querySelectorAll('.q[data-figure]')) {
			const want = hand.gone ? 'no number' : r.figures[e.dataset.figure].shown ?? ''; // blank until the reading is entered
			if (plain(e) !== want) out.push(when + ': ' + e.dataset.figure + ' says ' + plain(e) + ', not ' + want);
		}
		for (const e of main.querySelectorAll('.q[data-placed]')) {
			const want = r.placed[e.dataset.placed].shown ?? 'no number';
			if (!e.dataset.givenValue && !e.closest('.limit, .grid-key') && plain(e) !== want && when !== 'at first') out.push(when + ': placed ' + e.dataset.placed + ' says ' + plain(e) + ', not ' + want);
		}
		const seen = [...main.querySelectorAll('.figure-value .q, figure.grid td .q, .step-time .q, svg.chart-drawing')].filter(e => e.checkVisibility() && !e.classList.contains('q-none') && !(e.matches('svg') && measured(e)));
		if (hand.gone && seen.length) out.push(when + ': refused, and there still stands ' + plain(seen[0]).slice(0, 40));
		for (const row of main.querySelectorAll('.setting:has(.choice)')) {
			const g = hand.sheet.given.find(g => g.name === row.dataset.given), at = hand.sheet.get(g.name).base;
			const chosen = [...row.querySelectorAll('.choice')].map((e, i) => e.matches('.chosen') ? i : -1).filter(i => i >= 0);
			const now = g.choices.findIndex(c => c.base === at);
			if (chosen.join() !== (now < 0 && g.reading ? '' : String(now))) out.push(when + ': of ' + g.name + ' the choices ' + chosen + ' are marked');
		}
		const told = [...main.querySelectorAll('#Limits .limit-text, figure.grid p[id]')].map(plain).find(t => t.includes('no number'));
		if (told) out.push(when + ': a reason has lost its values: ' + told.slice(0, 200));
		if (hand.gone && !main.querySelector('#Limits .limit-refused')) out.push(when + ': refused without a reason');
	};
	look('at first');
	// A table is rebuilt when the value of its rows is set to another one that it has a row for. It
	// must equal the published table: cells, reasons and where they apply.
	const table = (g) => {
		const copy = document.getElementById('Table-' + g.name).cloneNode(true);
		for (const e of copy.querySelectorAll('.own-word, .grid-csv')) e.remove();
		return [...copy.querySelectorAll('th, td, p[id]')].map(plain).map(t => t.replace(/\s+/g, ' '));
	};
	for (const g of (hand.sheet.program.grids || []).filter(g => g.rows && document.getElementById('Table-' + g.name))) {
		const built = table(g);
		for (const [, text] of g.rows[1]) {
			await address('#' + g.rows[0] + '=' + encodeURIComponent(text));
			if (hand.gone || !hand.sheet.changed().length) continue;
			const now = table(g), i = now.findIndex((t, i) => t !== built[i]);
			if (i >= 0) out.push('table ' + g.name + ' at ' + text + ': ' + built[i] + ' | became | ' + now[i]);
			anew++;
			examples += now.filter(t => t.includes('For example at')).length;
			break;
		}
	}
	document.querySelector('.back')?.click();
	await rest();
	for (const b of main.querySelectorAll('.hand-step, .hand-choice input')) {
		for (let k = 0; k < (b.matches('.hand-step') ? 4 : 1); k++) {
			b.click();
			look((b.getAttribute('aria-label') || b.name) + ' ' + (k + 1));
		}
		await rest();
	}
	const back = document.querySelector('.back');
	if (back && !back.hidden) back.click();
	await rest();
	await rest();
	document.activeElement.blur();
	for (const e of document.querySelectorAll('.strip')) e.hidden = true;
	for (const e of document.querySelectorAll('.setting.open')) e.classList.remove('open');
	if (document.querySelector('.hand-step, .hand-choice') && main.innerText !== before) {
		const a = before.split('\n'), b = main.innerText.split('\n');
		const i = a.findIndex((l, i) => l !== b[i]);
		out.push('tested values again: ' + a[i] + ' | became | ' + b[i]);
	}
	return {Faults: out.slice(0, 6), Anew: anew, Examples: examples};
})()`
