package control

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
)

var judges = map[string]func([]float64, int) (*Judged, error){"individuals": JudgeIndividuals, "averages": JudgeAverages}

// steadySeries is a series that goes up and down a little, by chance alone.
func steadySeries(seed uint64, n int) []float64 {
	r := rand.New(rand.NewPCG(seed, 1))
	x := make([]float64, n)
	for i := range x {
		x[i] = 0.8 + 0.01*r.NormFloat64()
	}
	return x
}

// Limits are those of the first readings: later readings do not move them, and are judged by
// them. A slow drift would have widened limits worked out from all readings.
func TestLimitsStay(t *testing.T) {
	for name, judge := range judges {
		x := steadySeries(3, LeastBaseline)
		first, err := judge(x, LeastBaseline)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 30 {
			x = append(x, 0.8+0.004*float64(i))
		}
		later, err := judge(x, LeastBaseline)
		if err != nil || !slices.Equal(first.Lines, later.Lines) {
			t.Errorf("%s: lines %v, later %v, %v", name, first.Lines, later.Lines, err)
		}
		if len(later.Why) != len(x) || later.Why[len(x)-1] == "" {
			t.Errorf("%s: a drift of 12 sigma is within limits", name)
		}
		if !slices.Equal(first.Why, later.Why[:LeastBaseline]) {
			t.Errorf("%s: the baseline is judged differently later", name)
		}
		if _, err := judge(x[:LeastBaseline-1], LeastBaseline); !errors.Is(err, ErrTooFew) {
			t.Errorf("%s: too short a baseline gives %v", name, err)
		}
		if longer, err := judge(x, 40); err != nil || slices.Equal(longer.Lines, later.Lines) {
			t.Errorf("%s: a longer baseline changes nothing, %v", name, err)
		}
	}
}

// A jump is reported where it happens, even after a baseline without any spread.
func TestJudgedReasons(t *testing.T) {
	x := append(steadySeries(5, LeastBaseline), 0.95)
	j, err := JudgeIndividuals(x, LeastBaseline)
	if err != nil || j.Why[20] != "beyond 3 sigma" || !slices.Contains(j.Looks, Look{20, "jump from the reading before it, beyond the limit"}) {
		t.Errorf("%q, %v, %v", j.Why, j.Looks, err)
	}
	flat := append(slices.Repeat([]float64{0.8}, LeastBaseline), 0.8, 0.81)
	for name, judge := range judges {
		j, err := judge(flat, LeastBaseline)
		if err != nil || j.Why[20] != "" || j.Why[21] == "" {
			t.Errorf("%s: %q, %v", name, j.Why, err)
		}
	}
}

// How often a steady process sets off an alarm within a month of readings after its baseline;
// -v prints it. If every run rule were an alarm, half of the months would have one.
func TestAlarmsOfASteadyProcess(t *testing.T) {
	const months, month = 2000, 21
	for name, most := range map[string]float64{"individuals": 0.20, "averages": 0.20} {
		alarms := 0
		for m := range months {
			j, err := judges[name](steadySeries(uint64(m), LeastBaseline+month), LeastBaseline)
			if err != nil {
				t.Fatal(err)
			}
			if slices.ContainsFunc(j.Why[LeastBaseline:], func(w string) bool { return w != "" }) {
				alarms++
			}
		}
		share := float64(alarms) / months
		t.Logf("%s: %.1f %% of months", name, 100*share)
		if share > most {
			t.Errorf("%s: alarms in %.1f %% of steady months", name, 100*share)
		}
	}
}
