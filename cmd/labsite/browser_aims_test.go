//go:build browser

package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// Aims of the layout, in screens of 390 by 844 and 1280 by 900, and in sheets of A4 and Letter.
const (
	needOnPhone      = 1.3 // where "You need" begins, at a page with substances
	needWithoutLabel = 0.9 // at a page without
	stepOnPhone      = 3.0 // where the first step begins
	bothOnDesk       = 1.0 // where "Set these" and "You need" begin
	mostSheets       = 4   // of A4, and of Letter
	firstStepBy      = 2   // the sheet with the first step
)

// lengthsBefore are the lengths of pages on a phone before the layout was redone, in screens; the
// aim is six tenths of them.
var lengthsBefore = map[string]float64{
	"bench/colour-startup.html": 18.8, "bench/hand-line-check.html": 15.8, "bench/ink-changeover.html": 17.8,
	"bench/mix-staining-pyro.html": 15.8, "bench/monthly-pricing.html": 12.6, "bench/one-shot-run.html": 16.4,
	"bench/push-intake.html": 9.9, "bench/rack-speed.html": 16.9, "bench/replenishment-sheet.html": 15.5,
	"bench/shutter-bench.html": 14.7, "bench/silver-drum.html": 11.8, "developing/fixer-finished.html": 13.9,
	"developing/one-shot-developer.html": 21.7, "developing/rotary-drum.html": 14.6, "developing/two-agent.html": 12.9,
	"developing/warm-kitchen.html": 15.1, "developing/washing-film.html": 15.0, "exposure/film-speed.html": 12.9,
	"exposure/long-exposures.html": 15.5, "mixing/bottle-yield.html": 13.9, "mixing/dry-chemicals.html": 15.9,
	"mixing/thick-concentrate.html": 14.3, "printing/bigger-print.html": 15.7, "printing/dodge-burn.html": 11.8,
	"printing/dry-prints.html": 10.2, "printing/test-strip.html": 17.2,
}

// drawsOnMany are pages that show the safety messages of several pages drawn on, in full and as
// tersely as possible, above the first number: where "You need" may begin on a phone and on a desk,
// and the first step on a phone. Fourteen messages do not fit on one screen. On paper precautions,
// first aid and waste are given in full for each substance: for a whole run that is more than a
// sheet, so one more sheet is allowed of Letter, which is shorter.
var drawsOnMany = map[string]layout{
	"bench/day-in-advance.html": {Need: 1.9, Given: 1.3, Step: 3.25, Sheets: 5},
	"bench/automatic-tank.html": {Need: 1.65, Given: 1.15, Step: stepOnPhone, Sheets: 5},
}

// layout is where things are on a page, in screens; less than 0 for what it does not have.
type layout struct {
	Given, Need, Step, Length float64
	Hazards                   bool
	Sheets                    int // of Letter
}

const whereThingsStand = `(() => {
	const y = (q) => { const e = document.querySelector(q); return e ? (e.getBoundingClientRect().top + scrollY) / innerHeight : -1; };
	return {Given: y('#Given'), Need: y('#Figures'), Step: y('#Step-1'), Hazards: !!document.querySelector('.safe #Hazards'),
		Length: document.documentElement.scrollHeight / innerHeight};
})()`

// shiftSoFar adds up all shifts, even those that the browser takes for a response to a touch, since
// nobody has touched the page.
const shiftSoFar = `new Promise(f => {
	let n = 0;
	new PerformanceObserver(l => { for (const e of l.getEntries()) n += e.value; }).observe({type: 'layout-shift', buffered: true});
	requestAnimationFrame(() => setTimeout(() => f(n), 0));
})`

// TestAims prints for every page with values where things are, on a phone, on a desk and on paper,
// beside the aims. It fails if an aim is missed, and runs only if AIMS is set: `make aims`.
func TestAims(t *testing.T) {
	if os.Getenv("AIMS") == "" {
		t.Skip("AIMS is not set")
	}
	for _, audience := range []string{"staff", "customers"} {
		t.Run(audience, func(t *testing.T) { pagesWithinAims(t, demoSite(t, audience)) })
	}
}

func pagesWithinAims(t *testing.T, dir string) {
	readers(t, dir, []string{"aims, phone"}, func(r *reader, _ string) {
		var rows []string
		off := map[string]int{}
		miss := func(is bool, aim string) string {
			if is {
				off[aim]++
				return "*"
			}
			return ""
		}
		for _, name := range pagesOf(t, dir) {
			if strings.HasPrefix(name, "bench-formulas/") || isForPaper(name) {
				continue
			}
			at := func(w, h int64, phone bool) layout {
				must(t, call(r.tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: w, Height: h, DeviceScaleFactor: 1, Mobile: phone}))
				r.open(r.serverURL(name))
				return ask[layout](t, r.tab, whereThingsStand)
			}
			phone := at(390, 844, true)
			if phone.Need < 0 {
				continue
			}
			desk := at(1280, 900, false)
			sheets, first := r.sheets(a4)
			onLetter, firstOnLetter := r.sheets(letter)
			need := needWithoutLabel
			if phone.Hazards {
				need = needOnPhone
			}
			step, onDesk, mostOfLetter := stepOnPhone, bothOnDesk, mostSheets
			if many, ok := drawsOnMany[name]; ok {
				need, step, onDesk, mostOfLetter = many.Need, many.Step, many.Given, many.Sheets
			}
			share := 0.0
			if before := lengthsBefore[name]; before > 0 {
				share = phone.Length / before
			}
			rows = append(rows, fmt.Sprintf("%-36s need %.2f%s step %.2f%s length %.0f %%%s | desk %.2f %.2f%s | sheets %d, %d of Letter%s step on %d, %d%s", name,
				phone.Need, miss(phone.Need > need, "need"), phone.Step, miss(phone.Step > step, "step"), 100*share, miss(share > .6, "length"),
				desk.Given, desk.Need, miss(max(desk.Given, desk.Need) > onDesk, "desk"), sheets, onLetter, miss(sheets > mostSheets || onLetter > mostOfLetter, "sheets"), first, firstOnLetter, miss(max(first, firstOnLetter) > firstStepBy, "first step")))
		}
		t.Logf("%d pages; short of the aim (*): %v\n%s", len(rows), off, strings.Join(rows, "\n"))
		if len(off) > 0 {
			t.Errorf("pages are short of the aims of their layout: %v", off)
		}
	})
}

// mostShift is how much the layout of a page may move while it loads, as the browser adds it up
// (https://wicg.github.io/layout-instability/): half of what web.dev's "Cumulative Layout Shift"
// calls good. Fonts of different widths move a line or two.
const mostShift = .05

// faultsOfShift reports if the layout moved while the page loaded. Cards and labels are exempt,
// since they are for paper.
func faultsOfShift(t *testing.T, tab *tab, name string, add func(string)) {
	if isForPaper(name) {
		return
	}
	if shift := ask[float64](t, tab, shiftSoFar); shift > mostShift {
		add(fmt.Sprintf("the layout moves by %.3f while it loads", shift))
	}
}

func isForPaper(name string) bool {
	return strings.Contains(name, ".card.") || strings.Contains(name, ".labels.") || strings.Contains(name, ".products.")
}

// sheets prints the page on some paper and returns how many sheets there are, and which one has the
// first step, 0 for none.
func (r *reader) sheets(paper paperSize) (all, first int) {
	r.t.Helper()
	text, err := printedText(r.tab, paper, asItLies)
	must(r.t, err)
	texts := strings.Split(strings.TrimSuffix(text, "\f"), "\f")
	for i, text := range texts {
		if first == 0 && strings.Contains(text, "Step by step") {
			first = i + 1
		}
	}
	return len(texts), first
}
