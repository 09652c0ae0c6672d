package script

import (
	"math"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
)

const readings = `
given:
  density: {example: 0.62, from: 0, to: 2, step: 0.01}
  film: {value: fast, choices: [slow, fast]}
  tank: {value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}
figures:
  off: {formula: density - 0.6, show: +0.01}
  seen: "film == 'slow' ? off : 0"
  time: {formula: "film == 'slow' ? 8 min : time_at_temperature(8 min, 20 °C, 30 °C, factor, 18 °C, 24 °C)", else: Nobody tested this film.}
  twice: {formula: time * 2}
  half: tank / 2
  either: "off > 0 or half > 200 ml"
  factor: shop
limits:
  - {when: off > 0.1, caution: Too dense.}
  - {when: twice > 15 min, notice: Long.}
  - {when: density > 1.5, refuse: Again.}
steps:
  - {do: Soak, for: 1 min + density * 10 s}
  - {do: Wash, for: 2 min}
  - {do: Look, for: tank / 1 ml * 1e-12 s - tank / 1 ml * 1.0001e-12 s} # nothing, but for the last digits
`

// Script and Go agree on what is missing: readings not entered, what depends on them, and figures replaced
// by their else; also on a page drawn on.
func TestMissing(t *testing.T) {
	t.Parallel()
	text := strings.Replace(readings, "  factor: shop\n", "", 1)
	text = strings.Replace(text, "given:\n", "given:\n  factor: {value: 1.09, source: from memory, owner: process lead}\n", 1)
	other := pageOf(t, text)
	f, _ := source.New("draws.md", []byte("---\ntitle: T\naudience: staff\ndraws_on:\n  bare: other.md\n  read: {page: other.md, at: {density: 0.7}}\n  passed: {page: other.md, at: {density: mine}}\n"+
		"given:\n  mine: {example: 0.9, from: 0, to: 1.2, step: 0.1}\n  n: {value: 1, from: 1, to: 3}\n"+
		"figures:\n  a: bare.off * n\n  b: read.off * n\n  c: passed.off * n\n  d: bare.twice\n  e: passed.half\n---\n"))
	drawing, list := page.Decode(f, nil)
	list = append(list, drawing.ResolveIn(page.World{Page: func(string) (*page.Sheet, source.Problem, bool) { return other, source.Problem{}, true }})...)
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	rows, list := rowsPage(t)
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	r := referee(t)
	for _, s := range []*page.Sheet{other, drawing, rows} {
		p := Page{Sheet: s}
		js, err := p.Emit()
		if err != nil {
			t.Fatal(err)
		}
		trial, err := r.Load(js)
		if err != nil {
			t.Fatal(err)
		}
		own, err := trial.At(nil)
		if err != nil {
			t.Fatal(err)
		}
		if what, want, found := p.Differ(p.ByGo(prove.BlankCase(s)), own); what != "" {
			t.Errorf("blank: %s\nin Go:     %s\nin script: %s\n%s", what, want, found, js)
		}
		if list := r.Agree(t.Context(), p, js); len(list) > 0 {
			t.Error(list)
		}
		compare(t, r, p, 300)
	}
}

// The NaN of a failure is not that of a missing value, also after a frame is copied.
func TestAbsent(t *testing.T) {
	frame := []float64{formula.Absent, math.NaN(), 0}
	other := append([]float64(nil), frame...)
	if !formula.IsAbsent(other[0]) || formula.IsAbsent(other[1]) || formula.IsAbsent(other[2]) {
		t.Error("a missing value is taken for another")
	}
}

// rowsPage has a column for each row of a file that waits for a reading.
func rowsPage(t *testing.T) (*page.Sheet, source.List) {
	t.Helper()
	f, _ := source.New("rows.md", []byte("---\ntitle: T\naudience: staff\ndata: {log: {file: log.csv, adds: {off: density - aim}}}\n"+
		"given:\n  aim: {example: 0.5, from: 0, to: 1, step: 0.1}\nfigures:\n  worst: largest(log.off)\n  rows: count(log.density)\n  twice: worst * 2\n"+
		"limits:\n  - {when: largest(log.off) > 0.3, caution: Far off.}\n---\n"))
	data, _ := source.New("log.csv", []byte("day,density\n1,0.51\n2,0.62\n"))
	table, list := page.ReadTable(data)
	s, more := page.Decode(f, oneTable{table})
	list = append(list, more...)
	return s, append(list, s.ResolveIn(page.World{})...)
}

type oneTable struct{ table *page.Table }

func (o oneTable) Files() []string                  { return []string{"log.csv"} }
func (o oneTable) Table(string) (*page.Table, bool) { return o.table, true }
