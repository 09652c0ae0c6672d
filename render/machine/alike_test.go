package machine

import (
	"slices"
	"strings"
	"testing"
)

// Who looks for a word of the trade finds the pages that say another for the same thing.
func TestInOtherWords(t *testing.T) {
	for _, c := range []struct{ says, finds string }{
		{"Fix for four minutes in fresh fixer.", "hypo"},
		{"Two inversions each minute.", "agitation"},
		{"Long exposures with filters", "reciprocity"},
		{"Weigh the sodium sulfite.", "sulphite"},
		{"The developing time at 22 degrees", "dev time"},
		{"Shelf life of the syrup", "fridge"},
		{"Overnight development without turning", "stand development"},
	} {
		if got := inOtherWords([]string{c.says}); !slices.Contains(got, c.finds) {
			t.Errorf("%q is found by %q, not by %s", c.says, got, c.finds)
		}
	}
	if got := inOtherWords([]string{"A tank of water."}); len(got) > 0 {
		t.Errorf("water is found by %q", got)
	}
	if got := inOtherWords([]string{"Fixer, also called hypo, thiosulfate or thiosulphate."}); slices.Contains(got, "hypo") {
		t.Errorf("what a page says itself is added: %q", got)
	}
}

func TestAlikeIsInOrder(t *testing.T) {
	lines := slices.Collect(strings.Lines(alikeText))
	lines = slices.DeleteFunc(lines, func(l string) bool { return l[0] == '#' })
	if !slices.IsSorted(lines) {
		t.Error("the lines of alike.txt are not in order")
	}
	for _, group := range alike {
		if len(group) < 2 {
			t.Errorf("%q stands alone", group)
		}
	}
}
