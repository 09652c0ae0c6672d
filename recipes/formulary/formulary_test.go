package formulary

import "testing"

func TestBuiltInEntriesHoldTogether(t *testing.T) {
	set, list := builtIn()
	for _, d := range list {
		t.Error(d)
	}
	if len(set.All()) != len(set.Names()) {
		t.Errorf("%d entries, %d names", len(set.All()), len(set.Names()))
	}
	for _, e := range set.All() {
		for _, v := range set.RunChecks(e) {
			if !v.OK {
				t.Errorf("%s: expected %s, found %s (%s)", v.What, v.Expected, v.Found, v.Source)
			}
		}
	}
}
