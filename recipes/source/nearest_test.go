package source

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	names := []string{"tank", "bath", "strength", "rolls", "concentrate", "water", "develop", "time_by_temperature", "a", "µm"}
	for _, c := range []struct{ name, want string }{
		{"tanc", "tank"},              // exchanged
		{"tnak", "tank"},              // swapped
		{"tan", "tank"},               // left out
		{"tankk", "tank"},             // put in
		{"tank", "tank"},              // the same
		{"concentrat", "concentrate"}, // left out at the end
		{"consentrat", "concentrate"}, // two
		{"time_by_temprature", "time_by_temperature"},
		{"strenght", "strength"},
		{"um", "µm"}, // counted in characters, not bytes
		{"zzzz", ""},
		{"t", "a"}, // of one letter, one may differ
		{"", "a"},
	} {
		if got := Nearest(c.name, names); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.name, got, c.want)
		}
	}
	if got := Nearest("x", nil); got != "" {
		t.Errorf("nothing to choose from gives %q", got)
	}
	// of two that are as near, the first in the alphabet, whatever their order
	if a, b := Nearest("bat", []string{"cat", "bad"}), Nearest("bat", []string{"bad", "cat"}); a != "bad" || b != "bad" {
		t.Errorf("got %q and %q", a, b)
	}
}

// The distance is that of Damerau (1964) and Levenshtein (1966) in its restricted form;
// the pairs are textbook examples, from memory.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"abc", "abc", 0}, {"flaw", "lawn", 2},
	} {
		if got := distance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance([]rune(c.b), []rune(c.a)); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

// A name as long as a page is not compared letter by letter: that would not end.
func TestNearestOfLongNames(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	if got := Nearest(long, []string{long + "y", "tank"}); got != "" {
		t.Errorf("offered a name of %d letters", len(got))
	}
}
