package script

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/prove"
)

var compiled = sync.OnceValues(func() (Engine, error) { return Compile(Runtime()) })

// referee starts an engine for a test.
func referee(t testing.TB) *Referee {
	t.Helper()
	engine, err := compiled()
	if err != nil {
		t.Fatal(err)
	}
	r, err := engine.Referee()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// whole is roughly how many cases the slow engine compares when all is tested (make test): 200 of each page
// of the demo and some 20,000 of generated pages. A browser compares all cases of the demo, and some
// 100,000 of generated pages.
const whole = 100_000

// enough is how many of them are compared: as many as LABSITE_CASES=n says, or a fifth, since the engine
// takes most of the time of these tests.
func enough() int {
	if n, err := strconv.Atoi(os.Getenv("LABSITE_CASES")); err == nil && n > 0 {
		return n
	}
	return whole / 5
}

// nth is 5 if a fifth is tested: tests then take every fifth of a long list.
func nth() int { return max(1, whole/enough()) }

// failer is a test, or one of rapid's.
type failer interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// eachOf calls try with up to most of a page's cases.
func eachOf(s *page.Sheet, most int, try func(values []float64) bool) {
	run := prove.NewCase(s)
	n := 0
	prove.EachCase(s, run, func() bool { n++; return true })
	stride := 1
	if n > most {
		stride = (n + most - 1) / most
	}
	n = 0
	prove.EachCase(s, run, func() bool {
		n++
		// scattered, so that no given always has the same value
		if stride > 1 && n > 1 && uint32(n)*2654435761>>8%uint32(stride) != 0 {
			return true
		}
		values := make([]float64, len(s.Given))
		for i, g := range s.Given {
			values[i] = run.Frame.V[g.Slot]
		}
		return try(values)
	})
}

// caseAt works out a new case, so that nothing left behind by an earlier one is part of the outcome.
func caseAt(s *page.Sheet, values []float64) *prove.Case {
	c := prove.NewCase(s)
	for i, g := range s.Given {
		c.Set(g, values[i])
	}
	c.Work()
	return c
}

// compare compares the page's script with Go over up to most of its cases.
func compare(t failer, r *Referee, p Page, most int) (cases, refused int) {
	t.Helper()
	js, err := p.Emit()
	if err != nil {
		t.Fatal(err)
	}
	trial, err := r.Load(js)
	if err != nil {
		t.Fatalf("%v\n%s", err, js)
	}
	eachOf(p.Sheet, most, func(values []float64) bool {
		c := caseAt(p.Sheet, values)
		got, err := trial.At(values)
		if err != nil {
			t.Fatalf("%s: %v\n%s", p.Sheet.File.Path, err, js)
		}
		cases++
		if c.Refused() {
			refused++
		}
		if what, want, found := p.Differ(p.ByGo(c), got); what != "" {
			t.Errorf("%s at %s: %s\nin Go:     %s\nin script: %s\n%s", p.Sheet.File.Path, settings(p.Sheet, values), what, want, found, js)
			return false
		}
		return true
	})
	return cases, refused
}

// Go and the script report a value bound by let that fails in the same way.
func TestFaultInLet(t *testing.T) {
	s := pageOf(t, "figures:\n  x: let a = log(0); a + 1")
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	trial, err := referee(t).Load(js)
	if err != nil {
		t.Fatal(err)
	}
	if failed := prove.OwnCase(s).Failed; len(failed) != 1 {
		t.Errorf("in Go %d figures failed", len(failed))
	}
	out, err := trial.At(nil)
	if err != nil || out.Failed != "x" || out.Figures[0].Text != "" {
		t.Errorf("%+v, %v", out, err)
	}
}

func settings(s *page.Sheet, values []float64) string {
	var parts []string
	for i, g := range s.Given {
		parts = append(parts, fmt.Sprintf("%s %s (%.17g)", g.Name, g.Shown(values[i]).Text, values[i]))
	}
	return strings.Join(parts, ", ")
}

// TestDemo compares every page of the demo over a scattered part of its cases. A browser, which is many
// times as fast, compares all: TestBrowserDemoCases.
func TestDemo(t *testing.T) {
	t.Parallel()
	f := demo(t)
	r := referee(t)
	pages, cases, refused := 0, 0, 0
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil {
			t.Logf("%s is left out: %s", name, f.broken[name])
			continue
		}
		c, n := compare(t, r, Page{Sheet: s}, max(1, enough()/500))
		pages, cases, refused = pages+1, cases+c, refused+n
	}
	t.Logf("%d pages, %d cases, %d of them refused", pages, cases, refused)
	if pages < 10 || refused == 0 {
		t.Errorf("only %d pages of the demo were compared, %d refused cases", pages, refused)
	}
}
