package write_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// A site without sections has no list of them, not even an empty one.
func TestNoSectionsNoList(t *testing.T) {
	flat := map[string]string{
		"index.md": "---\ntitle: Small lab\naudience: customers\n---\n\nWelcome.\n",
		"one.md":   "---\ntitle: One\naudience: customers\n---\n\nText.\n",
	}
	for name, raw := range buildtest.Sited(t, flat, page.Customers) {
		if strings.HasSuffix(name, ".html") && strings.Contains(string(raw), "Sections") {
			t.Errorf("%s of a site without sections speaks of them", name)
		}
	}
	flat["room/two.md"] = "---\ntitle: Two\naudience: customers\n---\n\nText.\n"
	if one := buildtest.Sited(t, flat, page.Customers)["one.html"]; !strings.Contains(string(one), ">Room</a>") {
		t.Error("a site with a section does not list it")
	}
}

// Below its title a page links to what its reader sets, needs and does, if something else stands above that.
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
		page := string(buildtest.Sited(t, map[string]string{"page.md": c.text}, page.Customers)["page.html"])
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
