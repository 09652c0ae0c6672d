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

func TestPublishedCumulativeSums(t *testing.T) {
	var in struct {
		X            []float64
		Target, K, H float64
	}
	var want struct {
		First  int     `json:"first_signal"`
		High14 float64 `json:"S_hi_14"`
		High20 float64 `json:"S_hi_20"`
		Low8   float64 `json:"S_lo_8"`
	}
	r := example(t, "spc-05", &in, &want)
	got := must[Sums](t)(CumulativeSums(in.X, in.Target, in.K, in.H))
	r.near(t, "high 14", got.High[13], want.High14, 1e-9)
	r.near(t, "high 20", got.High[19], want.High20, 1e-9)
	r.near(t, "low 8", got.Low[7], want.Low8, 1e-9)
	if all := []int{13, 14, 15, 16, 17, 18, 19}; !slices.Equal(got.Signals, all) || want.First != all[0]+1 {
		t.Errorf("signals after %v (from 0), want %v", got.Signals, all)
	}
}

func TestPublishedFactors(t *testing.T) {
	var in struct{ N []int }
	var want map[string][]float64
	r := example(t, "spc-06", &in, &want)
	for i, n := range in.N {
		f := must[Factors](t)(FactorsFor(n))
		for name, got := range map[string]float64{"d2": f.D2, "c4": f.C4, "A2": f.A2, "D3": f.D3, "D4": f.D4, "B3": f.B3, "B4": f.B4} {
			r.near(t, fmt.Sprintf("%s at %d", name, n), got, want[name][i], 0.001)
		}
	}
}

func TestPublishedGroups(t *testing.T) {
	var in struct{ Size int }
	var want struct {
		Mean      float64 `json:"grand_mean"`
		Range     float64 `json:"Rbar"`
		Deviation float64 `json:"sbar"`

		XbarR_UCL, XbarR_LCL, R_UCL, XbarS_UCL, XbarS_LCL, S_UCL float64
	}
	r := example(t, "spc-07", &in, &want)
	g := Groups{Size: in.Size, Mean: want.Mean, Range: want.Range, Deviation: want.Deviation}
	means, ranges, err := g.FromRanges()
	if err != nil {
		t.Fatal(err)
	}
	r.near(t, "means, upper limit from ranges", means.Upper, want.XbarR_UCL, 1e-4)
	r.near(t, "means, lower limit from ranges", means.Lower, want.XbarR_LCL, 1e-4)
	r.near(t, "ranges, upper limit", ranges.Upper, want.R_UCL, 1e-4)
	means, deviations, err := g.FromDeviations()
	if err != nil {
		t.Fatal(err)
	}
	r.near(t, "means, upper limit from deviations", means.Upper, want.XbarS_UCL, 1e-4)
	r.near(t, "means, lower limit from deviations", means.Lower, want.XbarS_LCL, 1e-4)
	r.near(t, "deviations, upper limit", deviations.Upper, want.S_UCL, 1e-4)
}

func TestPublishedRules(t *testing.T) {
	var want struct{ Count int }
	r := example(t, "spc-08", nil, &want)
	r.near(t, "number of zone tests", float64(len(ZoneTests())), float64(want.Count), 0)
	r = example(t, "spc-09", nil, &want)
	r.near(t, "number of Nelson tests", float64(len(NelsonTests())), float64(want.Count), 0)
}

func TestPublishedSequences(t *testing.T) {
	var in map[string][]float64
	var want map[string]*int
	example(t, "spc-10", &in, &want)
	zone, nelson := ZoneTests(), NelsonTests()
	for name, c := range map[string]struct {
		series string
		rule   Rule
	}{
		"a_zone_run8":      {"a", zone[3]},
		"a_nelson_run9":    {"a", nelson[1]},
		"b_2of3":           {"b", zone[1]},
		"c_4of5":           {"c", zone[2]},
		"d_trend6":         {"d", nelson[2]},
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
