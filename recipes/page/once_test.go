package page_test

import (
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

// One cause has one message: what follows from it is not reported as well.
func TestOneCauseOneMessage(t *testing.T) {
	const tank = "given:\n  tank: {label: Tank, value: 600 ml, from: 500 ml, to: 1 l, step: 50 ml}\n"
	const uses = "limits:\n  - {when: twice > 1 l, notice: \"Much {twice}.\"}\nchecks:\n  - {at: {tank: 700 ml}, expect: {twice: 1400 ml}, source: from memory}\n  - always: twice > tank\n" +
		"steps:\n  - {do: Wait, for: twice / 1 ml * 1 s}\ntables:\n  t1: {caption: T, rows: tank, cell: twice}\ncharts:\n  c1: {caption: C, x: tank, y: twice}\n"
	mix, _, _ := buildWith(pagetest.WithKeys(exampleMix), nil, page.World{})
	world := page.World{Page: func(path string) (*page.Sheet, source.Problem, bool) { return mix, source.Problem{}, path == "mix.md" }}
	for name, keys := range map[string]string{
		"figure for figures": tank + "⟦unknown-key|figure⟧:\n  twice: {label: T, formula: tank * 2, show: 1 ml}\n" + uses,
		"a key of a given":   "given:\n  tank: {label: Tank, ⟦unknown-key|vlaue⟧: 600 ml, from: 500 ml, to: 1 l, step: 50 ml}\nfigures:\n  twice: tank * 2\n" + uses,
		"a key of a figure":  tank + "figures:\n  twice: {label: T, ⟦unknown-key|fromula⟧: tank * 2}\n" + uses,
		"keys of checks":     tank + "figures:\n  twice: tank * 2\nchecks:\n  - {⟦unknown-key|att⟧: {tank: 700 ml}, expect: {twice: 1400 ml}, source: from memory}\n  - {expect: {twice: 1200 ml}, ⟦unknown-key|sourse⟧: from memory}\n",
		"a key of a limit":   tank + "figures:\n  twice: tank * 2\nlimits:\n  - {⟦unknown-key|wen⟧: twice > 1 l, notice: Much.}\n",
		"a key of a chart":   tank + "figures:\n  twice: tank * 2\ncharts:\n  c1: {⟦unknown-key|captoin⟧: C, x: tank, y: twice}\n",
		"the same key twice": tank + "⟦unknown-key|givens⟧: 5\n",
		"a word that is no nearly a key, with another shape": "⟦unknown-key|date⟧: 2026-10-01\n",

		"a given's name":         "given:\n  ⟦bad-name|Tank⟧: 600 ml\nfigures:\n  twice: Tank * 2\nchecks:\n  - {at: {Tank: 600 ml}, expect: {twice: 1200 ml}, source: from memory}\n",
		"a figure's name":        tank + "figures:\n  ⟦name-is-unit|ml⟧: tank / 2\nchecks:\n  - {expect: {ml: 300 ml}, source: from memory}\ntables:\n  t1: {caption: T, rows: tank, cell: ml}\n",
		"a name of the language": "given:\n  ⟦name-reserved|round⟧: 600 ml\nfigures:\n  twice: round * 2\n",
		"a data file's name":     "data: {⟦bad-name|Times⟧: times.csv}\ngiven:\n  film: {value: roll, choices: Times.film}\nfigures:\n  x: lookup(Times.x, Times.bath, 20 °C)\n",
		"a drawn page's name":    "draws_on: {⟦bad-name|Mix⟧: mix.md}\nfigures:\n  x: Mix.syrup * 2\n",
		"a caution's name":       "cautions: {⟦bad-name|Gloves⟧: {word: WARNING, text: Wear gloves.}}\nsteps:\n  - {do: Mix, caution: Gloves}\n",

		"a range that begins with its end":  "given:\n  tank: {value: 600 ml, from: ⟦range-order|1 l⟧, to: 500 ml, step: 50 ml}\nfigures:\n  twice: tank * 2\n" + uses,
		"half a range":                      "given:\n  tank: {value: 600 ml, from: ⟦half-range|500 ml⟧, step: 50 ml}\nfigures:\n  twice: tank * 2\n" + uses,
		"a range of two kinds":              "given:\n  tank: {value: 600 ml, from: 500 ml, to: ⟦kinds-differ|5 min⟧, step: 50 ml}\nfigures:\n  twice: tank * 2\n" + uses,
		"a value outside its range":         "given:\n  tank: {value: ⟦outside-own-range|400 ml⟧, from: 500 ml, to: 650 ml}\nchecks:\n  - {at: {tank: 700 ml}, expect: refused, source: from memory}\n",
		"a step of another kind":            "given:\n  tank: {value: 600 ml, from: 500 ml, to: 1 l, step: ⟦kinds-differ|5 min⟧}\nfigures:\n  twice: tank * 2\ntables:\n  t1: {caption: T, rows: tank, cell: twice}\n",
		"a value outside, of a drawn page":  "draws_on: {mix: {page: mix.md, at: {⟦refused-at-own-values|tank⟧: 3 l}}}\nfigures: {x: mix.syrup}\nchecks:\n  - {expect: {x: 5 ml}, source: from memory}\n",
		"no number, at many checks":         "given: {a1: {value: 2, from: 0, to: 4}, b1: {value: 1, from: 0, to: 4}}\nfigures: {x: 1 ⟦not-finite|/⟧ (a1 - 2)}\nchecks:\n  - {at: {b1: 2}, expect: {x: 1}, source: from memory}\n  - {at: {b1: 3}, expect: {x: 1}, source: from memory}\n",
		"a show of another kind":            tank + "figures:\n  twice: {formula: tank * 2, show: ⟦show-kind|1 min⟧}\nchecks:\n  - {expect: {twice: 20 min}, source: from memory}\n",
		"a decimal comma in braces":         "given: {tank: {value: ⟦decimal-comma|6,5⟧ ml, from: 1 ml, to: 9 ml}}\n",
		"a decimal comma of a range":        "given: {tank: {value: 6.5 ml, from: ⟦decimal-comma|1,5⟧ ml, to: 9 ml}}\n",
		"a decimal comma of a step":         "given: {tank: {value: 6 ml, from: 1 ml, to: 9 ml, step: ⟦decimal-comma|0,5⟧ ml}}\n",
		"a decimal comma of a check":        tank + "checks:\n  - {at: {tank: ⟦decimal-comma|600,5⟧ ml}, expect: refused, source: from memory}\n",
		"a comma that is none":              "figures: {x: {formula: round(5 ml⟦quote-for-yaml|,⟧ 1 ml)}}\n",
		"typographic quotes":                tank + "figures:\n  x: {label: X, formula: ⟦typographic-quotes|“⟧round(tank, 1 ml)”, show: 1 ml}\n  y: ⟦typographic-quotes|„⟧tank * 2“\n",
		"typographic quotes of values":      "given:\n  tank: {value: ⟦typographic-quotes|“⟧600 ml”, from: 500 ml, to: ⟦typographic-quotes|«⟧1 l»}\n",
		"typographic quotes of choices":     "given:\n  film: {value: roll, choices: [⟦typographic-quotes|“⟧roll”, sheet]}\n",
		"typographic quotes around a comma": tank + "limits:\n  - {when: tank > 900 ml, notice: ⟦typographic-quotes|“⟧Look, here”}\n",
		"typographic quotes of a text":      "summary: “Hi”\n",
		"rows with one key":                 "data: {log: twice.csv}\ngiven: {a1: {value: 2, from: 1, to: 3}}\nfigures:\n  x: ⟦rows-with-one-key|interpolate⟧(log.y, log.x, a1)\n  y: interpolate(log.y, log.x, a1 / 2 + 1)\n  z: interpolate(log.z, log.x, a1)\n",
		"status":                            "control: {number: A, revision: 1, status: ⟦not-one-of|apprved⟧}\n",
	} {
		text, want := marks(t, pagetest.WithKeys(keys))
		_, _, list := buildWith(text, pagetest.Shelf{"times.csv": exampleFiles["times.csv"], "twice.csv": "x,y,z\n1,2,3\n2,3,4\n2,3,4\n3,4,5\n"}, world)
		list = slices.DeleteFunc(list, func(d source.Diagnostic) bool { return d.Severity == source.Report })
		if got := places(list); !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %s\nwant %s", name, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
		}
	}
}
