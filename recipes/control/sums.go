package control

import "fmt"

// Sums are the two one-sided cumulative sums after each reading. Both are 0 or
// more, in the unit of the readings.
type Sums struct {
	High, Low []float64
	Signals   []int // where either sum is above the decision value, from 0
}

// CumulativeSums adds up how far the readings stray from the target beyond the
// slack, upwards and downwards apart:
//
//	high = max(0, high before + reading - target - slack)
//	low  = max(0, low before + target - slack - reading)
//
// and tells after which readings a sum is above the decision value. Slack and
// decision value are not negative. Source: NIST/SEMATECH e-Handbook of
// Statistical Methods, section 6.3.2.3.
func CumulativeSums(x []float64, target, slack, decision float64) (Sums, error) {
	if err := readings(x, 0); err != nil {
		return Sums{}, err
	}
	if err := settings(target, slack, decision); err != nil {
		return Sums{}, err
	}
	if slack < 0 || decision < 0 {
		return Sums{}, fmt.Errorf("%w: slack %g, decision value %g", ErrSetting, slack, decision)
	}
	s := Sums{High: make([]float64, len(x)), Low: make([]float64, len(x))}
	var high, low float64
	for i, v := range x {
		high = max(0, high+v-target-slack)
		low = max(0, low+target-slack-v)
		s.High[i], s.Low[i] = high, low
		if above(high, decision) || above(low, decision) {
			s.Signals = append(s.Signals, i)
		}
	}
	return s, nil
}
