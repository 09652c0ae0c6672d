package control

import (
	"cmp"
	"slices"
)

// LeastBaseline is the least number of readings that limits are worked out from. With fewer, the
// limits move so much by chance that a process in order sets off alarms (common practice, no
// source: twenty to twenty-five readings).
const LeastBaseline = 20

// Weight and width of the weighted averages of a chart: from memory, the customary 0.2 and 3
// sigma of the literature on process control.
const (
	averageWeight = 0.2
	averageWidth  = 3
)

// Weight is how serious it is to cross a line of a chart.
type Weight int

const (
	Centre Weight = iota // a mean or an aim
	Action               // look for the cause
	Limit                // stop, or out of control
)

// Line lies straight across a chart at Value, in the unit of the readings.
type Line struct {
	Name   string
	Value  float64
	Weight Weight
}

// Judged is what limits say of readings in order of time.
type Judged struct {
	Lines []Line
	// Averages are the weighted averages that were judged; nil if the readings themselves were.
	Averages []float64
	// Why says for each reading why it is out of limits, "" for one within.
	Why []string
	// Looks are patterns that are worth a look but are no alarm: chance alone brings one about
	// in four of ten months of a steady process, and a reading beyond a limit in one of six.
	Looks []Look
}

// Look is a pattern that ends at a reading, in words.
type Look struct {
	At  int // from 0
	Why string
}

// JudgeIndividuals judges single readings in order of time by limits worked out from the first of
// them, baseline in number, which stay as they are from then on. The other tests for runs, and how
// far a reading jumps from the one before it, give looks. Where there are fewer readings than the
// baseline has, the error is ErrTooFew.
func JudgeIndividuals(x []float64, baseline int) (*Judged, error) {
	j, single, err := freeze(x, baseline)
	if err != nil {
		return nil, err
	}
	j.Lines = append(j.Lines, Line{"Limit", single.Readings.Upper, Limit}, Line{"Limit", single.Readings.Lower, Limit})
	if single.Sigma <= 0 {
		j.judgeFlat(x, single.Readings)
		return j, nil
	}
	rules := RunRules()
	beyond, err := Signals(x, single.Readings.Centre, single.Sigma, rules[:1])
	if err != nil {
		return nil, err
	}
	for _, s := range beyond {
		j.Why[s.At] = s.Rule.String()
	}
	runs, err := Signals(x, single.Readings.Centre, single.Sigma, rules[1:])
	if err != nil {
		return nil, err
	}
	for _, s := range runs {
		j.Looks = append(j.Looks, Look{s.At, s.Rule.String()})
	}
	for k, r := range MovingRanges(x) {
		if single.Ranges.Outside(r) != 0 {
			j.Looks = append(j.Looks, Look{k + 1, "jump from the reading before it, beyond the limit"})
		}
	}
	slices.SortStableFunc(j.Looks, func(a, b Look) int { return cmp.Compare(a.At, b.At) })
	return j, nil
}

// JudgeAverages judges the weighted averages of readings as JudgeIndividuals judges the readings.
func JudgeAverages(x []float64, baseline int) (*Judged, error) {
	j, single, err := freeze(x, baseline)
	if err != nil {
		return nil, err
	}
	centre := single.Readings.Centre
	if j.Averages, err = WeightedAverages(x, averageWeight, centre); err != nil {
		return nil, err
	}
	for k, v := range j.Averages {
		band, err := AverageLimits(centre, single.Sigma, averageWeight, averageWidth, k+1)
		if err != nil {
			return nil, err
		}
		if band.Outside(v) != 0 {
			j.Why[k] = "weighted average beyond its limit"
		}
	}
	settled, err := SettledLimits(centre, single.Sigma, averageWeight, averageWidth)
	if err != nil {
		return nil, err
	}
	j.Lines = append(j.Lines, Line{"Limit", settled.Upper, Limit}, Line{"Limit", settled.Lower, Limit})
	return j, nil
}

// freeze works out limits from the first readings alone.
func freeze(x []float64, baseline int) (*Judged, Individuals, error) {
	if err := checkReadings(x, baseline); err != nil {
		return nil, Individuals{}, err
	}
	single, err := SingleReadings(x[:baseline])
	if err != nil {
		return nil, single, err
	}
	return &Judged{Why: make([]string, len(x)), Lines: []Line{{"Mean", single.Readings.Centre, Centre}}}, single, nil
}

// judgeFlat flags readings off a baseline in which all readings are equal, so that there is no
// sigma to judge runs by.
func (j *Judged) judgeFlat(x []float64, b Band) {
	for k, v := range x {
		if b.Outside(v) != 0 {
			j.Why[k] = "unlike every reading of the baseline"
		}
	}
}
