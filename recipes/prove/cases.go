package prove

import (
	"math"
	"slices"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// MostCases is how many cases of a page are tried, MostCorners how many of a sample are corners
// of the ranges.
const (
	MostCases   = 4096
	MostCorners = 1024
)

// axis is the values that one given takes over the cases.
type axis struct {
	given  *page.Given
	values []float64 // nil if there are no steps
	low    float64
	high   float64
}

func axes(s *page.Sheet) []axis {
	var out []axis
	for _, g := range s.Given {
		switch {
		case !g.Settable():
		case g.Kind == quantity.Yes:
			out = append(out, axis{given: g, values: []float64{0, 1}, high: 1})
		case len(g.Choices) > 0:
			a := axis{given: g}
			for _, c := range g.Choices {
				a.values = append(a.values, c.Base)
			}
			a.low, a.high = slices.Min(a.values), slices.Max(a.values) // a page lists choices in any order
			out = append(out, a)
		default:
			a := axis{given: g, low: g.From.Base, high: g.To.Base}
			step := 0.0
			if g.Step != nil {
				step = g.Step.Base
			} else if g.Whole {
				step = 1
			}
			if step > 0 && (a.high-a.low)/step < MostCases {
				a.values = page.Steps(a.low, a.high, step)
			}
			out = append(out, a)
		}
	}
	return out
}

// EachCase sets c to each case in which the page is tried, and calls try, until try returns
// false. It reports whether these are all combinations of the steps.
func EachCase(s *page.Sheet, c *Case, try func() bool) (all bool) {
	axes := axes(s)
	count := 1
	all = true
	for _, a := range axes {
		if a.values == nil {
			all = false
			break
		}
		if count *= len(a.values); count > MostCases {
			all = false
			break
		}
	}
	own := func() {
		for _, g := range s.Given {
			c.Set(g, g.Own)
		}
	}
	own()
	defer own()
	if all {
		everyCase(c, axes, own, try)
	} else {
		sampledCases(c, axes, own, try)
	}
	return all
}

// everyCase tries all combinations of the steps, and then the middles between them.
func everyCase(c *Case, axes []axis, own func(), try func() bool) {
	at := make([]int, len(axes))
	for _, a := range axes {
		c.Set(a.given, a.values[0])
	}
	for {
		if !try() {
			return
		}
		i := len(axes) - 1
		for ; i >= 0; i-- {
			a := axes[i]
			if at[i]++; at[i] < len(a.values) {
				c.Set(a.given, a.values[at[i]])
				break
			}
			at[i] = 0
			c.Set(a.given, a.values[0])
		}
		if i < 0 {
			break
		}
	}
	// a reader may also set a value between the steps
	for _, a := range axes {
		if a.given.From == nil || a.given.Whole {
			continue
		}
		own()
		for i := 1; i < len(a.values); i++ {
			middle := (a.values[i-1] + a.values[i]) / 2
			if a.given.Kind == quantity.Date {
				if middle = quantity.OnDay(middle); middle == a.values[i-1] {
					continue // there is no day between
				}
			}
			c.Set(a.given, middle)
			if !try() {
				return
			}
		}
	}
}

// sampledCases tries the page's own values, its corners, and a fixed sample.
func sampledCases(c *Case, axes []axis, own func(), try func() bool) {
	if !try() {
		return
	}
	corners := MostCorners
	if len(axes) < 10 {
		corners = 1 << len(axes)
	}
	for i := range corners {
		for k, a := range axes {
			v := a.low
			if i>>k&1 == 1 {
				v = a.high
			}
			if k >= 10 && i>>(k%10)&1 == 1 {
				v = a.high
			}
			c.Set(a.given, v)
		}
		if !try() {
			return
		}
	}
	for i := range MostCases - 1 - corners {
		for k, a := range axes {
			c.Set(a.given, a.at(halton(i+1, k)))
		}
		if !try() {
			return
		}
	}
}

// at is the value that lies a share of the way along the axis, one of its steps or choices if it
// has any.
func (a axis) at(share float64) float64 {
	if a.values != nil {
		return a.values[min(int(share*float64(len(a.values))), len(a.values)-1)]
	}
	v := a.low + (a.high-a.low)*share
	switch {
	case a.given.Whole:
		v = math.Round(v)
	case a.given.Kind == quantity.Date:
		v = quantity.OnDay(v)
	}
	return v
}

var primes = [...]int{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97}

// halton is the i-th point of the k-th dimension of the Halton sequence (published:
// J. H. Halton, 1960): the digits of i in a prime base, mirrored at the point. A page with more
// given values than there are primes here uses the bases again, with the sequence shifted.
func halton(i, k int) float64 {
	base := primes[k%len(primes)]
	i += 409 * (k / len(primes))
	share, f := 0.0, 1.0
	for ; i > 0; i /= base {
		f /= float64(base)
		share += f * float64(i%base)
	}
	return share
}
