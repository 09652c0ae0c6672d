//go:build browser

package main

import (
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// narrowest are the widths of phones at which nothing may overflow, in either system of units.
var narrowest = []int64{320, 360, 390}

// TestBrowserDecimalPoints checks on every page that the decimal points of results are aligned, on
// a phone, on a desk and on paper, in both systems of units and after values were set; that each
// number is one text, as it is read aloud and copied; and that no field and no result overflows on
// a narrow phone.
func TestBrowserDecimalPoints(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "staff")
	var names []string
	for _, name := range pagesOf(t, dir) {
		if !isForPaper(name) && slices.ContainsFunc(loadedBy(t, dir, name), func(file string) bool { return strings.HasSuffix(file, ".figures.js") }) {
			names = append(names, name)
		}
	}
	var aligned atomic.Int64
	inTabs(t, dir, len(names), func(tab *tab, i int) {
		r := &reader{tab, t, windows[0]}
		look := func(when string) {
			said := ask[[]string](t, tab, ledgerFaults)
			var n int64
			fmt.Sscan(said[0], &n)
			aligned.Add(n)
			for _, fault := range said[1:] {
				t.Errorf("%s %s: %s", names[i], when, fault)
			}
		}
		r.open(r.fileURL(names[i]))
		for _, width := range narrowest {
			must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: 844, DeviceScaleFactor: 1, Mobile: true}))
			for _, system := range []string{"metric", "us"} {
				r.is(`!!document.querySelector('.unit-switch input[value="` + system + `"]') && (document.querySelector('.unit-switch input[value="` + system + `"]').click(), true)`)
				at := fmt.Sprintf("at %d in %s units", width, system)
				look(at)
				for _, fault := range ask[[]string](t, tab, fmt.Sprintf(tooWide, width)) {
					t.Errorf("%s %s: %s", names[i], at, fault)
				}
			}
		}
		r.is(`[...document.querySelectorAll('.hand-step:last-child')].forEach(e => e.click()), true`)
		look("after values were set")
		must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
		look("on paper")
		must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
		r.is(`localStorage.clear(), true`)
	})
	if aligned.Load() < 1000 {
		t.Errorf("only %d numbers were looked at", aligned.Load())
	}
}

// ledgerFaults tells how many numbers were checked, and what is wrong. Signs are not digits, and
// the font of a bare machine has wider ones.
const ledgerFaults = `(() => {
	let n = 0;
	const out = [];
	for (const list of document.querySelectorAll('.figures')) {
		const ends = [...list.querySelectorAll('dd > .q[data-whole]:only-child')].filter(q => q.dataset.whole !== '0' && q.checkVisibility()).map(q => {
			const text = q.firstChild, [whole] = /^[-+\u2212]?\d+/.exec(text.data) || [''];
			if (String(whole.length) !== q.dataset.whole || !/^[-+\u2212]?\d+(\.\d+)?(\s.*)?$/.test(text.data)) out.push('of ' + q.textContent + ' the whole part is not ' + q.dataset.whole + ' long');
			const range = document.createRange();
			range.setStart(text, 0);
			range.setEnd(text, whole.length);
			return {end: range.getBoundingClientRect().right, signed: !/^\d/.test(whole), said: q.textContent};
		});
		n += ends.length;
		const plain = ends.filter(e => !e.signed), first = plain[0];
		for (const e of plain) if (Math.abs(e.end - first.end) > 1) out.push(e.said + ' is ' + (e.end - first.end).toFixed(1) + ' px off ' + first.said);
	}
	return [String(n), ...out];
})()`

const tooWide = `(width => {
	const out = innerWidth > width ? ['the page is ' + innerWidth + ' wide'] : [], pen = document.createElement('canvas').getContext('2d');
	for (const e of document.querySelectorAll('.hand-field:not([type=date])')) {
		const look = getComputedStyle(e), room = e.clientWidth - parseFloat(look.paddingLeft) - parseFloat(look.paddingRight);
		pen.font = look.fontWeight + ' ' + look.fontSize + ' ' + look.fontFamily;
		if (pen.measureText(e.value).width > room + .5) out.push(e.value + ' takes ' + pen.measureText(e.value).width.toFixed(0) + ' of ' + room.toFixed(0) + ' px');
	}
	return out;
})(%d)`
