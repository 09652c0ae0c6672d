package control

import "fmt"

// Factors are the factors for control-chart limits for groups of one size.
type Factors struct {
	Size   int     // readings in a group
	D2     float64 // mean range over sigma (d2)
	C4     float64 // mean standard deviation over sigma (c4)
	A2, A3 float64 // limits of means from the mean range, from the mean standard deviation
	D3, D4 float64 // lower and upper limit of ranges over the mean range
	B3, B4 float64 // lower and upper limit of standard deviations over their mean
}

// published is the table as textbooks print it, not the exact values: worked
// examples in print use d2 = 1.128 and the like, and limits computed from the
// exact 1.128379 differ from them in the third decimal. The test recomputes
// every factor from the normal distribution and holds the table to it.
//
// Source: from memory, recomputed by the test. The last digit of D4 at 5 is
// printed either way, since the value is 2.1145.
var published = [...]Factors{
	{2, 1.128, 0.7979, 1.880, 2.659, 0, 3.267, 0, 3.267},
	{3, 1.693, 0.8862, 1.023, 1.954, 0, 2.574, 0, 2.568},
	{4, 2.059, 0.9213, 0.729, 1.628, 0, 2.282, 0, 2.266},
	{5, 2.326, 0.9400, 0.577, 1.427, 0, 2.114, 0, 2.089},
	{6, 2.534, 0.9515, 0.483, 1.287, 0, 2.004, 0.030, 1.970},
	{7, 2.704, 0.9594, 0.419, 1.182, 0.076, 1.924, 0.118, 1.882},
	{8, 2.847, 0.9650, 0.373, 1.099, 0.136, 1.864, 0.185, 1.815},
	{9, 2.970, 0.9693, 0.337, 1.032, 0.184, 1.816, 0.239, 1.761},
	{10, 3.078, 0.9727, 0.308, 0.975, 0.223, 1.777, 0.284, 1.716},
}

// FactorsFor returns the published factors for groups of 2 to 10 readings, and
// ErrSetting for any other size.
func FactorsFor(size int) (Factors, error) {
	if size < published[0].Size || size > published[len(published)-1].Size {
		return Factors{}, fmt.Errorf("%w: groups of %d, not 2 to 10", ErrSetting, size)
	}
	return published[size-published[0].Size], nil
}
