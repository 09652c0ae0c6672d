package control

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func TestRulesOneByOne(t *testing.T) {
	zone, rules := zoneRules, RunRules()
	// repeat joins copies of a run of readings.
	repeat := func(n int, v ...float64) (x []float64) {
		for range n {
			x = append(x, v...)
		}
		return x
	}
	for _, c := range []struct {
		name string
		z    []float64
		rule Rule
		at   []int // from 0
		from []int
	}{
		{"exactly 3 sigma is not beyond", []float64{3, -3}, zone[0], nil, nil},
		{"both sides beyond 3 sigma", []float64{3.1, 0, -3.1}, zone[0], []int{0, 2}, []int{0, 2}},
		{"two at once are two of three", []float64{2.1, 2.1, 0}, zone[1], []int{1}, []int{0}},
		{"two of four are too few", []float64{-2.1, 0, 0, -2.1}, zone[1], nil, nil},
		{"four of five below", []float64{-1.1, -1.1, 0, -1.1, -1.1}, zone[2], []int{4}, []int{0}},
		{"four of six are too few", []float64{1.1, 1.1, 0, 0, 1.1, 1.1}, zone[2], nil, nil},
		{"a reading on the centre ends a run", []float64{1, 1, 1, 1, 0, 1, 1, 1, 1}, zone[3], nil, nil},
		{"eight below", repeat(8, -0.1), zone[3], []int{7}, []int{0}},
		{"eight are too few for the ninth", repeat(8, -0.1), rules[1], nil, nil},
		{"equal neighbours are no trend", []float64{1, 2, 3, 3, 4, 5, 6}, rules[2], nil, nil},
		{"six falling", []float64{9, 3, 2, 1, 0, -1}, rules[2], []int{5}, []int{0}},
		{"thirteen in turn are too few", append(repeat(6, 1, -1), 1), rules[3], nil, nil},
		{"fourteen in turn", repeat(7, -1, 1), rules[3], []int{13}, []int{0}},
		{"fifteen close to the centre", repeat(5, 0.9, -0.9, 0), rules[6], []int{14}, []int{0}},
		{"exactly 1 sigma is not within", repeat(5, 1, -0.9, 0), rules[6], nil, nil},
		{"eight away from the centre", repeat(4, 1.1, -1.1), rules[7], []int{7}, []int{0}},
		{"eight away on one side belong to another test", repeat(8, 1.1), rules[7], nil, nil},
		{"exactly 1 sigma is not beyond", append(repeat(3, 1.1, -1.1), 1, -1.1), rules[7], nil, nil},
	} {
		found, err := Signals(c.z, 0, 1, []Rule{c.rule})
		if err != nil {
			t.Fatal(err)
		}
		var at, from []int
		for _, s := range found {
			at, from = append(at, s.At), append(from, s.From)
		}
		if !slices.Equal(at, c.at) || !slices.Equal(from, c.from) {
			t.Errorf("%s: %v fires at %v from %v, want %v from %v", c.name, c.rule, at, from, c.at, c.from)
		}
	}
}

// series draws readings on a grid, so that exact ties happen.
func series(least int) *rapid.Generator[[]float64] {
	return rapid.SliceOfN(rapid.Map(rapid.IntRange(-40, 40), func(i int) float64 { return float64(i) / 10 }), least, 60)
}

// A pattern is the same upside down and in another unit.
func TestSignalsFollowMirrorAndUnit(t *testing.T) {
	rules := slices.Concat(zoneRules, RunRules())
	rapid.Check(t, func(t *rapid.T) {
		x := series(0).Draw(t, "x")
		centre := rapid.Float64Range(-100, 100).Draw(t, "centre")
		sigma := rapid.Float64Range(0.01, 50).Draw(t, "sigma")
		want, err := Signals(x, 0, 1, rules)
		if err != nil {
			t.Fatal(err)
		}
		mirrored, moved := make([]float64, len(x)), make([]float64, len(x))
		for i, v := range x {
			mirrored[i], moved[i] = -v, centre+sigma*v
		}
		if got, err := Signals(mirrored, 0, 1, rules); err != nil || !slices.Equal(got, want) {
			t.Fatalf("mirrored: %v, %v, want %v", got, err, want)
		}
		if got, err := Signals(moved, centre, sigma, rules); err != nil || !slices.Equal(got, want) {
			t.Fatalf("moved: %v, %v, want %v", got, err, want)
		}
		for _, s := range want {
			if s.From < 0 || s.From > s.At || s.At >= len(x) || s.At-s.From >= s.Rule.Of {
				t.Fatalf("%v does not fit %d readings", s, len(x))
			}
		}
	})
}

// Chance alone sets off "beyond 3 sigma" at 0.27 % of normal readings. Source:
// the normal distribution.
func TestFalseAlarmsAreAsRareAsTheNormalDistributionSays(t *testing.T) {
	const n = 200000
	x := make([]float64, n)
	for i := range x { // an even sweep through the distribution, so that no chance is left
		x[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / n)
	}
	found, err := Signals(x, 0, 1, zoneRules[:1])
	if err != nil {
		t.Fatal(err)
	}
	if share, want := float64(len(found))/n, 2*distuv.UnitNormal.Survival(3); math.Abs(share-want) > 1e-5 {
		t.Errorf("%g of readings fire, want %g", share, want)
	}
}

func TestAverageLimitsWidenToTheSettledOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight := rapid.Float64Range(0.01, 1).Draw(t, "weight")
		settled, err := SettledLimits(50, 2, weight, 3)
		if err != nil {
			t.Fatal(err)
		}
		last := 50.0
		for n := 1; n <= 50; n++ {
			b, err := AverageLimits(50, 2, weight, 3, n)
			if err != nil {
				t.Fatal(err)
			}
			if b.Upper < last || above(b.Upper, settled.Upper) || math.Abs(b.Upper+b.Lower-100) > 1e-9 {
				t.Fatalf("after %d: %v, before %g, settled %v", n, b, last, settled)
			}
			last = b.Upper
		}
		// Variance of the average after n readings, summed term by term.
		n := rapid.IntRange(1, 40).Draw(t, "n")
		variance := 0.0
		for i := range n {
			variance += math.Pow(weight*math.Pow(1-weight, float64(i))*2, 2)
		}
		b, err := AverageLimits(50, 2, weight, 3, n)
		if want := 50 + 3*math.Sqrt(variance); err != nil || math.Abs(b.Upper-want) > 1e-9 {
			t.Fatalf("after %d: upper limit %g (%v), summed %g", n, b.Upper, err, want)
		}
	})
}

// With the full weight on the newest reading the average is the reading.
func TestFullWeight(t *testing.T) {
	x := []float64{1, 5, 2}
	got, err := WeightedAverages(x, 1, 99)
	if err != nil || !slices.Equal(got, x) {
		t.Errorf("got %v, %v", got, err)
	}
	b, err := AverageLimits(10, 2, 1, 3, 1)
	if err != nil || b != (Band{4, 10, 16}) {
		t.Errorf("limits %v, %v, want those of single readings", b, err)
	}
}

func TestJudge(t *testing.T) {
	// Aim 1.02 + 0.01, reading 1.09: deviation +0.06. Source: US Navy
	// photography training manual, control strips. The limits here are invented.
	for _, c := range []struct {
		action, control float64
		want            Verdict
	}{
		{0.06, 0.10, Fine}, // on the limit, where plain subtraction leaves 0.06000000000000005
		{0.05, 0.06, Check},
		{0.05, 0.055, Stop},
	} {
		for _, side := range []float64{1, -1} {
			aim := Aim{Value: 1.02 + 0.01, Action: c.action, Control: c.control}
			d, v, err := aim.Judge(aim.Value + side*0.06)
			if err != nil || v != c.want || math.Abs(d-side*0.06) > 1e-12 {
				t.Errorf("%+v: off by %g, verdict %d, %v, want %d", aim, d, v, err, c.want)
			}
		}
	}
	if _, _, err := (Aim{Value: 1, Action: 0.1, Control: 0.05}).Judge(1); !errors.Is(err, ErrSetting) {
		t.Errorf("control limit inside the action limit: %v", err)
	}
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	single := func(x ...float64) error { _, err := SingleReadings(x); return err }
	averages := func(w, start float64, x ...float64) error { _, err := WeightedAverages(x, w, start); return err }
	limits := func(target, sigma, w, width float64, n int) error {
		_, err := AverageLimits(target, sigma, w, width, n)
		return err
	}
	signals := func(sigma float64, x ...float64) error { _, err := Signals(x, 0, sigma, zoneRules); return err }
	for name, c := range map[string]struct{ got, want error }{
		"no reading":          {single(), ErrTooFew},
		"one reading":         {single(1), ErrTooFew},
		"not a number":        {single(1, nan, 2), ErrNotFinite},
		"endless reading":     {averages(0.3, 0, inf), ErrNotFinite},
		"endless start":       {averages(0.3, inf, 1), ErrNotFinite},
		"weight 0":            {averages(0, 0, 1), ErrSetting},
		"weight above 1":      {averages(1.1, 0, 1), ErrSetting},
		"weight not a number": {averages(nan, 0, 1), ErrNotFinite},
		"sigma below 0":       {limits(0, -1, 0.3, 3, 1), ErrSetting},
		"width 0":             {limits(0, 1, 0.3, 0, 1), ErrSetting},
		"no reading yet":      {limits(0, 1, 0.3, 3, 0), ErrSetting},
		"sigma 0":             {signals(0, 1), ErrSetting},
		"rules on no number":  {signals(1, nan), ErrNotFinite},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: %v, want %v", name, c.got, c.want)
		}
	}
}

func TestRuleWords(t *testing.T) {
	for want, r := range map[string]Rule{
		"beyond 3 sigma": {OneSide, 1, 1, 3},
		"8 in a row on one side of the centre line":        {OneSide, 8, 8, 0},
		"2 of 3 in a row beyond 2 sigma on one side":       {OneSide, 2, 3, 2},
		"6 in a row rising or falling":                     {Steady, 6, 6, 0},
		"14 in a row going up and down in turn":            {Alternating, 14, 14, 0},
		"15 in a row within 1 sigma":                       {Within, 15, 15, 1},
		"8 in a row with none within 1 sigma":              {NoneWithin, 8, 8, 1},
		"10 of 11 in a row on one side of the centre line": {OneSide, 10, 11, 0},
	} {
		if got := r.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
