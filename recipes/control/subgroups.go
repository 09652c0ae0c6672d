package control

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// Groups is the summary of groups of equally many readings.
type Groups struct {
	Size      int     // readings in each group
	Mean      float64 // mean of the groups' means
	Range     float64 // mean of the groups' ranges
	Deviation float64 // mean of the groups' standard deviations (n - 1 form)
}

// Summarise works out the summary of groups of 2 to 10 finite readings, all
// groups of one size.
func Summarise(groups [][]float64) (Groups, error) {
	if len(groups) == 0 {
		return Groups{}, fmt.Errorf("%w: no group", ErrTooFew)
	}
	size := len(groups[0])
	if _, err := FactorsFor(size); err != nil {
		return Groups{}, err
	}
	var means, ranges, deviations []float64
	for i, g := range groups {
		if len(g) != size {
			return Groups{}, fmt.Errorf("%w: group %d has %d readings, the first has %d", ErrSetting, i+1, len(g), size)
		}
		if err := readings(g, size); err != nil {
			return Groups{}, fmt.Errorf("group %d: %w", i+1, err)
		}
		mean, deviation := stat.MeanStdDev(g, nil)
		means = append(means, mean)
		deviations = append(deviations, deviation)
		ranges = append(ranges, floats.Max(g)-floats.Min(g))
	}
	return Groups{size, stat.Mean(means, nil), stat.Mean(ranges, nil), stat.Mean(deviations, nil)}, nil
}

// FromRanges returns the limits for the groups' means (mean ± A2 · mean range)
// and for their ranges (D3 and D4 times the mean range). The size is 2 to 10,
// the mean range is not negative. Source: NIST/SEMATECH e-Handbook of
// Statistical Methods, section 6.3.2.1; factors as in FactorsFor.
func (g Groups) FromRanges() (means, ranges Band, err error) {
	f, err := g.factors(g.Range)
	if err != nil {
		return Band{}, Band{}, err
	}
	return around(g.Mean, f.A2*g.Range), Band{f.D3 * g.Range, g.Range, f.D4 * g.Range}, nil
}

// FromDeviations returns the limits for the groups' means (mean ± A3 · mean
// standard deviation) and for their standard deviations (B3 and B4 times their
// mean). Bounds and source as in FromRanges.
func (g Groups) FromDeviations() (means, deviations Band, err error) {
	f, err := g.factors(g.Deviation)
	if err != nil {
		return Band{}, Band{}, err
	}
	return around(g.Mean, f.A3*g.Deviation), Band{f.B3 * g.Deviation, g.Deviation, f.B4 * g.Deviation}, nil
}

func (g Groups) factors(spread float64) (Factors, error) {
	if err := settings(g.Mean, spread); err != nil {
		return Factors{}, err
	}
	if math.Signbit(spread) && spread != 0 {
		return Factors{}, fmt.Errorf("%w: spread below 0", ErrSetting)
	}
	return FactorsFor(g.Size)
}
