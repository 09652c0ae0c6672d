package prove

import (
	"testing"

	"labsite/recipes/page/pagetest"
)

// A time that is negative only in its last digits counts as zero: 0.3 s less 0.1 s and 0.2 s.
func TestTimeThatRoundsToNothing(t *testing.T) {
	s, p, list := build(pagetest.WithKeys("given:\n  x: {value: 0.3 s, from: 0.3 s, to: 9 s, step: 1 s}\nsteps:\n  - {do: A, for: x - 0.1 s - 0.2 s}\n  - {do: B, for: 2 min}"))
	if p == nil || len(list) > 0 {
		t.Fatal(list)
	}
	c := OwnCase(s)
	c.Frame.Reset()
	if v := s.Steps[0].Node.Eval(&c.Frame); v >= 0 {
		t.Fatalf("%g is not below zero, so that nothing is tried here", v)
	}
	steps, total, ok := c.Process()
	if !ok || steps[0].Shown.Text != "0 s" || total != 120 {
		t.Errorf("%v, %v s, times %v", steps, total, ok)
	}
}
