package formulary

import "testing"

func TestOutside(t *testing.T) {
	checks, list := outsideChecks()
	for _, d := range list {
		t.Error(d)
	}
	for _, c := range checks {
		if c.ID == "" || c.Source == "" || c.Provenance == "" {
			t.Errorf("a check without its source: %+v", c)
		}
		t.Run(c.ID+" "+c.Source, func(t *testing.T) {
			if !c.OK {
				t.Errorf("%s: %s should be %s, is %s (%s)", c.What, c.Formula, c.Expected, c.Found, c.Provenance)
			}
		})
	}
}
