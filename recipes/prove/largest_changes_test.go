package prove

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
)

// apartSheet is an invented page, of which each test changes one thing.
const apartSheet = `
given:
  rolls: {label: Rolls, value: 1, from: 1, to: 4}
  kind: {label: Kind, value: slow, choices: [slow, fast]}
  rate: {value: 2 ml, source: measured here 2020-01-01}
limits:
  - {when: rolls > 3, refuse: Too many.}
figures:
  hidden: rolls * rate
  fill: {label: Fill, formula: hidden + 1 ml, show: 1 ml}
  pace: {label: Pace, formula: "kind == 'slow' ? 10 min : 5 min", show: 1 s}
`

func apartOf(t *testing.T, pairs ...string) *page.Sheet {
	t.Helper()
	s, _, list := build(pagetest.WithKeys(strings.NewReplacer(pairs...).Replace(apartSheet)))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	return s
}

func TestApart(t *testing.T) {
	for _, x := range []struct {
		name    string
		changed []string
		want    string
	}{
		{"nothing", nil, ""},
		{"another way to write it", []string{"hidden + 1 ml", "1 ml + hidden"}, ""},
		{"below what is shown", []string{"rate: {value: 2 ml", "rate: {value: 2.01 ml"}, ""},
		{"everywhere", []string{"rate: {value: 2 ml", "rate: {value: 3 ml"}, "fill at rolls 3: 7 ml → 10 ml (6 of 8)"},
		{"not at the page's own values", []string{"hidden + 1 ml", "'hidden + 1 ml + (rolls - 1) * 1 ml'"}, "fill at rolls 3: 7 ml → 9 ml (4 of 8)"},
		{"for one word", []string{": 5 min", ": 6 min"}, "pace at kind fast: 5 min → 6 min (3 of 8)"},
		{"words in another order", []string{"[slow, fast]", "[fast, slow]"}, ""},
		{"a case refused", []string{"rolls > 3", "rolls > 2"}, "fill at rolls 3: 7 ml → no number (2 of 8); pace at rolls 3: 10 min → no number (2 of 8)"},
		{"a longer range", []string{"to: 4", "to: 5"}, ""},
	} {
		var got []string
		for _, c := range LargestChanges(t.Context(), apartOf(t), apartOf(t, x.changed...)) {
			got = append(got, fmt.Sprintf("%s at %s: %s → %s (%d of %d)", c.Figure.Name, c.At, c.Before, c.After, c.Moved, c.Cases))
		}
		if text := strings.Join(got, "; "); text != x.want {
			t.Errorf("%s: %s, want %s", x.name, text, x.want)
		}
	}
}

// The ends of a figure are those of the cases in which it has a number.
func TestSpreadOfAFigureThatMayBeMissing(t *testing.T) {
	s, _, list := buildWith(pagetest.WithKeys("data: {times: times.csv}\ngiven:\n  film: {value: roll, choices: [roll, sheet]}\n  factor: {value: 1, from: 1, to: 3}\nfigures:\n  develop: {label: Develop, formula: \"lookup(times.minutes, times.film, film) * factor\", else: Not tested.}"),
		pagetest.Shelf{"times.csv": "film,minutes [min]\nroll,8\n"}, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	got := Spreads(t.Context(), s)
	if len(got) != 1 || got[0].Least != "8 min" || got[0].Most != "24 min" {
		t.Errorf("%+v", got)
	}
}

// Two pages have the same sum if they have the same value in every case, except for noise in the last
// bits.
func TestSpreads(t *testing.T) {
	sums := func(pairs ...string) (out []string) {
		for _, s := range Spreads(t.Context(), apartOf(t, pairs...)) {
			out = append(out, fmt.Sprint(s.Figure.Name, s.Cases, s.Refused, s.Least, s.Most, s.Sum))
		}
		return out
	}
	own := sums()
	if len(own) != 2 || !strings.HasPrefix(own[0], "fill8 23 ml7 ml") || !strings.HasPrefix(own[1], "pace8 25 min10 min") {
		t.Errorf("the spreads are %q", own)
	}
	same := sums("hidden + 1 ml", "(hidden * 3 + 3 ml) / 3")
	other := sums("rate: {value: 2 ml", "rate: {value: 2.0001 ml")
	if same[0] != own[0] || same[1] != own[1] {
		t.Errorf("written another way: %q, was %q", same, own)
	}
	if other[0] == own[0] || other[1] != own[1] {
		t.Errorf("with another constant: %q, was %q", other, own)
	}
}
