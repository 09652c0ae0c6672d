package control

import (
	"fmt"
	"math"
)

// WeightedAverages returns the exponentially weighted moving average after each
// reading: weight · reading + (1 - weight) · the average before it, which is
// start before the first reading. The weight is above 0 and at most 1.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4.
func WeightedAverages(x []float64, weight, start float64) ([]float64, error) {
	if err := checkReadings(x, 0); err != nil {
		return nil, err
	}
	if err := checkWeight(weight, start); err != nil {
		return nil, err
	}
	averages := make([]float64, len(x))
	last := start
	for i, v := range x {
		last = weight*v + (1-weight)*last
		averages[i] = last
	}
	return averages, nil
}

// AverageLimits returns the limits for the weighted average after n readings,
// n from 1:
//
//	target ± width · sigma · sqrt( weight / (2 - weight) · (1 - (1 - weight)^2n) )
//
// They are narrow at first, because the average then still leans on its start,
// and widen to those of SettledLimits. The sigma is that of single readings and
// not negative, the width (usually 3) is above 0, the weight above 0 and at
// most 1.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4, for
// the limits after many readings; the factor for early readings follows from
// the same variance, a geometric sum that stops after n terms.
func AverageLimits(target, sigma, weight, width float64, n int) (Band, error) {
	settled, err := SettledLimits(target, sigma, weight, width)
	if err != nil {
		return Band{}, err
	}
	if n < 1 {
		return Band{}, fmt.Errorf("%w: after %d readings", ErrSetting, n)
	}
	early := math.Sqrt(1 - math.Pow(1-weight, 2*float64(n)))
	return around(target, (settled.Upper-target)*early), nil
}

// SettledLimits returns the limits for the weighted average after many
// readings: target ± width · sigma · sqrt(weight / (2 - weight)). Bounds and
// source as in AverageLimits.
func SettledLimits(target, sigma, weight, width float64) (Band, error) {
	if err := checkWeight(weight, target, sigma, width); err != nil {
		return Band{}, err
	}
	if sigma < 0 || width <= 0 {
		return Band{}, fmt.Errorf("%w: sigma %g, width %g", ErrSetting, sigma, width)
	}
	return around(target, width*sigma*math.Sqrt(weight/(2-weight))), nil
}

func checkWeight(weight float64, others ...float64) error {
	if err := checkSettings(append(others, weight)...); err != nil {
		return err
	}
	if weight <= 0 || weight > 1 {
		return fmt.Errorf("%w: weight %g, not above 0 and at most 1", ErrSetting, weight)
	}
	return nil
}
