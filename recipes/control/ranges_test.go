package control

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// rangeOfReadings integrates the mean and the standard deviation of the range of n standard
// normal readings. The distribution of the range is F(w) = n ∫ φ(x) (Φ(x+w) - Φ(x))^(n-1) dx;
// its mean is ∫ (1 - F), its mean square 2 ∫ w (1 - F). Source: definition; distuv and quad
// of gonum serve as the reference library.
func rangeOfReadings(n int) (mean, deviation float64) {
	normal := distuv.UnitNormal
	above := func(w float64) float64 {
		inner := func(x float64) float64 {
			return normal.Prob(x) * math.Pow(normal.CDF(x+w)-normal.CDF(x), float64(n-1))
		}
		return 1 - float64(n)*quad.Fixed(inner, -9, 9, 120, nil, 0)
	}
	mean = quad.Fixed(above, 0, 12, 120, nil, 0)
	square := 2 * quad.Fixed(func(w float64) float64 { return w * above(w) }, 0, 12, 120, nil, 0)
	return mean, math.Sqrt(square - mean*mean)
}

// The printed factors are those of the normal distribution, to one unit of the last digit.
func TestFactorsFromTheNormalDistribution(t *testing.T) {
	mean, deviation := rangeOfReadings(2)
	for what, c := range map[string]struct{ printed, exact float64 }{"d2": {rangeOfTwo, mean}, "D4": {limitOfTwo, 1 + 3*deviation/mean}} {
		if math.Abs(c.printed-c.exact) > 0.001 {
			t.Errorf("%s is printed %g, computed %.5f", what, c.printed, c.exact)
		}
	}
}
