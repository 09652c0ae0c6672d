//go:build browser

package main

import "testing"

// TestBrowserStrip scrolls a guide on a phone past its values: a strip at the foot of the window
// keeps the main results, follows what is set, and covers nothing at the end of the page.
func TestBrowserStrip(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"strip, phone"}, func(r *reader, _ string) {
		r.open(r.serverURL("developing/one-shot-developer.html"))
		if r.is(`!!document.querySelector('.strip')`) {
			t.Error("the line is there before the page is scrolled")
		}
		r.is(`document.getElementById('Step-3').scrollIntoView({block: 'center', behavior: 'instant'}), true`)
		r.until("the line, at the foot of the window", `(() => {
			const strip = document.querySelector('.strip');
			if (!strip || strip.hidden) return false;
			const b = strip.getBoundingClientRect();
			return Math.abs(b.bottom - innerHeight) < 1 && b.left === 0 && Math.abs(b.right - innerWidth) < 1;
		})()`)
		r.is(`location.hash = '#tank=1%20l', true`)
		r.until("the results at the values set", `(() => {
			const of = e => measure.read(e.textContent).trim(), shown = [...document.querySelectorAll('.figure[data-figure] .figure-value .q')].map(of);
			const told = [...document.querySelectorAll('.strip dd .q')].map(of);
			return told.length > 0 && told[0] === '9.9 ml' && told.every((x, i) => x === shown[i]);
		})()`)
		r.is(`scrollTo({top: document.documentElement.scrollHeight, behavior: 'instant'}), true`)
		r.until("the foot, whole above the line", `(() => {
			const b = document.querySelector('.kept button:not([hidden])').getBoundingClientRect();
			const e = document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2);
			return !document.querySelector('.strip').hidden && !!e && e.matches('.kept button');
		})()`)
	})
}
