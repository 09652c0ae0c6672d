package prove

import (
	"strings"
	"testing"

	"labsite/recipes/page/pagetest"
)

// A rule that fails says what it compared, so that nobody has to work out the case by hand.
func TestRuleSaysItsSides(t *testing.T) {
	given := "given:\n  a1: {value: 2, from: 1, to: 4}\n  tank: {value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}\n  film: {value: roll, choices: [roll, sheet]}\n  bath: {value: 20 °C, from: 18 °C, to: 22 °C, step: 1 K}\n" +
		"figures:\n  part: {formula: tank / 3, show: 1 ml}\n  low: part < 200 ml\n  time: a1 * 2 min + 30 s\n"
	for rule, want := range map[string]string{
		"a1 < 4":                                  "a1 4, with 4 on the left and 4 on the right",
		"tank / 101 < 9 ml":                       "tank 1000 ml, with 9.9 ml on the left and 9 ml on the right",
		"part + 0.001 ml == tank / 3":             "the page's own values, with 166.6676667 ml on the left and 166.6666667 ml on the right",
		"part < 1 ml and tank > 1 l":              "the page's own values, with 167 ml on the left and 1 ml on the right",
		"part > 1 ml and tank < 1 l":              "tank 1000 ml, with 1000 ml on the left and 1000 ml on the right",
		"part > 300 ml or tank < 800 ml":          "tank 800 ml, with 267 ml on the left and 300 ml on the right, and 800 ml on the left and 800 ml on the right",
		"not (part > 300 ml)":                     "tank 1000 ml, with 333 ml on the left and 300 ml on the right",
		"low":                                     "tank 600 ml, with 200 ml on the left and 200 ml on the right",
		"film == 'roll'":                          "film sheet, with sheet on the left and roll on the right",
		"bath < 22 °C":                            "bath 22 °C, with 22 °C on the left and 22 °C on the right",
		"time < 8 min":                            "a1 4, with 8 min 30 s on the left and 8 min on the right",
		"let half = tank / 2; half < 450 ml":      "tank 900 ml, with 450 ml on the left and 450 ml on the right",
		"film == 'roll' ? a1 < 3 : tank < 400 ml": "film sheet, with 500 ml on the left and 400 ml on the right",
		"stops(tank / 250 ml) < 2 stop":           "tank 1000 ml, with 2 stop on the left and 2 stop on the right",
		"tank * 3 EUR/l != 1.5 EUR":               "the page's own values, with 1.50 EUR on the left and 1.50 EUR on the right",
	} {
		_, p, list := build(pagetest.WithKeys(given + "checks:\n  - always: \"" + rule + "\""))
		if len(list) != 1 || list[0].Code != "always-fails" || !strings.HasPrefix(list[0].Message, "this does not hold at "+want+" (and in") {
			t.Errorf("%s: %s", rule, list)
			continue
		}
		_, sides, _ := strings.Cut(want, ", with ")
		if v := p.Verdicts[0]; v.Found != sides || v.OK {
			t.Errorf("%s: found %q, ok %v", rule, v.Found, v.OK)
		}
	}
}
