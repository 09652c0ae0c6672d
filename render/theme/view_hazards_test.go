package theme

import (
	"strings"
	"testing"
)

// What to wear is said only once, in the block that must be understood at a glance.
func TestAdviceSaysNothingTwice(t *testing.T) {
	for _, c := range []struct {
		says []string
		want string
	}{
		{[]string{"nitrile"}, "nitrile"},
		{[]string{"recommended"}, "recommended"},
		{[]string{"nitrile, change often; absorbed through skin", "nitrile"}, "nitrile, change often; absorbed through skin"},
		{[]string{"nitrile", "nitrile, change often; stains", "recommended", "nitrile; stains"}, "nitrile, change often; stains"},
		// neither of these covers the other
		{[]string{"nitrile or neoprene", "nitrile"}, "nitrile or neoprene; nitrile"},
		{[]string{"goggles", "safety glasses"}, "goggles"},
		{[]string{"goggles (serious eye damage)", "goggles", "recommended"}, "goggles"},
		{[]string{"goggles (serious eye damage)", "safety glasses"}, "goggles (serious eye damage)"},
		{[]string{"safety glasses"}, "safety glasses"},
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

// That a substance can cause an allergy is said once: in a statement or, if there is none, as advice.
func TestWorn(t *testing.T) {
	h := Hazards{Wear: []Advice{{What: "Gloves"}, {What: "Air"}, {What: "Allergy"}}}
	for _, c := range []struct{ code, want string }{{"H302", "Gloves Allergy"}, {"H317", "Gloves"}, {"H334", "Gloves"}} {
		h.Statements = []HazardStatement{{Code: c.code}}
		var got []string
		for _, a := range h.Worn() {
			got = append(got, a.What)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("with %s: %q, want %q", c.code, got, c.want)
		}
	}
}
