package formula_test

import (
	"math"
	"testing"
	"time"

	"github.com/expr-lang/expr"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
)

// benchPage is a page of ten figures over four given values, as a recipe has them.
const benchPage = `---
title: Ten figures
audience: staff
given:
  tank: {label: Tank, value: 500 ml, from: 500 ml, to: 2 l, step: 100 ml}
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  strength: {label: Strength, value: 1+100, choices: [1+25, 1+50, 1+75, 1+100]}
  rolls: {label: Rolls, value: 1, from: 1, to: 8}
figures:
  exact: tank * strength
  concentrate: {label: Concentrate, formula: "round(exact, 0.1 ml)", show: 0.1 ml}
  water: {label: Water, formula: tank - concentrate, show: 1 ml}
  error_of_rounding: {label: Error, formula: (concentrate - exact) / exact, show: 0.1 %}
  develop: {label: Time, formula: "8 min * 1.09 ** ((20 °C - bath) / 1 K)", show: 15 s}
  area: rolls * 0.0516 m2
  replenisher: {label: Replenisher, formula: area * 161 ml/m2, show: 5 ml}
  share: {label: Share, formula: replenisher / tank, show: 0.1 %}
  longest: "max(develop, 5 min) + 30 s"
  cost: {label: Cost, formula: "concentrate * 0.09 USD/ml + (rolls > 2 ? 1 USD : 0.50 USD)"}
---
`

// plain are the same ten formulas over plain floats, in base units.
var plain = []string{
	"tank * strength",
	"floor(tank * strength / 0.1 + 0.5) * 0.1",
	"tank - concentrate",
	"(concentrate - exact) / exact",
	"480.0 * 1.09 ** ((20.0 - bath) / 1.0)",
	"rolls * 516.0",
	"area * 0.0161",
	"replenisher / tank",
	"max(develop, 300.0) + 30.0",
	"concentrate * 0.09 + (rolls > 2.0 ? 1.0 : 0.5)",
}

func pageOf(b testing.TB) *page.Sheet {
	f, _ := source.New("ten.md", []byte(benchPage))
	s, list := page.Decode(f, nil)
	if list.Errors() > 0 {
		b.Fatal(list)
	}
	if list := s.Resolve(); list.Errors() > 0 {
		b.Fatal(list)
	}
	return s
}

func engine(b testing.TB) {
	env := map[string]any{"tank": 500., "bath": 20., "strength": 1. / 101, "rolls": 1., "concentrate": 5., "exact": 4.95, "area": 516.,
		"replenisher": 8.3, "develop": 480.}
	for _, text := range plain {
		program, err := expr.Compile(text, expr.Env(env))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := expr.Run(program, env); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPage reads a page's front matter, infers the kinds of its ten figures and
// works them out once. The ratio is that to BenchmarkEngine.
func BenchmarkPage(b *testing.B) {
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		s := pageOf(b)
		c := prove.NewCase(s)
		c.Work()
		n++
	}
	mine := float64(b.Elapsed()) / float64(n)
	start := time.Now()
	for range n {
		engine(b)
	}
	b.ReportMetric(mine/(float64(time.Since(start))/float64(n)), "×engine")
}

// BenchmarkFormulas reads the same ten formulas, infers their kinds and works them out
// once, without the file around them: what the language costs beside the engine that
// parses it.
func BenchmarkFormulas(b *testing.B) {
	b.ReportAllocs()
	s := pageOf(b)
	c := prove.NewCase(s)
	n := 0
	for b.Loop() {
		for _, f := range s.Sorted {
			read, list := formula.Parse(f.Text.Text, nil)
			if len(list) > 0 {
				b.Fatal(list)
			}
			node, list := formula.Infer(read, s.Scope())
			if len(list) > 0 {
				b.Fatal(list)
			}
			c.Frame.V[f.Slot] = node.Eval(&c.Frame)
		}
		n++
	}
	mine := float64(b.Elapsed()) / float64(n)
	start := time.Now()
	for range n {
		engine(b)
	}
	b.ReportMetric(mine/(float64(time.Since(start))/float64(n)), "×engine")
}

// BenchmarkEngine compiles the same ten formulas with the engine alone, as plain floats
// over a map, and runs each once: no units, no kinds, no front matter.
func BenchmarkEngine(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		engine(b)
	}
}

// BenchmarkCases works out 4,096 cases of ten figures.
func BenchmarkCases(b *testing.B) {
	s := pageOf(b)
	c := prove.NewCase(s)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for i := range 4096 {
			c.Set(s.GivenNamed("tank"), 500+float64(i%16)*100)
			c.Set(s.GivenNamed("rolls"), float64(i%8+1))
			c.Work()
		}
		n++
	}
	b.ReportMetric(b.Elapsed().Seconds()*1000/float64(n), "ms/4096-cases")
}

// A case is worked out without allocating, so that 4,096 of them leave no garbage.
func TestACaseDoesNotAllocate(t *testing.T) {
	s := pageOf(t)
	c := prove.NewCase(s)
	c.Work()
	if len(s.Figures) != 10 || len(c.Failed)+len(c.Refusals) > 0 || math.Abs(c.Frame.V[s.Figure("concentrate").Slot]-5) > 1e-12 {
		t.Fatalf("the page is not worked out: %+v", c)
	}
	if n := testing.AllocsPerRun(100, c.Work); n != 0 {
		t.Errorf("a case allocates %v times", n)
	}
}
