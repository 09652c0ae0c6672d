package guard

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// mostEdges bounds the settings on edges that are added to a page's cases.
const mostEdges = 200

// edges lists settings at which two sides of a comparison are equal: only there does it matter
// whether an edge belongs to what it bounds. Only one given at a time leaves the page's own value.
func (t *trial) edges() [][]float64 {
	var out [][]float64
	for _, p := range places(t.sheet) {
		(*p.node).Walk(func(n *formula.Node) bool {
			if n.Op.Decides == formula.Compares && n.Args[0].Kind.Sort != quantity.Word {
				for k, g := range t.set {
					if len(out) < mostEdges && g.From != nil && !g.Whole {
						out = append(out, t.edgesAlong(k, n)...)
					}
				}
			}
			return true
		})
	}
	return out
}

// edgesAlong looks along one given for places where a comparison changes its result.
func (t *trial) edgesAlong(k int, n *formula.Node) [][]float64 {
	const parts = 24
	g, values := t.set[k], t.own()
	apart := func(v float64) float64 {
		values[k] = v
		t.put(values)
		t.run.Work()
		f := &t.run.Frame
		f.Reset()
		a, b := n.Args[0].Eval(f), n.Args[1].Eval(f)
		if f.Fault != formula.None {
			return math.NaN()
		}
		return a - b
	}
	var out [][]float64
	low, before := g.From.Base, apart(g.From.Base)
	for i := 1; i <= parts; i++ {
		high := g.From.Base + (g.To.Base-g.From.Base)*float64(i)/parts
		after := apart(high)
		if before*after < 0 {
			if v, ok := typeable(g, low, high, before < 0, apart); ok {
				at := t.own()
				at[k] = v
				out = append(out, at)
			}
		}
		low, before = high, after
	}
	return out
}

// typeable narrows the place where two sides meet and gives the nearest value of few digits, as
// somebody would type it, if they are equal there as well.
func typeable(g *page.Given, low, high float64, rises bool, apart func(float64) float64) (float64, bool) {
	for range 60 {
		middle := (low + high) / 2
		if (apart(middle) < 0) == rises {
			low = middle
		} else {
			high = middle
		}
	}
	u := g.Show.Unit
	if u.Factor == 0 {
		return 0, false
	}
	most := 5
	if g.Kind == quantity.Date {
		most = 1 // whole days
	}
	for digits := range most {
		step := math.Pow10(digits)
		v := u.Base(math.Round(u.Of(high)*step) / step)
		if a := apart(v); quantity.Equal(a, 0) && v >= g.From.Base && v <= g.To.Base {
			return v, true
		}
	}
	return 0, false
}
