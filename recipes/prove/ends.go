package prove

import (
	"math"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Ends are the least and the greatest value of a figure over the cases in which a page is tried.
type Ends struct {
	// Least and Most are the ends as the figure is shown. If it is a text or a yes/no, Words are
	// what it came to instead.
	Least, Most quantity.Shown
	Words       []string
	// Cases is how many cases gave a value, Refused how many gave none.
	Cases, Refused int
}

// EndsOf finds the ends of a figure; the page must hold at its own values.
func EndsOf(s *page.Sheet, f *page.Figure) (out Ends) {
	c := NewCase(s)
	least, most := math.Inf(1), math.Inf(-1)
	texts := f.Kind == quantity.Yes || f.Kind == quantity.Text
	seen := map[float64]bool{}
	EachCase(s, c, func() bool {
		c.Work()
		v := c.Frame.V[f.Slot]
		if c.Refused() || formula.IsAbsent(v) || math.IsNaN(v) {
			out.Refused++
			return true
		}
		out.Cases++
		switch {
		case texts && !seen[v]:
			seen[v] = true
			out.Words = append(out.Words, c.Shown(f).Text)
		case texts:
		default:
			if v < least {
				least, out.Least = v, c.Shown(f)
			}
			if v > most {
				most, out.Most = v, c.Shown(f)
			}
		}
		return true
	})
	slices.Sort(out.Words)
	return out
}
