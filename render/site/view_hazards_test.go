package site

import "testing"

// What to wear is said once, in the block that must be taken in at a glance.
func TestAdviceSaysNothingTwice(t *testing.T) {
	for _, c := range []struct {
		says []string
		want string
	}{
		{[]string{"nitrile"}, "nitrile"},
		{[]string{"recommended"}, "recommended"},
		{[]string{"nitrile, change often; absorbed through skin", "nitrile"}, "nitrile, change often; absorbed through skin"},
		{[]string{"nitrile", "nitrile, change often; stains", "recommended", "nitrile; stains"}, "nitrile, change often; stains"},
		// Neither of these says what the other does.
		{[]string{"nitrile or neoprene", "nitrile"}, "nitrile or neoprene; nitrile"},
		{[]string{"goggles", "safety glasses"}, "goggles; safety glasses"},
		{nil, ""},
	} {
		var a Advice
		for _, text := range c.says {
			a.Says = append(a.Says, Advise{Text: text})
		}
		if got := a.Short(); got != c.want {
			t.Errorf("%q: %q, want %q", c.says, got, c.want)
		}
	}
}
