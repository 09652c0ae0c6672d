package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

func sureOf(t *testing.T, keys string) map[string]Sureness {
	t.Helper()
	s, p, list := build(pagetest.WithKeys(keys))
	if list.Errors() > 0 || p == nil {
		t.Fatal(list)
	}
	return suresOf(t, s, p.Own)
}

func suresOf(t *testing.T, s *page.Sheet, c *Case) map[string]Sureness {
	t.Helper()
	x := NewPropagation(s)
	if x == nil {
		return nil
	}
	out := map[string]Sureness{}
	for _, f := range x.At(c) {
		out[f.Figure.Name] = f
	}
	return out
}

func near(got, want, within float64) bool { return math.Abs(got-want) <= within*math.Abs(want) }

// JCGM 100:2008, H.1, the end gauge (from memory): 50.000623 mm with 25 nm, a comparison with 9.7 nm, a
// difference of expansion within 1e-6 /K and one of temperature within 0.05 K give 32 nm. A standard
// uncertainty there is a within of √3 times as much here.
func TestEndGauge(t *testing.T) {
	got := sureOf(t, `
given:
  standard: {label: Standard, value: 50.000623 mm, within: 0.0000433012702 mm, source: from memory}
  compared: {label: Comparison, value: 0.000215 mm, within: 0.0000168009 mm, source: from memory}
  expansion: {label: Expansion, value: 0.0000115, source: from memory}
  more: {label: Difference of expansion, value: 0, within: 0.000001, source: from memory}
  warm: {label: Off 20 °C, value: -0.1 K, within: 0.4 K, source: from memory}
  warmer: {label: Difference of temperature, value: 0 K, within: 0.05 K, source: from memory}
figures:
  length: {label: Length, formula: "standard + compared - standard * (more * (warm / 1 K) + expansion * (warmer / 1 K))"}
`)["length"]
	nm := got.Standard * 1e7 // base units are centimetres
	if !near(nm, 31.7, 0.01) || got.Most == nil || got.Most.Label != "Standard" {
		t.Errorf("%v nm, most from %+v", nm, got.Most)
	}
}

// JCGM 100:2008, H.2, resistance and reactance from five sets of voltage, current and phase (from
// memory; the correlations -0.36, 0.86, -0.65 seen as quoted): 127.732 ohm with 0.071, 219.847 with 0.295
// and 254.260 with 0.236, rounded on the way. The means of the sets are correlated, which a page can only
// express by what they have in common: each is made of the same three independent values. There is no
// cosine here, so phase enters by its slope.
func TestResistanceAndReactance(t *testing.T) {
	sets := [3][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999},
		{0.019663, 0.019639, 0.019640, 0.019685, 0.019678},
		{1.0456, 1.0438, 1.0468, 1.0428, 1.0433},
	}
	mean, within := meansTogether(sets)
	line := func(k int) string {
		return fmt.Sprintf("%.12g + e1 * (%.12g) + e2 * (%.12g) + e3 * (%.12g)", mean[k], within[k][0], within[k][1], within[k][2])
	}
	one := "value: 0, within: 1.7320508075688772, source: from memory}\n"
	got := sureOf(t, "given:\n  e1: {label: A, "+one+"  e2: {label: B, "+one+"  e3: {label: C, "+one+
		"figures:\n  volts: "+line(0)+"\n  amps: "+line(1)+"\n  off: "+line(2)+fmt.Sprintf(" - %.12g", mean[2])+
		fmt.Sprintf("\n  r1: {label: R, formula: volts / amps * (%.12g - %.12g * off)}", math.Cos(mean[2]), math.Sin(mean[2]))+
		fmt.Sprintf("\n  x1: {label: X, formula: volts / amps * (%.12g + %.12g * off)}", math.Sin(mean[2]), math.Cos(mean[2]))+
		"\n  z1: {label: Z, formula: volts / amps}\n")
	for name, want := range map[string][2]float64{"r1": {127.732, 0.071}, "x1": {219.847, 0.295}, "z1": {254.260, 0.236}} {
		if x := got[name]; math.Abs(x.Value-want[0]) > 0.0005 || math.Abs(x.Standard-want[1]) > 0.001 || !x.Straight {
			t.Errorf("%s: %v with %v, want %v", name, x.Value, x.Standard, want)
		}
	}
}

// meansTogether finds the means of readings taken together, and how far each of three independent values
// of standard deviation 1 moves each mean: the square root of the covariance matrix.
func meansTogether(sets [3][]float64) (mean [3]float64, root [3][3]float64) {
	for k, values := range sets {
		for _, v := range values {
			mean[k] += v / float64(len(values))
		}
	}
	for i := range sets {
		for j := range i + 1 {
			sum, n := 0.0, float64(len(sets[i]))
			for k := range sets[i] {
				sum += (sets[i][k] - mean[i]) * (sets[j][k] - mean[j]) / n / (n - 1)
			}
			for k := range j {
				sum -= root[i][k] * root[j][k]
			}
			if root[i][j] = sum / max(root[j][j], 1e-300); i == j {
				root[i][j] = math.Sqrt(sum)
			}
		}
	}
	return mean, root
}

// NIST TN 1297 (1994), appendix A.2 (from memory): for a product of powers, relative standard uncertainties
// add as squares, each times its power.
func TestProductOfPowers(t *testing.T) {
	got := sureOf(t, `
given:
  a1: {label: A, value: 100 ml, within: 1 ml}
  b1: {label: B, value: 20 s, within: 0.4 s}
figures:
  flow: {label: Flow, formula: a1 ** 2 / b1}
`)["flow"]
	want := 500 * math.Sqrt(math.Pow(2*0.01, 2)+math.Pow(0.02, 2)) / math.Sqrt(3)
	if !near(got.Standard, want, 1e-9) || !got.Straight || got.Unknown {
		t.Errorf("%+v, want %v", got, want)
	}
}

// JCGM 101:2008, 9.2.2 (from memory): the sum of four even spreads of standard deviation 1 has one of 2.00.
func TestSumOfFour(t *testing.T) {
	got := sureOf(t, `
given:
  a1: {label: A, value: 0 ml, within: 1.7320508075688772 ml}
  b1: {label: B, value: 0 ml, within: 1.7320508075688772 ml}
  c1: {label: C, value: 0 ml, within: 1.7320508075688772 ml}
  d1: {label: D, value: 0 ml, within: 1.7320508075688772 ml}
figures:
  sum1: {label: Sum, formula: a1 + b1 + c1 + d1}
`)["sum1"]
	if !near(got.Standard, 2, 1e-12) || !got.Straight {
		t.Errorf("%+v", got)
	}
}

// The result is compared with values drawn at random, as in JCGM 101, through rounding, a branch, a power
// and a page drawn on twice.
func TestAgainstDraws(t *testing.T) {
	mix, _, list := build(pagetest.WithKeys("given:\n  syringe: {label: Syringe, value: 5 ml, within: 0.1 ml}\n  strength: {label: Strength, value: 60 g/l, source: from memory}\nfigures:\n  dose: syringe * strength"))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	world := page.World{Page: func(string) (*page.Sheet, source.Problem, bool) { return mix, source.Problem{}, true }}
	s, p, list := buildWith(pagetest.WithKeys(`
draws_on: {one: mix.md, two: {page: mix.md, at: {}}}
given:
  bath: {label: Bath, value: 20 °C, within: 0.5 K, from: 18 °C, to: 24 °C}
figures:
  time: {label: Time, formula: "round((bath > 10 °C ? 11 min : 2 h) * 1.09 ** ((20 °C - bath) / 1 K), 15 s)"}
  both: {label: Both, formula: one.dose + two.dose}
  apart: {label: Apart, formula: one.dose - two.dose}
`), nil, world)
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	got := suresOf(t, s, p.Own)
	random := rand.New(rand.NewPCG(1, 2))
	var sum, squares float64
	const draws = 1_000_000
	for range draws {
		bath := 20 + 0.5*(2*random.Float64()-1)
		v := 660*math.Pow(1.09, 20-bath) + 7.5*(2*random.Float64()-1)
		sum, squares = sum+v, squares+v*v
	}
	mean := sum / draws
	if want := math.Sqrt(squares/draws - mean*mean); !near(got["time"].Standard, want, 0.01) || !got["time"].Straight {
		t.Errorf("%+v, and draws give %v", got["time"], want)
	}
	if shown, cause := got["time"].Shown(), got["time"].Cause(); shown != "34 s" || cause != "nearly all from bath" {
		t.Errorf("%s, %s", shown, cause)
	}
	// one syringe counts once, along however many paths it enters
	one := 0.1 * 0.06 / math.Sqrt(3)
	if !near(got["both"].Standard, 2*one, 1e-9) || got["apart"].Standard > 1e-12 {
		t.Errorf("%v and %v, want %v and 0", got["both"].Standard, got["apart"].Standard, 2*one)
	}
}

// If a formula bends too much, or lies at the edge of what was tested, no number is shown.
func TestNotStraight(t *testing.T) {
	got := sureOf(t, `
given:
  a1: {label: A, value: 0.2, within: 1}
  b1: {label: B, value: 5, within: 0.1}
  c1: {label: C, value: 5, within: 0.1}
figures:
  bent: {label: Bent, formula: a1 ** 2}
  edge: {label: Edge, formula: sqrt(b1 - 5)}
  other: {label: Other, formula: sqrt(c1 - 5)}
  line: {label: Line, formula: 3 * b1}
  fixed: {label: Fixed, formula: 3 * 4}
`)
	if got["bent"].Straight || got["bent"].Shown() != "" || !strings.Contains(got["bent"].NotTold(), "bends") {
		t.Errorf("%+v", got["bent"])
	}
	if got["line"].Shown() != "0.35" {
		t.Errorf("%s of %+v", got["line"].Shown(), got["line"])
	}
	if !got["edge"].Unknown || got["edge"].Shown() != "" || !strings.Contains(got["edge"].NotTold(), "edge") {
		t.Errorf("%+v", got["edge"])
	}
	if _, told := got["fixed"]; told {
		t.Error("a figure that depends on nothing uncertain is shown as uncertain")
	}
}
