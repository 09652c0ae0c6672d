package search

import (
	"bytes"
	"strings"
	"testing"
)

var alikeWords = [][]string{
	{"syrup", "the brown bottle", "treacle"},
	{"how long to develop", "dev time"},
	{"wash", "rinse"},
	{"the", "of"},
}

// Whichever word of a group is typed, it finds the pages that use another: in another form,
// unfinished or mistyped, alone and among others.
func TestAlike(t *testing.T) {
	whole, parts := filesAlike(pages, "en", alikeWords), map[string][]byte{}
	x := NewIndex("en", alikeWords, func(name string, b []byte) { parts[name] = bytes.Clone(b) })
	x.bounds = bounds{inline: 4, beginning: 400}
	for _, p := range pages {
		x.Add(p)
	}
	x.Close()
	for how, files := range map[string]map[string][]byte{"one file": whole, "parts": parts} {
		find, _ := loader(t, files)
		for _, c := range []struct{ typed, want, marked string }{
			{"treacle ", "developing/first.html", "[syrup]"},
			{"treac", "developing/first.html", "[syrup]"},
			{"treakle ", "developing/first.html", "[syrup]"},
			{"the brown bottle ", "developing/first.html", "[syrup]"},
			{"dev time ", "developing/first.html", "[how][long][to][develop]"},
			{"rinsing ", "developing/wash.html", "[Washing]"},
		} {
			r := find(c.typed)
			_, title := said(r.Pages[0].Title)
			_, passage := said(r.Pages[0].Passage)
			if r.first() != c.want || !strings.Contains(title+passage, c.marked) {
				t.Errorf("%s: %q leads to %q, marked %s%s, want %s, %s", how, c.typed, r.first(), title, passage, c.want, c.marked)
			}
		}
		if r := find("the of"); r.Count != 0 {
			t.Errorf("%s: words that no page is found by find %d pages", how, r.Count)
		}
	}
}

// Pages to read come before those that lead to them, and those before lists and formulas.
func TestUses(t *testing.T) {
	say := []Passage{{Heading, "", "Hot water", nil}}
	all := []Page{
		{"section.html", "Water", "", say, "", Leads},
		{"formula.html", "Hot water", "", say, "", LookedUp},
		{"other.html", "Warm water", "", say, "", LookedUp},
		{"guide.html", "Water in summer", "", say, "", Read},
	}
	var order []string
	for _, p := range reader(t, files(all, "en"))("water").Pages {
		order = append(order, p.Address)
	}
	if got := strings.Join(order, " "); got != "guide.html section.html formula.html other.html" {
		t.Errorf("the order is %s", got)
	}
}

// A page is found by the dilutions that it mentions, and the published files do not contain them.
func TestRatios(t *testing.T) {
	all := append([]Page{
		{"weak.html", "Weak", "", []Passage{{Summary, "", "For small tanks.", []string{"1+100"}}}, "", Read},
		{"strong.html", "Strong", "", []Passage{{Text, "far-down", "For large ones.", []string{"1+50", "1+99"}}}, "", Read},
	}, pages...)
	made := files(all, "en")
	find := reader(t, made)
	for typed, want := range map[string]string{
		"1+100": "weak.html", "1 + 100": "weak.html", "1:100": "weak.html", "mix 1+100": "weak.html",
		"1 in 100": "strong.html", "1:50": "strong.html", "1 to 50": "strong.html", "tanks, 1+100 ": "weak.html",
	} {
		if r := find(typed); r.first() != want {
			t.Errorf("%q leads to %q, want %s", typed, r.first(), want)
		}
	}
	if r := find("1+3"); r.All || r.Count != 2 {
		t.Errorf("a dilution that no page has finds %d pages, all %v", r.Count, r.All)
	}
	if r := find("10:30 treacle"); r.Count != 2 {
		t.Errorf("a time of day finds %d pages", r.Count)
	}
	for name, b := range made {
		if _, data, _ := bytes.Cut(b, []byte("({\"pages\"")); bytes.Contains(data, []byte("1+")) {
			t.Errorf("%s holds a dilution", name)
		}
	}
}
