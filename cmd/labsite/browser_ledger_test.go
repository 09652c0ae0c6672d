//go:build browser

package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// narrowest are the widths of phones at which nothing may overflow, in either system of units.
var narrowest = []int64{320, 360, 390}

// faultsOfLedger checks that the decimal points of the open page's results are aligned, on a phone,
// on a desk and on paper, in both systems of units and after values were set; that each number is
// one text, as it is read aloud and copied; and that no field and no result overflows on a narrow
// phone. It tells how many numbers it checked, and leaves the page in US units with other values
// set, so another page is loaded next.
func faultsOfLedger(t *testing.T, tab *tab, add func(string)) (aligned int) {
	look := func(when string) {
		said := ask[ledger](t, tab, ledgerFaults)
		aligned += said.Numbers
		for _, fault := range said.Faults {
			add(when + ": " + fault)
		}
	}
	// all widths in one system and then in the other: a page that changes systems writes all anew
	for _, system := range []string{"metric", "us"} {
		ask[bool](t, tab, `(e => !e || e.checked || (e.click(), true))(document.querySelector('.unit-switch input[value="`+system+`"]'))`)
		for _, width := range narrowest {
			must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: 844, DeviceScaleFactor: 1, Mobile: true}))
			at := fmt.Sprintf("at %d in %s units", width, system)
			look(at)
			for _, fault := range ask[[]string](t, tab, fmt.Sprintf(tooWide, width)) {
				add(at + ": " + fault)
			}
		}
	}
	ask[bool](t, tab, `[...document.querySelectorAll('.hand-step:last-child')].forEach(e => e.click()), true`)
	look("after values were set")
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	look("on paper")
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
	ask[bool](t, tab, `localStorage.clear(), true`)
	return aligned
}

// ledger is what was found of a page's results.
type ledger struct {
	Numbers int
	Faults  []string
}

// ledgerFaults returns a ledger. Signs are not digits, and the font of a bare machine has wider ones.
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
	return {Numbers: n, Faults: out};
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
