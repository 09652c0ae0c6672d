//go:build browser

package main

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// The width of A4 without its margins (lab.css, @page), in CSS pixels: 188 mm.
const sheetWidth = 710

// beyondTheSheet says by how much the page is too wide, and which innermost elements stick out; ""
// if everything fits.
const beyondTheSheet = `(async () => {
	const over = document.documentElement.scrollWidth - innerWidth;
	if (over <= 0) return '';
	const beyond = [...document.querySelectorAll('main *')].filter(e => !e.children.length && e.getBoundingClientRect().right > innerWidth + 1);
	return over + ' pixels: ' + beyond.slice(0, 6).map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 40)).join(' | ');
})()`

// faultsOfSheet lays the open page out for paper. What is wider than a sheet is cut off in print,
// perhaps with a number: a table whose headings do not wrap is enough, since the page has two
// columns that are both as wide as the wider one. Cards and labels have sheets of their own.
func faultsOfSheet(t *testing.T, tab *tab, name string, add func(string)) {
	if strings.HasPrefix(name, "bench-formulas/") || isForPaper(name) {
		return
	}
	must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: sheetWidth, Height: 1000, DeviceScaleFactor: 1}))
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	if over := ask[string](t, tab, beyondTheSheet); over != "" {
		add("is wider than its sheet: " + over)
	}
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
}
