package highlight

import (
	"strconv"
	"strings"
	"testing"
)

// The cache returns what would be made, and is bounded.
func TestKeptFormulas(t *testing.T) {
	var k kept
	for round := range 2 {
		for i := range mostKept + 100 {
			text := strconv.Itoa(i)
			if got := k.of(text, func() string { return "<b>" + text + "</b>" }); got != "<b>"+text+"</b>" {
				t.Fatalf("round %d: %s gave %s", round, text, got)
			}
			if len(k.html) > mostKept {
				t.Fatalf("%d are kept", len(k.html))
			}
		}
	}
	made := 0
	for range 2 {
		k.of("once", func() string { made++; return "" })
		k.of(strings.Repeat("x", longestKept+1), func() string { made += 10; return "" })
	}
	if made != 21 {
		t.Errorf("made %d, want 21: a short text once, a long one each time", made)
	}
}
