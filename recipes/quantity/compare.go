package quantity

import "math"

// Comparisons that ignore the rounding errors of floats. Go and the page scripts compare in
// exactly this way.
const (
	relativeNoise = 1e-9
	absoluteNoise = 1e-12 // of the kind's base unit
	quotientNoise = 1e-9
)

// Equal holds within 1e-9 of the larger, or within 1e-12 of the base unit.
func Equal(a, b float64) bool {
	if a == b {
		return true
	}
	d := math.Abs(a - b)
	return d <= absoluteNoise || d <= relativeNoise*math.Max(math.Abs(a), math.Abs(b))
}

// Less means less and not Equal.
func Less(a, b float64) bool { return a < b && !Equal(a, b) }

// LessOrEqual means less or Equal.
func LessOrEqual(a, b float64) bool { return a < b || Equal(a, b) }

// snap replaces a quotient within 1e-9 of a whole or half number by that number.
func snap(q float64) float64 {
	half := math.Round(q*2) / 2
	if math.Abs(q-half) <= quotientNoise {
		return half
	}
	return q
}

// Nearest is the whole number nearest to a quotient, half away from zero.
func Nearest(q float64) float64 { return math.Round(snap(q)) }

// Below is the largest whole number not above a quotient.
func Below(q float64) float64 { return math.Floor(snap(q)) }

// Above is the smallest whole number not below a quotient.
func Above(q float64) float64 { return math.Ceil(snap(q)) }
