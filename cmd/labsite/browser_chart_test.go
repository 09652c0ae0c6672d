//go:build browser

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// pagesSite publishes files as a site.
func pagesSite(t *testing.T, files map[string]string) string {
	t.Helper()
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
		t.Fatal(errs.String())
	}
	return to
}

// Invented pages: horizontal lines with measured points, lines that leave their axis, and lines
// that would but for measured points.
var chartPages = map[string]string{
	"log.csv": "day,reading [ml],bath [°C]\n2026-01-01,19,19\n2026-01-02,21,21\n2026-01-03,30,22\n2026-01-05,15,20\n",
	"across.md": `---
title: Across
audience: customers
data: {log: log.csv}
given:
  aim: {label: Aim, value: 20 ml, from: 10 ml, to: 90 ml, step: 5 ml}
figures:
  low: {label: Low, formula: aim * 0.9, show: 0.1 ml}
  high: {label: High, formula: aim * 1.1, show: 0.1 ml}
charts:
  band: {caption: Readings, points: {x: log.day, y: log.reading}, y: [low, high]}
---
{band}
`,
	"moves.md": `---
title: Moves
audience: customers
data: {log: {file: log.csv, adds: {off: reading - aim}}}
given:
  aim: {label: Aim, value: 20 ml, from: 10 ml, to: 90 ml, step: 5 ml}
  none: {value: 0 ml, source: from memory}
  act: {value: 15 ml, source: from memory}
  far: {value: 20 ml, source: from memory}
charts:
  offs: {caption: Off the aim, points: {x: log.day, y: log.off}}
  held: {caption: Held, points: {x: log.day, y: log.off}, limits: {aim: none, action: act, control: far}}
---
{offs}

{held}
`,
	"leaves.md": `---
title: Leaves
audience: customers
data: {log: log.csv}
given:
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  time: {label: Time, value: 10 min, from: 2 min, to: 60 min, step: 1 min}
  tank: {label: Tank, value: 500 ml, from: 100 ml, to: 5 l, step: 100 ml}
figures:
  develop: {label: Developing time, formula: "time * (1 + (24 °C - bath) / 10 K)", show: 5 s}
  dose: {label: Dose, formula: "tank / 25 * (1 + (24 °C - bath) / 10 K)", show: 0.1 ml}
limits:
  - {when: tank > 4 l, refuse: Too large.}
charts:
  course: {caption: Time, x: bath, y: develop}
  doses: {caption: Dose, x: bath, y: dose, points: {x: log.bath, y: log.reading}}
---
{course}

{doses}
`,
}

// TestBrowserCharts sets values so that charts are redrawn.
func TestBrowserCharts(t *testing.T) {
	t.Parallel()
	readers(t, pagesSite(t, chartPages), []string{"charts, desk"}, func(r *reader, _ string) {
		// where a horizontal line is, as a value on the axis
		across := func(k int) float64 {
			return ask[float64](t, r.tab, `(k => {
				const svg = document.querySelector('#Chart-band svg.chart-wide'), line = svg.querySelectorAll('.chart-limit')[k];
				const plot = svg.dataset.plot.split(' ').map(Number), y = svg.dataset.y.split(' ').map(Number);
				const at = Number(/ (\S+)H/.exec(line.getAttribute('d'))[1]) + Number((/ (\S+)\)/.exec(line.getAttribute('transform')) || [0, 0])[1]);
				return y[0] + (plot[3] - at) / (plot[3] - plot[1]) * (y[1] - y[0]);
			})(`+string(rune('0'+k))+`)`)
		}
		near := func(what string, got, want float64) {
			t.Helper()
			if d := got/want - 1; !(d < .01 && d > -.01) { // to a tenth of a unit of the drawing
				t.Errorf("%s stands at %v, want %v", what, got, want)
			}
		}
		note := func(chart, want string) {
			t.Helper()
			r.until("the note of "+chart+": "+want, `(e => (!e || e.hidden ? '' : e.textContent))(document.querySelector('#Chart-`+chart+` .chart-note')) === '`+want+`'`)
		}
		r.open(r.fileURL("across.html") + "#aim=25%20ml")
		note("band", "")
		near("Low", across(0), 22.5)
		near("High", across(1), 27.5)
		r.open(r.fileURL("across.html") + "#aim=90%20ml")
		note("band", "This chart is drawn at the tested values. At the values set here: Low 81.0 ml, High 99.0 ml.")
		near("Low, as tested", across(0), 18)

		// points of a column that depends on the aim: the second reading is 21 ml, the last 15 ml
		point := func(k int, marks string) float64 {
			return ask[float64](t, r.tab, `(() => {
				const svg = document.querySelector('#Chart-offs svg.chart-wide');
				const ticks = [...svg.querySelectorAll('.chart-tick[text-anchor="end"]')].map(e => [Number(e.getAttribute('y')) - .35 * Number(svg.getAttribute('font-size')), parseFloat(e.textContent.replace('\u2212', '-'))]);
				const [a, b] = [ticks[0], ticks[ticks.length - 1]];
				const y = Number(/^M\S+ ([\d.]+)/.exec(svg.querySelectorAll('`+marks+` .chart-mark')[`+string(rune('0'+k))+`].getAttribute('d'))[1]);
				return a[1] + (y - a[0]) / (b[0] - a[0]) * (b[1] - a[1]);
			})()`)
		}
		r.open(r.fileURL("moves.html"))
		near("the second point, as it came", point(1, "svg.chart-wide"), 1)
		came := ask[string](t, r.tab, `[...document.querySelectorAll('svg.chart-drawing')].map(e => e.outerHTML.replace(/ visibility="visible"/g, '')).join()`)
		r.is(`location.hash = '#aim=45%20ml', true`)
		r.until("the points drawn anew", `document.querySelectorAll('#Chart-offs svg.chart-wide .chart-moved .chart-mark').length === 4`)
		near("the second point", point(1, ".chart-moved"), 21-45)
		near("the last point", point(3, ".chart-moved"), 15-45)
		r.is(`[...document.querySelectorAll('#Chart-offs svg.chart-wide .chart-mark')].filter(e => !e.closest('.chart-moved') && e.getAttribute('visibility') !== 'hidden').length === 1`) // the key's
		note("offs", "")
		note("held", "This chart is drawn at the tested values.")
		r.is(`document.querySelector('#Chart-offs svg.chart-wide desc').textContent.endsWith('4 measured points, worked out at these values, from -30 ml to -15 ml.')`)
		r.picture("charts-moved", ".text")
		r.tap(".back")
		note("held", "")
		if after := ask[string](t, r.tab, `[...document.querySelectorAll('svg.chart-drawing')].map(e => e.outerHTML.replace(/ visibility="visible"/g, '')).join()`); after != came {
			t.Errorf("at the tested values again the points are\n%s\nand were\n%s", after, came)
		}

		// the value of the first point of a line, by the numbers at the ticks
		first := `(() => {
			const svg = document.querySelector('#Chart-course svg.chart-wide');
			const ticks = [...svg.querySelectorAll('.chart-tick[text-anchor="end"]')].map(e => [Number(e.getAttribute('y')) - .35 * Number(svg.getAttribute('font-size')), parseFloat(e.textContent)]);
			const [a, b] = [ticks[0], ticks[ticks.length - 1]];
			const y = Number(/^M\S+ ([\d.]+)/.exec(svg.querySelector('.chart-line').getAttribute('d'))[1]);
			return a[1] + (y - a[0]) / (b[0] - a[0]) * (b[1] - a[1]);
		})()`
		drawn := `[...document.querySelectorAll('svg.chart-drawing')].map(e => e.outerHTML.replace(/ transform="[^"]*"|<g class="chart-own".*?<\/g>|<desc.*?<\/desc>|<line[^>]*>| visibility="visible"/gs, '').replace(/><\/path>/g, '/>')).join()`
		r.open(r.fileURL("leaves.html"))
		before := ask[string](t, r.tab, drawn)
		near("18 °C", ask[float64](t, r.tab, first), 16) // minutes: 10 * (1 + 6 / 10)
		r.is(`location.hash = '#time=60%20min&tank=4%20l', true`)
		r.until("the chart drawn anew", `Math.abs(`+first+` - 96) < 1`)
		note("course", "")
		near("18 °C, at an hour", ask[float64](t, r.tab, first), 96)
		note("doses", "This chart is drawn at the tested values. At the values set here: 224.0 ml at 20 °C.")
		r.picture("charts-stretched", ".text")
		// refused, and back: the drawings are again as published
		r.is(`location.hash = '#time=60%20min&tank=5%20l', true`)
		note("course", "No chart at these values.")
		r.tap(".back")
		note("course", "")
		note("doses", "")
		if after := ask[string](t, r.tab, drawn); after != before {
			t.Errorf("at the tested values again the drawings are\n%s\nand were\n%s", after, before)
		}

		// US units: at the axes, at the mark, in the line of what was changed; 18 °C are
		// 64.4 °F, 22 °C 71.6 °F, 500 ml / 29.5735295625 ml = 16.9, 600 ml are 20.3 fl_oz
		r.open(r.serverURL("leaves.html"))
		r.tap(`.unit-switch input[value="us"]`)
		r.is(`location.hash = '#bath=22%20C&tank=600%20ml', true`)
		r.until("the ticks in °F", `['64.4', '18'].every(text => [...document.querySelectorAll('#Chart-course svg.chart-wide .chart-tick')].some(e => e.textContent === text)) && [...document.querySelectorAll('#Chart-course .chart-title')].some(e => e.textContent === 'Bath (°C; inside: °F)')`)
		r.until("the mark", `document.querySelector('#Chart-course .chart-own').textContent.replace(/\u00a0/g, ' ').includes('at 71.6 °F (22 °C)')`)
		r.has(".changed:not([hidden])", "Bath 71.6 °F (22 °C), tested at 68 °F (20 °C); Tank 20.3 fl oz (600 ml), tested at 16.9 fl oz (500 ml)")
		r.picture("charts-us", ".text")
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("charts in US units: %s", text) })
		r.tap(`.unit-switch input[value="metric"]`)
		r.until("no ticks in °F", `!document.querySelector('.chart-us') && ![...document.querySelectorAll('.chart-title')].some(e => e.textContent.includes('inside'))`)
		r.is(`localStorage.clear(), true`)
	})
}
