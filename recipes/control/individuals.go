package control

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Individuals is the result for single readings in order of time.
type Individuals struct {
	Readings Band      // mean of the readings and its limits
	Ranges   Band      // mean of the moving ranges and its limits; the lower one is 0
	Moving   []float64 // the moving ranges, one fewer than the readings
	Sigma    float64   // mean moving range over d2: the spread from one reading to the next
}

// Of ranges of two readings: the mean over sigma (d2), and the upper limit over the mean
// (D4). These are the values that textbooks print, not the exact ones: worked examples in
// print use them, and limits from the exact 1.128379 differ in the third decimal. Source:
// from memory; a test computes both from the normal distribution.
const (
	rangeOfTwo = 1.128
	limitOfTwo = 3.267
)

// SingleReadings works out the limits for single readings and for their moving
// ranges, from at least 2 finite readings in order of time.
//
// Limits of readings: mean ± 3 · (mean moving range) / d2, with d2 = 1.128 for
// ranges of two. Limits of ranges: 0 and D4 · (mean moving range), with
// D4 = 3.267. Source: NIST/SEMATECH e-Handbook of Statistical Methods, section
// 6.3.2.2.
func SingleReadings(x []float64) (Individuals, error) {
	if err := checkReadings(x, 2); err != nil {
		return Individuals{}, err
	}
	moving := MovingRanges(x)
	spread := stat.Mean(moving, nil)
	sigma := spread / rangeOfTwo
	return Individuals{
		Readings: around(stat.Mean(x, nil), 3*sigma),
		Ranges:   Band{Lower: 0, Centre: spread, Upper: limitOfTwo * spread},
		Moving:   moving,
		Sigma:    sigma,
	}, nil
}

// MovingRanges returns the distance of each reading from the one before it, in
// the unit of the readings: one value fewer than there are readings.
func MovingRanges(x []float64) []float64 {
	if len(x) < 2 {
		return nil
	}
	moving := make([]float64, len(x)-1)
	for i := range moving {
		moving[i] = math.Abs(x[i+1] - x[i])
	}
	return moving
}
