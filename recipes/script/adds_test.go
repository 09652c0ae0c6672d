package script

import (
	"slices"
	"strings"
	"testing"

	"labsite/recipes/prove"
)

const shutterFile = "shutter,marked [s],measured [s],owner\n1,1/500 s,1/400 s,secret\n2,1/250 s,1/240 s,secret\n3,1/125 s,1/80 s,secret\n4,1/60 s,1/61 s,secret\n"

// Columns that a page adds to a file are worked out once if they depend on nothing that a reader can set,
// and otherwise in each case.
func TestAddedColumns(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data:
  shutter:
    file: shutter.csv
    adds:
      error: stops(measured / marked)
      verdict: "abs(error) <= limit ? 'ok' : abs(error) <= 2 * limit ? 'use with care' : 'repair'"
      worst: "error == largest(shutter.error)"
      off: "ratio(error) * extra"
given:
  limit: {value: 1/3 stop, from: 0 stop, to: 1 stop, step: 1/6 stop}
  margin: 0.1 stop
  extra: {value: 2, from: 1, to: 3}
  which: {value: 3, from: 1, to: 4}
figures:
  mean_error: mean(shutter.error)
  largest_error: largest(shutter.error) + margin
  bad: count(shutter.shutter, shutter.verdict, 'repair')
  well: sum(shutter.measured, shutter.verdict, 'ok')
  spread: deviation(shutter.off)
  middle: median(shutter.off, shutter.verdict, 'ok')
  advice: first(shutter.verdict, shutter.shutter, which)
  its_error: lookup(shutter.error, shutter.shutter, which)
  of_worst: first(shutter.shutter, shutter.worst, true)
limits:
  - {when: bad > 1, notice: "{bad} of them."}
`, "shutter.csv", shutterFile)
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(js), "secret") {
		t.Errorf("a column that no formula can reach is in the script:\n%s", js)
	}
	if cases, refused := compare(t, referee(t), Page{Sheet: s}, 400); cases < 84 || refused == 0 || refused == cases {
		t.Errorf("%d cases, %d of them refused", cases, refused) // no shutter within 0 stop: no median
	}
	c := prove.OwnCase(s)
	for name, want := range map[string]string{"bad": "0", "advice": "use with care", "of_worst": "3", "its_error": "0.644 stop"} {
		if got := c.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
}

// Lookups and interpolations also find the cells of such columns, texts included, by keys that do not
// change.
func TestSearchingInAddedColumns(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data:
  times:
    file: times.csv
    adds:
      shorter: minutes * factor
      verdict: "minutes * factor < least ? 'too short' : 'ok'"
      due: mixed + minutes * 200
given:
  factor: {value: 1, from: 0.5, to: 1.5, step: 0.1}
  least: {value: 6 min, from: 1 min, to: 12 min, step: 1 min}
  mixed: {value: 2026-01-31, from: 2026-01-01, to: 2026-12-31}
  film: {value: slow, choices: times.film}
  bath: {value: 20 °C, from: 17 °C, to: 25 °C, step: 0.5 K}
figures:
  time: "lookup(times.shorter, times.film, film, times.bath, 20 °C)"
  word: "lookup(times.verdict, times.film, film, times.bath, bath)"
  until: "lookup(times.due, times.film, film, times.bath, 20 °C)"
  along: {formula: "interpolate(times.shorter, times.bath, bath, times.film, film)", else: Nobody tested that.}
  steep: "interpolate_log(times.shorter, times.minutes, time / factor, times.film, film)"
  fast: "word == 'too short' ? 1 : 2"
checks:
  - always: time < 14.9 min
`, "times.csv", "film,bath [°C],minutes [min]\nslow,18,12\nslow,20,10\nslow,24,7\nfast,18,9\nfast,20,8\nfast,24,6.5\n")
	if cases, refused := compare(t, referee(t), Page{Sheet: s}, 400); refused == 0 || refused == cases {
		t.Errorf("%d cases, %d of them refused", cases, refused) // no row at 20.5 °C for the verdict
	}
	c := prove.OwnCase(s)
	c.Set(s.GivenNamed("factor"), 0.7)
	c.Set(s.GivenNamed("least"), 8*60)
	c.Work()
	for name, want := range map[string]string{"time": "7 min", "word": "too short", "along": "7 min", "steep": "7 min", "fast": "1", "until": "1 February 2026"} {
		if got := c.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
}

// A row that fails or refuses is reported once, in Go and in the script.
func TestAddedColumnsThatFail(t *testing.T) {
	t.Parallel()
	for _, formula := range []string{"1 s / (measured / 1 s - at)", "interpolate(times.minutes, times.at, at * 1 K * shutter + 0 °C)", "sqrt(at - shutter)"} {
		s := pageOf(t, `
data:
  shutter: {file: shutter.csv, adds: {odd: "`+formula+`", twice: "odd * 2"}}
  times: times.csv
given:
  at: {value: 4, from: 0, to: 8, step: 0.5}
figures:
  of: sum(shutter.twice)
  least: smallest(shutter.odd, shutter.shutter, 2)
`, "shutter.csv", shutterFile, "times.csv", "at [°C],minutes [min]\n0,1\n20,5\n")
		compare(t, referee(t), Page{Sheet: s}, 100)
	}
}

// A limit on each row that depends on nothing a reader can set becomes one limit, with all rows for which
// it holds; any other becomes one for each row.
func TestLimitsOnEachRow(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data:
  shutter: {file: shutter.csv, adds: {error: stops(measured / marked), off: error * part}}
given:
  limit: {value: 1/3 stop, from: 0 stop, to: 1 stop, step: 1/6 stop}
  part: {value: 1, choices: [-1, 1]}
limits:
  - {each: shutter, when: error > 0.3 stop, caution: "Shutter {shutter} is off by {error}."}
  - {each: shutter, when: error < 0 stop, notice: Some are slow.}
  - {each: shutter, when: error > 2 stop, warning: Far off.}
  - {each: shutter, when: off > limit, warning: "Shutter {shutter} ({owner}) goes to repair above {limit}."}
`, "shutter.csv", strings.ReplaceAll(shutterFile, "secret", "a_b"))
	if cases, _ := compare(t, referee(t), Page{Sheet: s}, 100); cases < 14 {
		t.Errorf("%d cases", cases)
	}
	c := prove.OwnCase(s)
	var got []string
	for _, l := range c.Holding {
		got = append(got, string(l.Kind)+": "+l.Text.Text)
	}
	want := []string{"caution: Shutter {1} is off by {0.322 stop}. Shutter {3} is off by {0.644 stop}.", "notice: Some are slow. (shutter {4})",
		`warning: Shutter {3} (a\_b) goes to repair above {limit}.`}
	if !slices.Equal(got, want) {
		t.Errorf("%q hold, want %q", got, want)
	}
	_, list := prove.Sheet(t.Context(), s)
	said := map[int]int{}
	for _, d := range list {
		if d.Code != "row-holds" || d.File != "shutter.csv" {
			t.Errorf("got %s", d)
		}
		said[d.Line]++
	}
	if said[2] != 1 || said[4] != 2 || said[5] != 1 || len(said) != 3 {
		t.Errorf("rows told, by line: %v", said)
	}
}
