//go:build browser

package main

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// A4 less its margins (lab.css, @page), in pixels of a style sheet: 182 mm.
const sheetWidth = 688

// beyondTheSheet says by how much the page is too wide, and which of its innermost elements go
// beyond; "" where all fits.
const beyondTheSheet = `(async () => {
	const over = document.documentElement.scrollWidth - innerWidth;
	if (over <= 0) return '';
	const beyond = [...document.querySelectorAll('main *')].filter(e => !e.children.length && e.getBoundingClientRect().right > innerWidth + 1);
	return over + ' pixels: ' + beyond.slice(0, 6).map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 40)).join(' | ');
})()`

// TestBrowserWithinTheSheet lays every page out for paper. What is wider than a sheet is cut off
// when it is printed, and a number may go with it: a table whose heads do not break is enough,
// as the page stands in two columns that are both as wide as the widest.
func TestBrowserWithinTheSheet(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "staff")
	readers(t, dir, []string{"sheets"}, func(r *reader, _ string) {
		must(t, call(r.tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: sheetWidth, Height: 1000, DeviceScaleFactor: 1}))
		must(t, call(r.tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
		for _, name := range pagesOf(t, dir) {
			if strings.HasPrefix(name, "bench-formulas/") || strings.Contains(name, ".card.") || strings.Contains(name, ".labels.") {
				continue
			}
			r.open(r.serverURL(name))
			if over := ask[string](t, r.tab, beyondTheSheet); over != "" {
				t.Errorf("%s is wider than its sheet: %s", name, over)
			}
		}
	})
}
