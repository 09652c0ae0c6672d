package control

import (
	"errors"
	"fmt"
	"math"
)

var (
	// ErrTooFew says that there are fewer readings than the formula needs.
	ErrTooFew = errors.New("too few readings")
	// ErrNotFinite says that a reading or a setting is not a finite number.
	ErrNotFinite = errors.New("not a finite number")
	// ErrSetting says that a setting (weight, sigma, width, size) is outside
	// the bounds that its function states.
	ErrSetting = errors.New("setting out of bounds")
)

// Band is a centre line with its two limits.
type Band struct {
	Lower, Centre, Upper float64
}

// Outside returns -1 for a value below the lower limit, 1 for one above the
// upper limit, and 0 for one within. A value on a limit is within, and so is
// one that differs from it only by a rounding error.
func (b Band) Outside(v float64) int {
	switch {
	case above(v, b.Upper):
		return 1
	case above(b.Lower, v):
		return -1
	}
	return 0
}

// around makes a band that extends half to either side.
func around(centre, half float64) Band {
	return Band{Lower: centre - half, Centre: centre, Upper: centre + half}
}

// above says whether a is more than b and not equal to it, where equal means
// within 1e-9 of the larger or within 1e-12: 1.09 - 1.03 is not above 0.06.
func above(a, b float64) bool {
	return a > b && a-b > max(1e-12, 1e-9*max(math.Abs(a), math.Abs(b)))
}

// checkReadings checks that there are at least least readings, all finite.
func checkReadings(x []float64, least int) error {
	if len(x) < least {
		return fmt.Errorf("%w: %d, at least %d are needed", ErrTooFew, len(x), least)
	}
	for i, v := range x {
		if !finite(v) {
			return fmt.Errorf("%w: reading %d", ErrNotFinite, i+1)
		}
	}
	return nil
}

// checkSettings checks that all numbers are finite.
func checkSettings(v ...float64) error {
	for _, f := range v {
		if !finite(f) {
			return fmt.Errorf("%w: setting", ErrNotFinite)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
