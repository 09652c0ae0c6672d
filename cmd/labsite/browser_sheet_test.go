//go:build browser

package main

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// A4 less its margins (lab.css, @page), in pixels of a style sheet: 188 mm.
const sheetWidth = 710

// beyondTheSheet says by how much the page is too wide, and which of its innermost elements go
// beyond; "" if all fits.
const beyondTheSheet = `(async () => {
	const over = document.documentElement.scrollWidth - innerWidth;
	if (over <= 0) return '';
	const beyond = [...document.querySelectorAll('main *')].filter(e => !e.children.length && e.getBoundingClientRect().right > innerWidth + 1);
	return over + ' pixels: ' + beyond.slice(0, 6).map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 40)).join(' | ');
})()`

// faultsOfSheet lays the open page out for paper. What is wider than a sheet is cut off when it is
// printed, and a number may go with it: a table whose heads do not break is enough, as the page
// is in two columns that are both as wide as the widest. Cards and labels have a sheet of their own.
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
