package control

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// rangeMoments integrates the mean and the standard deviation of the range of n
// standard normal readings. The distribution of the range is
// F(w) = n ∫ φ(x) (Φ(x+w) - Φ(x))^(n-1) dx; its mean is ∫ (1 - F), its mean
// square 2 ∫ w (1 - F). Source: definition; distuv and quad of gonum serve as
// the reference library.
func rangeMoments(n int) (mean, deviation float64) {
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

// TestFactorsFromTheNormalDistribution holds the printed table to factors
// computed from their definitions, to one unit of the last printed digit.
func TestFactorsFromTheNormalDistribution(t *testing.T) {
	for n := 2; n <= 10; n++ {
		f, err := FactorsFor(n)
		if err != nil {
			t.Fatal(err)
		}
		size := float64(n)
		d2, d3 := rangeMoments(n)
		c4 := math.Sqrt(2/(size-1)) * math.Gamma(size/2) / math.Gamma((size-1)/2)
		spread := 3 * math.Sqrt(1-c4*c4) / c4
		for _, c := range []struct {
			name               string
			table, exact, unit float64
		}{
			{"d2", f.D2, d2, 0.001},
			{"c4", f.C4, c4, 0.0001},
			{"A2", f.A2, 3 / (d2 * math.Sqrt(size)), 0.001},
			{"A3", f.A3, 3 / (c4 * math.Sqrt(size)), 0.001},
			{"D3", f.D3, max(0, 1-3*d3/d2), 0.001},
			{"D4", f.D4, 1 + 3*d3/d2, 0.001},
			{"B3", f.B3, max(0, 1-spread), 0.001},
			{"B4", f.B4, 1 + spread, 0.001},
		} {
			if math.Abs(c.table-c.exact) > c.unit {
				t.Errorf("n %d: %s is printed %g, computed %.5f", n, c.name, c.table, c.exact)
			}
		}
	}
}

func TestFactorsOutsideTheTable(t *testing.T) {
	for _, n := range []int{-1, 0, 1, 11} {
		if _, err := FactorsFor(n); err == nil {
			t.Errorf("groups of %d: no error", n)
		}
	}
}
