package formula

import (
	"math"
	"slices"
)

// compensated is a sum that keeps what each addition rounds off (published: A. Neumaier,
// 1974).
type compensated struct{ sum, lost float64 }

func (c *compensated) add(x float64) {
	t := c.sum + x
	if math.Abs(c.sum) >= math.Abs(x) {
		c.lost += c.sum - t + x
	} else {
		c.lost += x - t + c.sum
	}
	c.sum = t
}

func (c *compensated) value() float64 {
	if math.IsInf(c.sum, 0) {
		return c.sum // what was lost is not a number
	}
	return c.sum + c.lost
}

// Sum is the sum of some values, without what each addition rounds off.
func Sum(cells []float64) float64 { return sumOf(cells) }

func sumOf(cells []float64) float64 {
	var s compensated
	for _, x := range cells {
		s.add(x)
	}
	return s.value()
}

// meanOf is the mean, and meanParts the mean as a float and what that rounds off, so that a
// deviation far smaller than the values keeps its digits.
func meanOf(cells []float64) float64 {
	mean, rest := meanParts(cells)
	return mean + rest
}

func meanParts(cells []float64) (mean, rest float64) {
	count := float64(len(cells))
	mean = sumOf(cells) / count
	var over compensated
	for _, x := range cells {
		over.add(x - mean)
	}
	return mean, over.value() / count
}

func medianOf(cells []float64) float64 {
	sorted := slices.Sorted(slices.Values(cells))
	half := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[half]
	}
	return sorted[half-1] + (sorted[half]-sorted[half-1])/2
}

// deviationOf is the standard deviation of a sample, in two passes; NaN for fewer than two values.
func deviationOf(cells []float64) float64 {
	if len(cells) < 2 {
		return math.NaN()
	}
	mean, rest := meanParts(cells)
	var squares compensated
	for _, x := range cells {
		d := x - mean - rest
		squares.add(d * d)
	}
	return math.Sqrt(squares.value() / float64(len(cells)-1))
}
