package control

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"
)

// row is a published worked example; testdata/checks.json names the source of
// each.
type row struct {
	ID, What, Source string
	Inputs, Expected json.RawMessage
}

// example reads the row of testdata/checks.json with that id.
func example(t *testing.T, id string, inputs, expected any) row {
	t.Helper()
	raw, err := os.ReadFile("testdata/checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	if err := json.Unmarshal(raw, &rows); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(rows, func(r row) bool { return r.ID == id })
	if i < 0 {
		t.Fatalf("no row %s", id)
	}
	for raw, into := range map[*json.RawMessage]any{&rows[i].Inputs: inputs, &rows[i].Expected: expected} {
		if into == nil {
			continue
		}
		if err := json.Unmarshal(*raw, into); err != nil {
			t.Fatalf("%s: %v", id, err)
		}
	}
	return rows[i]
}

func (r row) near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s (%s), %s: got %.10g, want %g within %g", r.ID, r.Source, what, got, want, within)
	}
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestPublishedSingleReadings(t *testing.T) {
	var in struct{ X []float64 }
	var want struct{ Mean, MRbar, UCL, LCL float64 }
	r := example(t, "spc-01", &in, &want)
	got := must[Individuals](t)(SingleReadings(in.X))
	r.near(t, "mean", got.Readings.Centre, want.Mean, 5e-5)
	r.near(t, "mean range", got.Ranges.Centre, want.MRbar, 5e-5)
	r.near(t, "upper limit", got.Readings.Upper, want.UCL, 5e-5)
	r.near(t, "lower limit", got.Readings.Lower, want.LCL, 5e-5)
	r.near(t, "sigma", got.Sigma, (want.UCL-want.Mean)/3, 5e-5)
}

func TestPublishedMovingRanges(t *testing.T) {
	var in struct{ X []float64 }
	var want struct {
		MR  []float64
		UCL float64 `json:"UCL_MR_D4_3.267"`
	}
	r := example(t, "spc-02", &in, &want)
	got := must[Individuals](t)(SingleReadings(in.X))
	if len(got.Moving) != len(want.MR) {
		t.Fatalf("%d moving ranges, want %d", len(got.Moving), len(want.MR))
	}
	for i := range want.MR {
		r.near(t, fmt.Sprintf("range %d", i+1), got.Moving[i], want.MR[i], 5e-5)
	}
	r.near(t, "upper limit of ranges", got.Ranges.Upper, want.UCL, 5e-5)
	r.near(t, "lower limit of ranges", got.Ranges.Lower, 0, 0)
}

func TestPublishedWeightedAverages(t *testing.T) {
	var in struct {
		X             []float64
		Lambda, EWMA0 float64
	}
	var want struct{ EWMA []float64 }
	r := example(t, "spc-03", &in, &want)
	averages := must[[]float64](t)(WeightedAverages(in.X, in.Lambda, in.EWMA0))
	if len(averages) != len(want.EWMA) {
		t.Fatalf("%d averages, want %d", len(averages), len(want.EWMA))
	}
	for i := range want.EWMA {
		r.near(t, fmt.Sprintf("average %d", i+1), averages[i], want.EWMA[i], 0.005)
	}

	var limits struct{ Target, S, Lambda, K float64 }
	var band struct {
		UCL, LCL float64
		Signals  int
	}
	r = example(t, "spc-04", &limits, &band)
	got := must[Band](t)(SettledLimits(limits.Target, limits.S, limits.Lambda, limits.K))
	r.near(t, "upper limit", got.Upper, band.UCL, 2e-4)
	r.near(t, "lower limit", got.Lower, band.LCL, 2e-4)
	signals := 0
	for _, a := range averages {
		if got.Outside(a) != 0 {
			signals++
		}
	}
	if signals != band.Signals {
		t.Errorf("spc-04: %d averages outside, want %d", signals, band.Signals)
	}
}

func TestPublishedFactors(t *testing.T) {
	var in struct{ N []int }
	var want map[string][]float64
	r := example(t, "spc-06", &in, &want)
	i := slices.Index(in.N, 2)
	r.near(t, "d2", rangeOfTwo, want["d2"][i], 0.001)
	r.near(t, "D4", limitOfTwo, want["D4"][i], 0.001)
}

func TestPublishedRules(t *testing.T) {
	var want struct{ Count int }
	r := example(t, "spc-09", nil, &want)
	r.near(t, "number of rules", float64(len(RunRules())), float64(want.Count), 0)
}

// zoneRules are four classic rules that a shop may use instead of RunRules. Source:
// Statistical Quality Control Handbook, 1956, as quoted by secondary sources.
var zoneRules = []Rule{{OneSide, 1, 1, 3}, {OneSide, 2, 3, 2}, {OneSide, 4, 5, 1}, {OneSide, 8, 8, 0}}

func TestPublishedSequences(t *testing.T) {
	var in map[string][]float64
	var want map[string]*int
	example(t, "spc-10", &in, &want)
	zone, rules := zoneRules, RunRules()
	for name, c := range map[string]struct {
		series string
		rule   Rule
	}{
		"a_zone_run8":      {"a", zone[3]},
		"a_nelson_run9":    {"a", rules[1]},
		"b_2of3":           {"b", zone[1]},
		"c_4of5":           {"c", zone[2]},
		"d_trend6":         {"d", rules[2]},
		"e_beyond3":        {"e", zone[0]},
		"f_2of3_same_side": {"f", zone[1]},
	} {
		found := must[[]Signal](t)(Signals(in[c.series], 0, 1, []Rule{c.rule}))
		switch expected := want[name]; {
		case expected == nil && len(found) > 0:
			t.Errorf("%s: fires at %d, want never", name, found[0].At+1)
		case expected != nil && len(found) == 0:
			t.Errorf("%s: never fires, want at %d", name, *expected)
		case expected != nil && found[0].At+1 != *expected:
			t.Errorf("%s: first fires at %d, want %d", name, found[0].At+1, *expected)
		}
	}
}
