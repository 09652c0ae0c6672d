package prove

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

const readingsPage = `
data: {times: times.csv}
given:
  density: {label: Density, example: 0.62, from: 0, to: 2, step: 0.01}
  film: {value: fast, choices: [slow, fast]}
  tank: {value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}
figures:
  off: {label: Off, formula: density - 0.6, show: +0.01}
  seen: "film == 'slow' ? off : 0"
  time: {label: Time, formula: "lookup(times.minutes, times.film, film)", else: Nobody tested this film.}
  twice: {formula: time * 2}
  half: tank / 2
  soak: 1 min + density * 10 s
limits:
  - {when: off > 0.1, caution: Too dense.}
  - {when: twice > 15 min, notice: Long.}
  - {when: density > 1.5, refuse: "Read {density} again, {density / 1.5} times too much."}
checks:
  - {expect: {off: +0.02, time: Nobody tested this film.}, source: from memory}
  - {at: {film: slow, density: 0.8}, expect: {twice: 16 min, seen: 0.2}, source: from memory}
  - always: off < 1
steps:
  - {do: Soak, for: soak}
  - {do: Wash, for: 2 min}
tables:
  t: {caption: T, rows: {tank: [300 ml, 500 ml]}, cell: [half, off]}
`

var readingsFiles = pagetest.Shelf{"times.csv": "film,minutes [min]\nslow,8\nother,9\n"}

// A reading has its example in checks, cases and tables. On the page it is missing until it is entered,
// and so is what depends on it, but nothing else.
func TestReadings(t *testing.T) {
	s, proof, list := buildWith(pagetest.WithKeys(readingsPage), readingsFiles, page.World{})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	own := proof.Own
	for name, want := range map[string]string{"off": "", "seen": "0", "half": "250 ml", "time": "Nobody tested this film.", "twice": "Nobody tested this film.", "soak": ""} {
		if got := own.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is shown as %q, want %q", name, got, want)
		}
	}
	if own.Refused() || len(own.Failed) > 0 || len(own.Holding) > 0 {
		t.Errorf("refused %v, failed %v, holding %v", own.Refused(), own.Failed, own.Holding)
	}
	steps, total, ok := own.Process()
	if !ok || !steps[0].Missing || steps[1].Length != 120 || total == total {
		t.Errorf("steps %+v, together %v, %v", steps, total, ok)
	}
	if cells := Cells(s.Grids[0], own); cells[1][0].Shown[1].Text != "+0.02" || !cells[1][0].Own {
		t.Errorf("the table has %+v", cells[1][0])
	}
	run := NewBlank(s)
	run.Set(s.GivenNamed("density"), 0.75)
	run.Set(s.GivenNamed("film"), 0)
	run.Work()
	if got := run.Shown(s.Figure("seen")).Text; got != "0.15" || len(run.Holding) != 2 {
		t.Errorf("entered, it is %q, and %d limits hold", got, len(run.Holding))
	}
}

// A reading of a page drawn on is missing here as well, unless this page sets it.
func TestReadingsDrawnOn(t *testing.T) {
	other, _, list := buildWith(pagetest.WithKeys(readingsPage), readingsFiles, page.World{})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	world := page.World{Page: func(string) (*page.Sheet, source.Problem, bool) { return other, source.Problem{}, true }}
	s, proof, list := buildWith(pagetest.WithKeys(`
draws_on:
  bare: other.md
  read: {page: other.md, at: {density: 0.7}}
  passed: {page: other.md, at: {density: mine}}
given:
  mine: {example: 0.9, from: 0, to: 1.2, step: 0.1}
figures:
  a: bare.off * 2
  b: read.off * 2
  c: passed.off * 2
  d: bare.twice
  e: passed.half
checks:
  - {expect: {a: 0.04, b: 0.2, c: 0.6}, source: from memory}
`), nil, world)
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	for name, want := range map[string]string{"a": "", "b": "0.2", "c": "", "d": "Nobody tested this film.", "e": "250 ml"} {
		if got := proof.Own.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is shown as %q, want %q", name, got, want)
		}
	}
}

// A figure with an else is replaced only if its own formula is refused, and a check that expects a
// number of it says what stands there.
func TestElse(t *testing.T) {
	_, _, list := buildWith(pagetest.WithKeys(strings.Replace(readingsPage, "{expect: {off: +0.02, time: Nobody tested this film.}", "{expect: {time: 8 min}", 1)), readingsFiles, page.World{})
	if len(list) != 1 || !strings.Contains(list[0].Message, "time should be 8 min but is Nobody tested this film.") {
		t.Error(list)
	}
	_, _, list = buildWith(pagetest.WithKeys(strings.Replace(readingsPage, "  half: tank / 2", "  half: lookup(times.minutes, times.film, film) * 0 + tank / 2", 1)), readingsFiles, page.World{})
	if list.Errors() == 0 {
		t.Error("a figure without else does not refuse")
	}
	// its else also stands in place of what depends on it
	for expect, fine := range map[string]bool{"twice: Nobody tested this film.": true, "half: Nobody tested this film.": false, "twice: Nobody knows.": false} {
		_, _, list = buildWith(pagetest.WithKeys(strings.Replace(readingsPage, "{off: +0.02, time: Nobody tested this film.}", "{"+expect+"}", 1)), readingsFiles, page.World{})
		if fine != (list.Errors() == 0) {
			t.Errorf("%s: %v", expect, list)
		}
	}
}
