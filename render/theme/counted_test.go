package theme

import (
	"strings"
	"testing"
)

// Words are singular or plural according to their number.
func TestCasesAreCounted(t *testing.T) {
	set := loaded(t)
	for want, c := range map[string]CheckAlways{
		"held in the one case tried<":                                {Tried: 1},
		"held in all 2 cases tried; 1 more is refused<":              {Tried: 2, Refused: 1},
		"held in the one case tried; 12 more are refused<":           {Tried: 1, Refused: 12},
		"held in all 4096 cases tried, drawn from the ranges<":       {Tried: 4096, Sample: true},
		"held in all 3224 cases tried; 1612 more are refused</span>": {Tried: 3224, Refused: 1612},
		"holds for every setting (proved)</span>":                    {Tried: 3224, Refused: 1612, Proved: true},
	} {
		out, list := set.Checks(Checks{Always: []CheckAlways{c}})
		if len(list) > 0 || !strings.Contains(string(out), want) {
			t.Errorf("%+v: %s%s", c, out, told(list))
		}
	}
}
