package guard

import "labsite/recipes/prove"

// found is what came of a change.
type found struct {
	noticed, matters bool
	// cases are some of those in which it matters.
	cases []int
}

// mostFound bounds the cases that are kept of a change that nobody noticed.
const mostFound = 256

// try runs the checks of the changed page. A page that refuses its own values or gives
// no number stops a build by itself, which is noticing too.
func (t *trial) try() (out found) {
	t.put(t.own())
	t.run.Work()
	if t.run.Refused() || len(t.run.Failed) > 0 {
		return found{noticed: true}
	}
	for _, c := range t.expects {
		t.put(t.own())
		if !prove.Passes(c, t.run) {
			return found{noticed: true}
		}
	}
	for i := range t.cases {
		if i%64 == 0 && t.ctx.Err() != nil {
			return found{noticed: true}
		}
		before := &t.unchanged[i]
		t.put(t.cases[i])
		t.run.Work()
		if !t.run.Refused() {
			if len(t.run.Failed) > 0 {
				return found{noticed: true}
			}
			for _, c := range t.rules {
				if !t.run.Keeps(c) {
					return found{noticed: true}
				}
			}
		}
		if len(out.cases) < mostFound && t.differs(before) {
			out.matters = true
			out.cases = append(out.cases, i)
		}
	}
	return out
}

// own are the page's own values of what can be set.
func (t *trial) own() []float64 {
	out := make([]float64, len(t.set))
	for i, g := range t.set {
		out[i] = g.Own
	}
	return out
}
