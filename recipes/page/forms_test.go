package page_test

import (
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/prove"
)

// Values as a lab writes them, from reading to showing: f-numbers, rates of two currencies, signs, and
// names that look like numbers.
func TestFormsOfValues(t *testing.T) {
	s, _, list := buildWith(pagetest.WithKeys(`
data: {lens: lens.csv, packs: packs.csv}
given:
  marked: {value: f/8, choices: [f/5.6, f/8, f/11]}
  wide: {value: f/2.8, from: f/2, to: f/16}
  rate: 1.27 USD/GBP
  price: 10 GBP
  format: {value: 135-36, choices: packs.format}
figures:
  same: marked
  rounded: round(marked, 1)
  share: marked / wide
  wider: wide * 1.5
  light: log2(marked)
  off: {formula: stops(64 / 60), show: +0.1 stop}
  under: {formula: stops(60 / 64), show: +0.1 stop}
  none: {formula: 0.01 stop, show: +0.1 stop}
  cost: price * rate
  back: cost / rate
  fnumber: lookup(lens.fnumber, lens.stop, 2)
  left: lookup(packs.left, packs.format, format)
  isroll: format == '120'
checks:
  - at: {marked: f/5.6, format: 120}
    expect: {same: f/5.6, left: 7, isroll: yes, wider: f/4.2 ± 0.01}
    source: from memory
  - expect: {off: +0.1 stop, under: -0.1 stop, fnumber: f/4, cost: 12.70 USD, back: 10.00 GBP}
    source: from memory
`), pagetest.Shelf{"lens.csv": "stop,fnumber\n1,f/2.8\n2,f/4\n", "packs.csv": "format [text],left\n135-36,4\n120,7\n"}, page.World{})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	own := prove.OwnCase(s)
	for name, want := range map[string]string{
		"same": "f/8", "rounded": "f/8", "share": "2.86", "wider": "f/4.2", "light": "3", "off": "+0.1 stop", "under": "-0.1 stop",
		"none": "0.0 stop", "cost": "12.70 USD", "back": "10.00 GBP", "fnumber": "f/4", "left": "4", "isroll": "no",
	} {
		if got := own.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is shown as %s, want %s", name, got, want)
		}
	}
	wide := s.GivenNamed("wide")
	if got := wide.Shown(6.35).Text; got != "f/6.35" {
		t.Errorf("f/6.35 is shown as %s", got)
	}
	if own.ShownGiven(s.GivenNamed("marked")).Text != "f/8" {
		t.Error("f/8 is shown otherwise")
	}
}

// A column of names that look like numbers is an error that says how to mark it as texts.
func TestNamesLikeNumbers(t *testing.T) {
	_, _, list := buildWith(pagetest.WithKeys("data: {p: p.csv}\ngiven:\n  format: {value: a, choices: [a, b]}\nfigures:\n  x: lookup(p.left, p.format, format)"),
		pagetest.Shelf{"p.csv": "format,left\n120,4\n220,7\n"}, page.World{})
	if len(list) == 0 || list[0].Hint != "If the cells are names that look like numbers, write format [text] in the first row of the file." {
		t.Error(list)
	}
}
