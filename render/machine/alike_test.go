package machine

import (
	"slices"
	"strings"
	"testing"

	"labsite/recipes/quantity"
)

func TestAlikeIsInOrder(t *testing.T) {
	lines := slices.Collect(strings.Lines(alikeText))
	lines = slices.DeleteFunc(lines, func(l string) bool { return l[0] == '#' })
	if !slices.IsSorted(lines) {
		t.Error("the lines of alike.txt are not in order")
	}
	for _, group := range builtIn {
		if len(group) < 2 {
			t.Errorf("%q stands alone", group)
		}
		for i, word := range group {
			if word == "" || slices.Contains(group[:i], word) {
				t.Errorf("%q holds %q twice, or nothing", group, word)
			}
			if v, trouble := quantity.Parse(word); trouble == nil && v.Kind != quantity.Length && v.Kind != quantity.Number {
				t.Errorf("%q is an amount", word)
			}
		}
	}
}

// A dilution is found as parts and what is added to them, however it is written.
func TestRatiosIn(t *testing.T) {
	for text, want := range map[string]string{
		"Mix 1+100 for small tanks and 1+50 for the drum.": "1+100 1+50",
		"One part in all, 1 in 50, twice 1 in 50":          "1+49",
		"At 10:30, 5 ml of 3 jars":                         "",
	} {
		if got := strings.Join(ratiosIn(text), " "); got != want {
			t.Errorf("%q mentions %q, want %q", text, got, want)
		}
	}
}
