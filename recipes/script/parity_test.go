package script

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"labsite/recipes/sheet"
)

// referee starts an engine for a test.
func referee(t testing.TB) *Referee {
	t.Helper()
	r, err := NewReferee()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// enough is how many cases of all pages together are compared: 100,000, or what
// LABSITE_CASES says.
func enough() int {
	if n, err := strconv.Atoi(os.Getenv("LABSITE_CASES")); err == nil && n > 0 {
		return n
	}
	return 100_000
}

// compare holds the page's script to Go over its cases, every stride-th of them.
func compare(t testing.TB, r *Referee, p Page, stride int) (cases, refused int) {
	t.Helper()
	js, err := p.Emit()
	if err != nil {
		t.Fatal(err)
	}
	trial, err := r.Load(js)
	if err != nil {
		t.Fatalf("%v\n%s", err, js)
	}
	values := make([]float64, len(p.Sheet.Given))
	run := p.Sheet.NewCase()
	n := 0
	p.Sheet.EachCase(run, func() bool {
		if n++; (n-1)%stride != 0 {
			return true
		}
		for i, g := range p.Sheet.Given {
			values[i] = run.Frame.V[g.Slot]
		}
		run.Work()
		got, err := trial.At(values)
		if err != nil {
			t.Fatalf("%s: %v\n%s", p.Sheet.File.Path, err, js)
		}
		cases++
		if run.Refused() {
			refused++
		}
		if what, want, found := p.Differ(p.ByGo(run), got); what != "" {
			t.Errorf("%s at %s: %s\nin Go:     %s\nin script: %s\n%s", p.Sheet.File.Path, settings(p.Sheet, values), what, want, found, js)
			return false
		}
		return true
	})
	return cases, refused
}

func settings(s *sheet.Sheet, values []float64) string {
	var parts []string
	for i, g := range s.Given {
		parts = append(parts, fmt.Sprintf("%s %s (%.17g)", g.Name, g.Shown(values[i]).Text, values[i]))
	}
	return strings.Join(parts, ", ")
}

// TestDemo compares every page of the demo over all its cases.
func TestDemo(t *testing.T) {
	f := demo(t)
	r := referee(t)
	pages, cases, refused := 0, 0, 0
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil {
			t.Logf("%s is left out: %s", name, f.broken[name])
			continue
		}
		c, n := compare(t, r, Page{Sheet: s}, 1)
		pages, cases, refused = pages+1, cases+c, refused+n
	}
	t.Logf("%d pages, %d cases, %d of them refused", pages, cases, refused)
	if pages < 10 || refused == 0 {
		t.Errorf("only %d pages of the demo were compared, %d refused cases", pages, refused)
	}
}
