package page_test

import (
	"testing"

	"labsite/recipes/page/pagetest"
)

// An error inside a formula is reported at its exact place, in every style of scalar that YAML has.
func TestPositions(t *testing.T) {
	for _, c := range []struct{ name, keys string }{
		{"plain", "figures:\n  water: 500 ml - ⟦unknown-name|tnak⟧ * 2"},
		{"plain, wide characters before", "figures:\n  water: 5 µl + 3 Δ°C / 1 K * 5 µl + ⟦unknown-name|tnak⟧"},
		{"plain, blanks before", "figures:\n  water:     2 *   ⟦unknown-name|tnak⟧  "},
		{"plain over lines", "figures:\n  water: 500 ml\n    - 2 ml\n    - ⟦unknown-name|tnak⟧\n    - 1 ml"},
		{"plain over lines with an empty one", "figures:\n  water: 500 ml\n\n    - ⟦unknown-name|tnak⟧"},
		{"plain on the next line", "figures:\n  water:\n    500 ml - ⟦unknown-name|tnak⟧"},
		{"plain with a comment", "figures:\n  water: 500 ml - ⟦unknown-name|tnak⟧ # not tank"},
		{"plain, two faults", "figures:\n  water: ⟦unknown-name|tnak⟧ + ⟦unknown-name|tnka⟧"},
		{"plain, unit", "figures:\n  water: 500 ⟦unknown-unit|mml⟧ / 3"},
		{"look-alikes", "figures:\n  water: 5 μl * (21 ℃ - 20 ℃) / 1 ∆°C + ⟦unknown-name|tnak⟧\n"},

		{"double quotes", "figures:\n  water: \"500 ml - ⟦unknown-name|tnak⟧\""},
		{"double quotes, escapes before", "figures:\n  water: \"500 \\u006dl - \\x74 * 0 + ⟦unknown-name|tnak⟧\"\n  t: 5 ml"},
		{"double quotes, escaped blank", "figures:\n  water: \"5\\x20ml - ⟦unknown-name|tnak⟧\""},
		{"double quotes, no-break blank", "figures:\n  water: \"5\\_ml - ⟦unknown-name|tnak⟧\""},
		{"double quotes, quote inside", "given:\n  film: {value: roll, choices: [roll, sheet]}\nfigures:\n  water: \"film == \\\"roll\\\" and ⟦unknown-name|tnak⟧\""},
		{"double quotes over lines", "figures:\n  water: \"500 ml\n    - ⟦unknown-name|tnak⟧\n    - 1 ml\""},
		{"double quotes, joined lines", "figures:\n  water: \"500 ml \\\n    - ⟦unknown-name|tnak⟧\""},
		{"double quotes, line feed", "figures:\n  water: \"500 ml\\n - ⟦unknown-name|tnak⟧\""},
		{"double quotes, wide", "figures:\n  water: \"5 µl - ⟦unknown-name|tnak⟧\""},
		{"single quotes", "figures:\n  water: '500 ml - ⟦unknown-name|tnak⟧'"},
		{"single quotes, doubled before", "given:\n  film: {value: roll, choices: [roll, sheet]}\nfigures:\n  water: 'film == ''roll'' and ⟦unknown-name|tnak⟧'"},
		{"single quotes over lines", "figures:\n  water: '500 ml\n    - ⟦unknown-name|tnak⟧'"},

		{"literal block", "figures:\n  water: |\n    500 ml\n    - ⟦unknown-name|tnak⟧\n    - 1 ml"},
		{"literal block, kept blanks", "figures:\n  water: |\n    500 ml\n      - ⟦unknown-name|tnak⟧"},
		{"literal block, stripped", "figures:\n  water: |-\n    500 ml - ⟦unknown-name|tnak⟧"},
		{"literal block, kept end", "figures:\n  water: |+\n    500 ml - ⟦unknown-name|tnak⟧\n\n"},
		{"literal block, indentation said", "figures:\n  water: |2\n      500 ml - ⟦unknown-name|tnak⟧"},
		{"literal block, empty line first", "figures:\n  water: |\n\n    500 ml - ⟦unknown-name|tnak⟧"},
		{"literal block, wide", "figures:\n  water: |\n    5 µl + 2 µl\n    - ⟦unknown-name|tnak⟧"},
		{"folded block", "figures:\n  water: >\n    500 ml\n    - ⟦unknown-name|tnak⟧\n    - 1 ml"},
		{"folded block, stripped", "figures:\n  water: >-\n    500 ml - ⟦unknown-name|tnak⟧"},
		{"folded block, paragraphs", "figures:\n  water: >\n    500 ml\n\n    - ⟦unknown-name|tnak⟧"},
		{"folded block, comment on its head", "figures:\n  water: > # says how\n    500 ml\n    - ⟦unknown-name|tnak⟧"},
		{"block below a label", "figures:\n  water:\n    label: Water\n    formula: |\n      500 ml\n      - ⟦unknown-name|tnak⟧"},

		{"flow, plain", "figures:\n  water: {label: Water, formula: 500 ml - ⟦unknown-name|tnak⟧}"},
		{"flow, plain, last", "figures: {water: {formula: 500 ml - ⟦unknown-name|tnak⟧ , label: W}}"},
		{"flow, quoted", "figures:\n  water: {label: Water, formula: \"round(500 ml - ⟦unknown-name|tnak⟧, 1 ml)\"}"},
		{"flow over lines", "figures:\n  water: {\n    label: Water,\n    formula: 500 ml\n      - ⟦unknown-name|tnak⟧\n  }"},
		{"flow, single quotes", "figures: {water: {formula: '500 ml - ⟦unknown-name|tnak⟧'}}"},
		{"flow in a list", "limits:\n  - {when: 500 ml > ⟦unknown-name|tnak⟧, notice: Look.}"},

		{"anchored", "figures:\n  water: &w 500 ml - ⟦unknown-name|tnak⟧"},
		{"anchored and quoted", "figures:\n  water: &w \"500 ml - ⟦unknown-name|tnak⟧\""},
		{"tagged", "figures:\n  water: !!str 500 ml - ⟦unknown-name|tnak⟧"},
		{"tagged and quoted", "figures:\n  water: !!str '500 ml - ⟦unknown-name|tnak⟧'"},
		{"tagged and anchored", "figures:\n  water: !!str &w 500 ml - ⟦unknown-name|tnak⟧"},
		{"anchored block", "figures:\n  water: &w |\n    500 ml\n    - ⟦unknown-name|tnak⟧"},
		{"an alias is placed at its anchor", "figures:\n  water: &w 500 ml - ⟦unknown-name|tnak⟧\n  more: *w"},

		{"list item", "checks:\n  - always: 500 ml > ⟦unknown-name|tnak⟧"},
		{"list item, quoted", "checks:\n  - always: \"500 ml > ⟦unknown-name|tnak⟧\""},
		{"list in a list", "checks:\n-   always: 500 ml > ⟦unknown-name|tnak⟧"},

		// values and keys
		{"a value", "given:\n  tank: 500 ⟦unknown-unit|mll⟧"},
		{"a short value behind blanks", "given:\n  rolls:      ⟦not-a-number|x⟧"},
		{"a short value behind blanks, with its like before", "given:\n  x:      ⟦not-a-number|x⟧"},
		{"short keys and values", "given:\n  x: 1\n  y:   ⟦not-a-number|x⟧\n  ⟦repeated-key|x⟧:   1"},
		{"short values in flow", "given: {x: {value:   1,  from:    ⟦not-a-number|x⟧, to:  2}}"},
		{"a value in flow", "given:\n  tank: {value: 500 ml, from: ⟦blank-before-unit|500ml⟧, to: 2 l}"},
		{"a value in quotes", "given:\n  tank: \"500 ⟦unknown-unit|mll⟧\""},
		{"a value in quotes with blanks", "given:\n  tank: \"  500 ⟦unknown-unit|mll⟧\""},
		{"a show", "figures:\n  water: {formula: 500 ml, show: ⟦show-kind|1 g⟧}"},
		{"an expected value", "figures:\n  water: 500 ml\nchecks:\n  - expect: {water: 500 ml ± 1 ⟦unknown-unit|mll⟧}\n    source: from memory"},
		{"a key", "⟦unknown-key|figurs⟧:\n  water: 500 ml"},
		{"a key in flow", "given:\n  tank: {value: 500 ml, ⟦unknown-key|vlaue⟧: 2}"},
		{"a quoted key", "\"⟦unknown-key|figurs⟧\":\n  water: 500 ml"},
		{"a name", "given:\n  ⟦name-is-unit|ml⟧: 500 ml"},
		{"a repeated key", "summary: a\n⟦repeated-key|summary⟧: b"},
		{"a repeated name", "given:\n  tank: 500 ml\n  ⟦repeated-key|tank⟧: 600 ml"},
		{"a name used twice", "given:\n  tank: 500 ml\nfigures:\n  ⟦name-taken|tank⟧: 600 ml"},
	} {
		expectMarks(t, c.name, pagetest.WithKeys(c.keys))
	}
}

// The places are the same if the file has CRLF or CR line ends, or a byte-order mark.
func TestPositionsWithOtherLineEnds(t *testing.T) {
	text, want := marks(t, pagetest.WithKeys("# a comment\nfigures:\n  # another\n  water: |\n    500 ml\n    - ⟦unknown-name|tnak⟧\n  more: 2 * ⟦unknown-name|tnka⟧"))
	for name, end := range map[string]string{"LF": "\n", "CRLF": "\r\n", "CR": "\r"} {
		for _, mark := range []string{"", "\ufeff"} {
			_, _, list := build(mark + replaceEnds(text, end))
			if got := places(list); len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
				t.Errorf("%s, mark %q: %v, want %v", name, mark, got, want)
			}
		}
	}
}
