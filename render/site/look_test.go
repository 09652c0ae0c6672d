package site

import (
	"strings"
	"testing"

	"labsite/recipes/sheet"
)

// A site without sections has no list of them, not even an empty one.
func TestNoSectionsNoList(t *testing.T) {
	flat := map[string]string{
		"index.md": "---\ntitle: Small lab\naudience: customers\n---\n\nWelcome.\n",
		"one.md":   "---\ntitle: One\naudience: customers\n---\n\nText.\n",
	}
	for name, raw := range rendered(t, readSite(t, flat), sheet.Customers) {
		if strings.HasSuffix(name, ".html") && strings.Contains(string(raw), "Sections") {
			t.Errorf("%s of a site without sections speaks of them", name)
		}
	}
	flat["room/two.md"] = "---\ntitle: Two\naudience: customers\n---\n\nText.\n"
	if one := rendered(t, readSite(t, flat), sheet.Customers)["one.html"]; !strings.Contains(string(one), ">Room</a>") {
		t.Error("a site with a section does not list it")
	}
}

// Below its title a page leads straight to what its reader sets, needs and does, where
// something else stands before it.
func TestStraight(t *testing.T) {
	head := "---\ntitle: Page\naudience: customers\n"
	given := "given: {tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}}\n"
	figures := "figures: {half: {label: Half, formula: tank / 2}}\n"
	steps := "steps: [{do: Rinse, for: 1 min}]\n"
	caution := "cautions: {wet: {word: CAUTION, text: Wet floors are slippery.}}\n"
	for name, c := range map[string]struct{ text, want string }{
		"covered":  {head + given + figures + steps + caution + "---\n\nText.\n", "#Given #Figures #Steps"},
		"inside":   {head + given + figures + "---\n\nText.\n\n{given}\n\n{figures}\n", "#Given #Figures"},
		"in-sight": {head + given + figures + "---\n\nText.\n", ""},
		"fixed":    {head + "given: {tank: 500 ml}\n" + figures + caution + "---\n\nText.\n", "#Figures"},
		"text":     {head + caution + "---\n\nText.\n", ""},
	} {
		page := string(rendered(t, readSite(t, map[string]string{"page.md": c.text}), sheet.Customers)["page.html"])
		_, nav, _ := strings.Cut(page, `<nav class="straight"`)
		nav, _, _ = strings.Cut(nav, "</nav>")
		var got []string
		for _, part := range strings.Split(nav, `href="`)[1:] {
			at, _, _ := strings.Cut(part, `"`)
			got = append(got, at)
			if !strings.Contains(page, `id="`+at[1:]+`"`) {
				t.Errorf("%s: %s is not on the page", name, at)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: straight to %v, want %s", name, got, c.want)
		}
	}
}

// Numbers of cases agree with their words.
func TestCasesAreCounted(t *testing.T) {
	set := loaded(t)
	for want, c := range map[string]CheckAlways{
		"held in the one case tried<":                                {Tried: 1},
		"held in all 2 cases tried; 1 more is refused<":              {Tried: 2, Refused: 1},
		"held in the one case tried; 12 more are refused<":           {Tried: 1, Refused: 12},
		"held in all 4096 cases tried, drawn from the ranges<":       {Tried: 4096, Sample: true},
		"held in all 3224 cases tried; 1612 more are refused</span>": {Tried: 3224, Refused: 1612},
	} {
		out, list := set.Checks(Checks{Always: []CheckAlways{c}})
		if len(list) > 0 || !strings.Contains(string(out), want) {
			t.Errorf("%+v: %s%s", c, out, told(list))
		}
	}
	if got := period(&sheet.Period{Count: 1, Unit: "month"}); got != "month" {
		t.Errorf("every %s", got)
	}
}
