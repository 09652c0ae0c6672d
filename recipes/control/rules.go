package control

import (
	"fmt"
	"slices"
)

// Shape is what the readings of a window must look like for a rule to fire.
type Shape int

const (
	// OneSide: at least Need of the Of readings lie beyond Sigmas on one side
	// of the centre.
	OneSide Shape = iota
	// Steady: each of the Of readings is above the one before it, or each is
	// below it.
	Steady
	// Alternating: the Of readings go up and down in turn.
	Alternating
	// Within: all of the Of readings lie within Sigmas of the centre.
	Within
	// NoneWithin: all of the Of readings lie beyond Sigmas, on both sides of
	// the centre. Where all lie on one side, the tests for one side have fired
	// long before.
	NoneWithin
)

// Rule is a test for a pattern that chance alone seldom produces. It is data, so that a shop
// can have rules of its own.
type Rule struct {
	Shape    Shape
	Need, Of int     // Need of Of readings in a row; only OneSide uses Need
	Sigmas   float64 // distance from the centre; 0 is the centre line itself
}

// RunRules returns the usual tests for runs, in the order of their source: one reading
// beyond 3 sigma; 9 in a row on one side; 6 in a row steadily rising or falling; 14 in a row
// up and down in turn; 2 of 3 beyond 2 sigma on one side; 4 of 5 beyond 1 sigma on one side;
// 15 in a row within 1 sigma; 8 in a row with none within 1 sigma, on both sides. Source:
// L. S. Nelson, Journal of Quality Technology 16(4), October 1984, as quoted by secondary
// sources.
func RunRules() []Rule {
	return []Rule{
		{OneSide, 1, 1, 3},
		{OneSide, 9, 9, 0},
		{Steady, 6, 6, 0},
		{Alternating, 14, 14, 0},
		{OneSide, 2, 3, 2},
		{OneSide, 4, 5, 1},
		{Within, 15, 15, 1},
		{NoneWithin, 8, 8, 1},
	}
}

// String says what the rule finds, in words that can go next to a reading.
func (r Rule) String() string {
	switch r.Shape {
	case OneSide:
		switch {
		case r.Of == 1:
			return fmt.Sprintf("beyond %g sigma", r.Sigmas)
		case r.Sigmas == 0 && r.Need == r.Of:
			return fmt.Sprintf("%d in a row on one side of the centre line", r.Of)
		case r.Sigmas == 0:
			return fmt.Sprintf("%d of %d in a row on one side of the centre line", r.Need, r.Of)
		}
		return fmt.Sprintf("%d of %d in a row beyond %g sigma on one side", r.Need, r.Of, r.Sigmas)
	case Steady:
		return fmt.Sprintf("%d in a row rising or falling", r.Of)
	case Alternating:
		return fmt.Sprintf("%d in a row going up and down in turn", r.Of)
	case Within:
		return fmt.Sprintf("%d in a row within %g sigma", r.Of, r.Sigmas)
	case NoneWithin:
		return fmt.Sprintf("%d in a row with none within %g sigma", r.Of, r.Sigmas)
	}
	return fmt.Sprintf("unknown rule %d", int(r.Shape))
}

// Signal is a rule that fires at a reading.
type Signal struct {
	From, At int // first and last reading of the pattern, from 0
	Rule     Rule
}

// Signals returns every firing of the rules over readings in order of time, by
// reading and then in the order of the rules. The centre is the centre line; the
// sigma, above 0, is that of single readings.
//
// All comparisons are strict, rounding errors aside: a reading at exactly 3 sigma
// is not beyond it, one on the centre line is on neither side, one at exactly 1
// sigma is neither within nor beyond, equal neighbours neither rise nor fall. A
// rule fires at the reading that completes its pattern, which for "2 of 3" and
// "4 of 5" is itself one of the two or four; the others may come at once, so two
// readings can be enough for "2 of 3".
func Signals(x []float64, centre, sigma float64, rules []Rule) ([]Signal, error) {
	if err := checkReadings(x, 0); err != nil {
		return nil, err
	}
	if err := checkSettings(centre, sigma); err != nil {
		return nil, err
	}
	if sigma <= 0 {
		return nil, fmt.Errorf("%w: sigma %g, not above 0", ErrSetting, sigma)
	}
	z := make([]float64, len(x))
	for i, v := range x {
		z[i] = (v - centre) / sigma
	}
	var found []Signal
	for at := range z {
		for _, r := range rules {
			if from, ok := r.fires(z, at); ok {
				found = append(found, Signal{From: from, At: at, Rule: r})
			}
		}
	}
	return found, nil
}

// fires says whether the rule fires at reading at of the readings z, which are
// in sigmas from the centre, and where its pattern begins.
func (r Rule) fires(z []float64, at int) (from int, ok bool) {
	if r.Of < 1 {
		return 0, false
	}
	if r.Shape == OneSide {
		return r.oneSide(z, at)
	}
	from = at - r.Of + 1
	if from < 0 {
		return 0, false
	}
	window := z[from : at+1]
	switch r.Shape {
	case Steady:
		return from, steady(window)
	case Alternating:
		return from, alternating(window)
	case Within:
		return from, !slices.ContainsFunc(window, func(v float64) bool { return !further(r.Sigmas, max(v, -v)) })
	case NoneWithin:
		beyond := !slices.ContainsFunc(window, func(v float64) bool { return !further(max(v, -v), r.Sigmas) })
		return from, beyond && slices.Min(window) < 0 && slices.Max(window) > 0
	}
	return 0, false
}

func (r Rule) oneSide(z []float64, at int) (int, bool) {
	side := 1.0
	if z[at] < 0 {
		side = -1
	}
	if r.Need < 1 || !further(side*z[at], r.Sigmas) {
		return 0, false
	}
	count, from := 0, at
	for i := at; i >= 0 && i > at-r.Of && count < r.Need; i-- {
		if further(side*z[i], r.Sigmas) {
			count, from = count+1, i
		}
	}
	return from, count >= r.Need
}

func steady(window []float64) bool {
	rising, falling := true, true
	for i := 1; i < len(window); i++ {
		rising = rising && further(window[i], window[i-1])
		falling = falling && further(window[i-1], window[i])
	}
	return len(window) > 1 && (rising || falling)
}

func alternating(window []float64) bool {
	if len(window) < 3 {
		return false
	}
	up := further(window[1], window[0])
	for i := 1; i < len(window); i++ {
		if up && !further(window[i], window[i-1]) || !up && !further(window[i-1], window[i]) {
			return false
		}
		up = !up
	}
	return true
}

// further says whether a is more than b, both in sigmas, by more than the noise
// of the division that made them.
func further(a, b float64) bool { return a-b > 1e-9 }
