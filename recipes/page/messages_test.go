package page_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
	"labsite/recipes/source/sourcetest"
)

// Data files and a page to draw on, for the examples.
var exampleFiles = pagetest.Shelf{
	"times.csv": "film,bath [°C],minutes [min],x,y [ml]\nroll,18,11,1,10\nroll,20,10,2,100\nsheet,18,9,4,1000\nsheet,20,8,0,10000\n",
	"one.csv":   "date,density\n2026-01-01,0.51\n",
	"holes.csv": "x,y [ml]\n1,2\n2,\n",
	"many.csv":  "x\n" + strings.Repeat("1\n", page.MostLive+1),
	"log.csv":   "date,density,note\n2026-01-01,0.51,a\n2026-01-02,0.52,b\n",
}

const exampleMix = `
given:
  tank: {value: 500 ml, from: 300 ml, to: 1 l}
  film: {value: roll, choices: [roll, sheet]}
  rate: 5 ml
figures:
  syrup: tank / 101
`

// examples are pages with every message that reading, inferring and proving a page can give. Each mark
// has the code and the place: ⟦code|what is marked⟧.
var examples = []string{
	// numbers and quantities
	"given:\n  tank: {value: 500 ml, within: ⟦within-kind|2 g⟧}",
	"keeps: ⟦keeps-what|logs/mixing.csv⟧",
	"keeps: new.csv\ngiven:\n  ⟦keeps-column|note⟧: 5 ml",
	"keeps: new.csv\ndata: {log: new.csv}\nfigures:\n  ⟦keeps-kind|x⟧: {label: X, formula: sum(log.x)}",
	"figures:\n  x: 5 ml\nchecks:\n  - {expect: {x: \"5 ml ±⟦number-missing|\"⟧}, source: from memory}",
	"given:\n  x: ⟦not-a-number|ml⟧ 500",
	"given:\n  x: ⟦number-point|.5⟧ ml",
	"given:\n  x: ⟦number-too-long|1e100⟧ ml",
	"given:\n  x: ⟦leading-zeros|007⟧ ml",
	"given:\n  x: ⟦number-underscore|1_000⟧ ml",
	"given:\n  x: ⟦hexadecimal|0x1F⟧",
	"given:\n  x: ⟦decimal-comma|0,5⟧ ml",
	"given:\n  x: ⟦which-comma|1,000⟧ ml",
	"given:\n  x: ⟦digit-groups|1.000,5⟧ ml",
	"given:\n  x: ⟦clock-time|10:30⟧",
	// counted things
	"given:\n  rolls: {value: 2, from: 1, to: 4}\nfigures:\n  x: ⟦count-or-name|5 ml/rolls⟧",
	// dates
	"given:\n  x: ⟦no-such-day|2026-13-01⟧",
	"given:\n  x: ⟦no-such-day|2026-02-29⟧",
	"given:\n  x: ⟦date-form|28.11.2026⟧",
	"given:\n  x: ⟦date-form|2026-2-3⟧",
	"given:\n  x: ⟦date-form|2026-332⟧",
	"figures:\n  x: ⟦date-form|2026-2-3⟧ + 1",
	"figures:\n  x: ⟦date-form|28.11.2026⟧",
	"figures:\n  x: ⟦date-form|28 November 2026⟧",
	"given:\n  x: ⟦date-negated|-2026-11-28⟧",
	"given:\n  x: ⟦date-with-time|2026-11-28T10:30⟧",
	"figures:\n  x: 2026-11-28 ⟦dates-added|+⟧ 2026-11-29",
	"figures:\n  x: 3 days ⟦date-from-time|-⟧ 2026-11-28",
	"figures:\n  x: 2026-11-28 ⟦date-multiplied|*⟧ 2",
	"figures:\n  x: ⟦date-negated|abs⟧(2026-11-28)",
	"figures:\n  x: ⟦date-rounded|round⟧(2026-11-28, 7 days)",
	"data: {log: log.csv}\nfigures:\n  x: ⟦date-between|interpolate⟧(log.date, log.density, 0.515)",
	"given:\n  x: {value: 2026-11-28, from: 2026-11-01, to: 2026-12-31, step: ⟦date-step|12 h⟧}",
	"figures:\n  x: 2026-11-28\nchecks:\n  - expect: {x: 2026-11-28 ± ⟦percent-of-date|1 %⟧}\n    source: from memory",
	"figures:\n  x: {formula: 2026-11-28, show: ⟦show-date|1 day⟧}",
	"given:\n  x: {value: today, choices: ⟦today-with-choices|[⟧5 ml, 6 ml]}",
	"steps:\n  - do: Fix\n    for: ⟦clock-time|1:30⟧\n    drain: ⟦clock-time|1:05⟧",
	"given:\n  x: ⟦bare-ratio|1:100⟧",
	"given:\n  x: ⟦bare-ratio|1:30⟧",
	"given:\n  x: {value: ⟦bare-ratio|1:63⟧, choices: [⟦bare-ratio|1:31⟧, ⟦bare-ratio|1:49⟧, ⟦bare-ratio|1:63⟧]}",
	"given:\n  x: {value: 1+63, choices: [⟦bare-ratio|1:31⟧, 1+49, ⟦bare-ratio|1:63⟧]}",
	"given:\n  x: ⟦blank-before-unit|500ml⟧",
	"given:\n  x: 500 ⟦unknown-unit|mll⟧",
	"given:\n  x: 5 ⟦which-ounce|oz⟧",
	"given:\n  x: 20 ⟦which-measure|fl oz⟧",
	"given:\n  x: 1 ⟦unknown-unit|sq m⟧",
	"given:\n  x: 5 ⟦scale-joined|°C/min⟧",
	"given:\n  x: 5 ⟦scale-joined|J/°C⟧",
	"given:\n  x: 5 ⟦units-do-not-join|USD*EUR⟧",
	"given:\n  x: ⟦duration-whole|1.5 h⟧ 10 min",
	"given:\n  x: ⟦duration-order|2 min 1 h⟧",
	"given:\n  x: 10 min ⟦duration-below|60 s⟧",
	"given:\n  x: 5 min ⟦duration-unit|30⟧",
	"given:\n  x: 5 min ⟦operator-missing|30 ml⟧",
	"given:\n  x: ⟦fraction-by-zero|1/0⟧ s",
	"given:\n  x: ⟦fraction-too-large|1 5/3⟧ stop",
	"given:\n  x: ⟦dilution-blanks|1 + 100⟧",
	"given:\n  x: ⟦dilution-three-parts|1+2+100⟧",
	"given:\n  x: ⟦dilution-empty|2 in 1⟧",
	"given:\n  x: 500 ml ⟦text-after-value|or so⟧",
	"figures:\n  x: 500 ml * ⟦dilution-in-formula|1+100⟧",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml}\nfigures: {y: x * 2}\ntables:\n  t1: {caption: C, rows: {x: 1 ml ⟦range-dots|2⟧ ml .. 3 ml}, cell: y}",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml}\nfigures: {y: x * 2}\ntables:\n  t1: {caption: C, rows: {x: ⟦range-order|5 ml .. 3 ml⟧ by 1 ml}, cell: y}",
	"figures:\n  x: 5 ml\nchecks:\n  - expect: {x: 5 ml ± ⟦tolerance-negative|-1 ml⟧}\n    source: from memory",
	"figures:\n  x: 5 ml\nchecks:\n  - expect: {x: 5 ml ± ⟦kinds-differ|1 g⟧}\n    source: from memory",
	"figures:\n  x: 20 °C\nchecks:\n  - expect: {x: 20 °C ± ⟦percent-of-temperature|1 %⟧}\n    source: from memory",

	// showing
	"figures:\n  x: {formula: 5 ml, show: ⟦show-kind|1 g⟧}",
	"figures:\n  x: {formula: 5 ml > 1 ml, show: ⟦show-nothing|1 ml⟧}",
	"figures:\n  x: {formula: 5 m, show: ⟦show-usual|usual⟧}",
	"figures:\n  x: {formula: 5 ml, show: \"⟦show-empty| ⟧\"}",
	"figures:\n  x: {formula: 5 ml, show: ⟦show-unknown|nicely⟧}",
	"figures:\n  x: {formula: 5 ml, show: ⟦show-fraction|1/3 ml⟧}",
	"figures:\n  x: {formula: 5 ml, show: ⟦show-too-fine|1e-20 ml⟧}",
	"figures:\n  x: {formula: 5 ml, show: ⟦step-not-positive|0 ml⟧}",

	// formulas: reading
	"checks:\n  - always: \"⟦formula-empty| ⟧\"",
	"figures:\n  x: \"⟦formula-too-long|" + strings.Repeat("1 + ", 600) + "1⟧\"",
	"figures:\n  x: ⟦formula-too-large|" + strings.Repeat("1 + ", 150) + "1⟧",
	"figures:\n  x: " + strings.Repeat("(", 64) + "⟦formula-too-deep|(⟧1" + strings.Repeat(")", 65),
	"figures:\n  x: 500 ml ⟦formula-ends-early|+⟧",
	"figures:\n  x: ⟦bracket-open|(⟧500 ml",
	"figures:\n  x: 5 + ⟦unexpected-sign|*⟧ 3",
	"figures:\n  x: if 1 > 2 { 1 } else ⟦braces-form|2⟧",
	"figures:\n  x: if 1 > 2 { 1 } else { 2 } ⟦after-else|+⟧ 1",
	"figures:\n  x: 1 ⟦single-equals|=⟧ 2",
	"figures:\n  x: 1 + ⟦if-place|if⟧ 1 > 2 { 1 } else { 2 }",
	"figures:\n  x: 1 == ⟦quote-open|'⟧roll",
	"figures:\n  x: 1 > 2 ⟦not-allowed|&&⟧ 2 > 1",
	"figures:\n  x: ⟦name-underscore|_a⟧ + 1",
	"figures:\n  x: 50⟦percent-sign|%⟧",
	"figures:\n  x: 5 ⟦foreign-sign|×⟧ 3",
	"figures:\n  x: 5 ml ⟦operator-missing|3⟧",
	"figures:\n  x: 10 g / ⟦unit-alone|l⟧",

	"figures:\n  x: ⟦typographic-quotes|“⟧5 ml”",

	// formulas: names and kinds
	"figures:\n  x: ⟦unknown-name|tnak⟧ + 1",
	"figures:\n  x: ⟦unknown-function|rond⟧(1, 2)",
	"figures:\n  x: ⟦argument-count|round⟧(1)",
	"figures:\n  x: 1 + (1 ⟦wrong-kind|>⟧ 2)",
	"figures:\n  x: 5 ml ⟦kinds-differ|+⟧ 3 g",
	"figures:\n  x: 20 °C ⟦points-added|+⟧ 20 °C",
	"figures:\n  x: 2 K ⟦point-from-difference|-⟧ 20 °C",
	"figures:\n  x: 2 ⟦point-multiplied|*⟧ 20 °C",
	"figures:\n  x: ⟦point-negated|abs⟧(20 °C)",
	"figures:\n  x: 2 stop ⟦stops-multiplied|*⟧ 2 stop",
	"figures:\n  x: 2 USD ⟦currencies-mixed|*⟧ 2 EUR",
	"figures:\n  x: 2 m ⟦power-too-high|**⟧ 10",
	"figures:\n  x: 2 m ** ⟦power-whole|0.5⟧",
	"figures:\n  x: sqrt(⟦no-root|2 m⟧)",
	"given:\n  w1: {value: no, choices: [no, yes, perhaps]}\nfigures:\n  x: \"⟦yes-among-texts|w1⟧ ? 1 : 2\"",
	"given:\n  w1: {value: a, choices: [a, b]}\n  w2: {value: c, choices: [c, d]}\nfigures:\n  x: w1 ⟦texts-apart|==⟧ w2",
	"given:\n  w1: {value: 5 ml, from: 1 ml, to: 9 ml}\nfigures:\n  x: \"w1 > 5 ml ? 'ok' : 'repair'\"\nchecks:\n  - {expect: {x: ⟦not-a-choice|repiar⟧}, source: from memory}",
	"given:\n  x: {example: 5 ml, ⟦example-and-value|value⟧: 5 ml, from: 1 ml, to: 9 ml}",
	"given:\n  ⟦reading-unbounded|x⟧: {example: 5 ml}",
	"figures:\n  x: {formula: 5 ml, else: \"⟦else-braces|{x} is not there⟧\"}",
	"figures:\n  x: ⟦not-allowed|map⟧(5 ml, 1)",
	"figures:\n  x: ⟦aperture-in-formula|f/8⟧ * 2",
	"given:\n  w1: {value: a, choices: [a, b]}\nfigures:\n  x: \"w1 == ⟦text-unquoted|b⟧ ? 1 : 2\"",
	"data: {times: times.csv}\ngiven:\n  w1: {value: a, choices: [a, b]}\nfigures:\n  x: lookup(times.minutes, times.x, ⟦kinds-differ|w1⟧)",
	"figures:\n  x: {formula: round(5 ml, 1 ml)⟦not-opened|\"⟧, show: 1 ml}",
	"given:\n  x: {label: ⟦not-closed|\"⟧Tank, value: 5 ml}",
	"given:\n  x: {label: ⟦not-closed|\"⟧Tank, value: 5 ml}\n  y: {label: \"Bath\", value: 20 °C}",
	"given:\n  x: {value: a, choices: [⟦not-closed|\"⟧a, b]}",
	"given:\n  w1: {value: no, choices: [no, yes]}\n  w2: {value: ⟦not-a-choice|maybe⟧, choices: [no, yes]}\nfigures:\n  x: \"w1 ? 1 : 2\"",
	"given:\n  w1: {value: a, choices: [a, b]}\nfigures:\n  x: w1 ⟦text-compared|<⟧ 'b'",
	"figures:\n  x: 5 ⟦text-beside|==⟧ 'b'",
	"given:\n  w1: {value: no, choices: [no, yes]}\nfigures:\n  x: \"w1 ⟦yes-beside-text|==⟧ 'yes' ? 1 : 2\"",
	"figures:\n  x: months_after(2026-01-31, ⟦count-whole|1.5⟧)",
	"figures:\n  x: ⟦not-allowed|all⟧(5 ml)",
	"figures:\n  x: ⟦not-allowed|now⟧() + 3 days",
	"figures:\n  x: ⟦quote-for-yaml|*⟧tank",
	"figures:\n  x: ⟦quote-for-yaml|!⟧tank",
	"figures:\n  x: ⟦unknown-name|tnak⟧ + 1\nchecks:\n  - {expect: {x: ok}, source: from memory}",
	"given:\n  w1: {value: a, choices: [a, b]}\nfigures:\n  x: w1 == ⟦not-a-choice|'c'⟧",
	"figures:\n  x: let ⟦let-name|ml⟧ = 5; 3",
	"given:\n  y: 5\nfigures:\n  x: let ⟦name-taken|y⟧ = 5; 3",
	"data: {times: times.csv}\nfigures:\n  x: ⟦data-alone|times⟧",
	"data: {times: times.csv}\nfigures:\n  x: ⟦column-alone|times.x⟧",
	"data: {times: times.csv}\nfigures:\n  x: lookup(⟦wants-column|5⟧, times.x, 1)",
	"data: {times: times.csv}\nfigures:\n  x: ⟦rows-of-kind|sum⟧(times.bath)",
	"data: {times: {file: times.csv, adds: {⟦added-twice|y⟧: bath}}}",
	"given:\n  x1: {value: 5, from: 1, to: 9}\ndata:\n  times: {file: times.csv, adds: {z: x * x1}}\nfigures:\n  y1: ⟦live-column|lookup⟧(times.minutes, times.z, 5)",
	"given:\n  x1: {value: 5, from: 1, to: 9}\ndata:\n  many: {file: many.csv, adds: {⟦too-many-live-rows|z⟧: x * x1}}",
	"given:\n  x1: {value: 5, from: 1, to: 9}\ndata:\n  times: {file: times.csv, adds: {z: y * x1}}\ncharts:\n  ⟦live-points|c⟧: {caption: C, points: {x: times.x, y: times.z}, limits: individuals}",
	"data:\n  times: {file: times.csv, adds: {z: \"x > 1 ? 'a' : 'b'\"}}\ncharts:\n  ⟦wrong-kind|c⟧: {caption: C, points: {x: times.x, y: times.z}}",
	"given:\n  x: 5\ndata:\n  times: {file: times.csv, adds: {z: ⟦name-of-both|x⟧ * 2}}",
	"data:\n  times: {file: times.csv, adds: {z: 1 ⟦added-fails|/⟧ x}}",
	"data:\n  times: {file: times.csv, adds: {⟦cycle|z⟧: z + 1}}",
	"data:\n  times: {file: times.csv, adds: {z: ⟦unknown-name|boath⟧ - 2 K}}",
	"data: {times: times.csv}\nlimits:\n  - {each: ⟦unknown-data|tmes⟧, when: x > 1, notice: Much.}",
	"data: {times: times.csv}\nlimits:\n  - {each: times, when: ⟦unknown-name|xx⟧ > 1, notice: Much.}",
	"given:\n  x1: {value: 5, from: 1, to: 9}\ndata: {many: many.csv}\nlimits:\n  - {each: many, when: ⟦too-many-live-rows|x > x1⟧, notice: Much.}",
	"data: {times: times.csv}\ntables:\n  t: {caption: T, of: times, columns: [⟦unknown-column|xx⟧]}",
	"data: {times: times.csv}\ntables:\n  t: {caption: T, of: ⟦unknown-data|tmes⟧, columns: [x]}",
	"data: {times: times.csv}\ntables:\n  t: {caption: T, of: times, cell: ⟦of-and-grid|x⟧, columns: [x]}",
	"data: {times: times.csv}\ntables:\n  t: {caption: T, of: times, columns: [x], totals: [⟦total-not-shown|y⟧]}",
	"data: {times: times.csv}\ntables:\n  t: {caption: T, of: times, columns: [x], where: ⟦wrong-kind|x + 1⟧}",
	"data: {times: times.csv}\ntables:\n  ⟦rows-of-kind|t⟧: {caption: T, of: times, columns: [bath], totals: [bath]}",
	"data: {many: many.csv}\ntables:\n  ⟦too-many-cells|t⟧: {caption: T, of: many, columns: [x]}",
	"given:\n  x1: {value: 5 ml, from: 1 ml, to: 9 ml, step: 1 ml}\nfigures:\n  y1: x1\ntables:\n  t: {caption: T, rows: x1, cell: y1, where: ⟦rows-without-of|x1 > 2 ml⟧}",
	"data: {times: times.csv}\nfigures:\n  x: lookup(⟦unknown-data|tmes.x⟧, times.x, 1)",
	"data: {times: times.csv}\nfigures:\n  x: lookup(⟦unknown-column|times.z⟧, times.x, 1)",
	"data: {times: times.csv, log: log.csv}\nfigures:\n  x: ⟦columns-of-two-files|lookup⟧(times.x, log.density, 1)",
	"data: {times: times.csv}\nfigures:\n  x: ⟦log-of-nothing|interpolate_log⟧(times.y, times.x, 1)",
	"data: {times: times.csv}\nfigures:\n  x: ⟦rows-with-one-key|lookup⟧(times.y, times.film, 'roll')",
	"data: {times: times.csv}\nfigures:\n  x: lookup(times.y, times.x, ⟦kinds-differ|1 ml⟧)",

	// front matter
	"summary: ⟦quote-for-yaml|{⟧tank} of water",
	"summary: a⟦quote-for-yaml|:⟧ b",
	"summary: Tank ⟦cut-short|#2⟧",
	"summary: a\n⟦repeated-key|summary⟧: b",
	"⟦unknown-key|sumary⟧: a",
	"topics: ⟦wrong-shape|a⟧",
	"given:\n  a1: &x {value: 1}\n  b1: {⟦no-merge-key|<<⟧: *x, value: 2}",
	"topics: [a]\n...\n⟦bad-yaml|order⟧: 1",
	"given:\n  ⟦bad-name|Tank⟧: 5 ml",
	"given:\n  ⟦name-is-unit|ml⟧: 5 ml",
	"given:\n  ⟦name-reserved|steps⟧: 5 ml",
	"given:\n  ⟦missing-key|x⟧: {label: X}",

	// control
	"control: {number: A, revision: 1, status: ⟦not-one-of|done⟧}",
	"control: {number: A, revision: 1, status: draft, effective: ⟦not-a-date|soon⟧}",
	"control: {number: A, revision: 1, status: draft, review: ⟦not-a-period|12⟧}",
	"control: {number: A, revision: 1, status: draft, changes: {⟦change-beyond|2⟧: Better.}}",

	"control: {number: A, revision: 1, status: draft, approved: 2026-10-01, effective: ⟦effective-before|2026-09-30⟧}",
	"control: {number: A, revision: ⟦revision-unsaid|2⟧, status: draft, changes: {1: First.}}",

	// given
	"given:\n  x: {value: 5 ml, choices: [5 ml, 6 ml], from: ⟦choices-and-range|1 ml⟧}",
	"given:\n  x: {value: 5 ml, step: ⟦step-alone|1 ml⟧}",
	"given:\n  x: {value: 5 ml, from: ⟦half-range|1 ml⟧}",
	"given:\n  x: {value: 5 ml, from: ⟦range-order|9 ml⟧, to: 1 ml}",
	"given:\n  x: {value: ⟦outside-own-range|5 ml⟧, from: 6 ml, to: 9 ml}",
	"given:\n  x: {value: 5 ml, choices: ⟦no-choices|[⟧]}",
	"given:\n  x: {value: 5 ml, choices: [5 ml, ⟦choice-twice|5 ml⟧]}",
	"given:\n  x: {value: a, choices: ⟦too-many-choices|[⟧" + strings.Repeat("a, ", page.MostChoices+1) + "]}",
	"given:\n  x: {value: ⟦not-a-choice|7 ml⟧, choices: [5 ml, 6 ml]}",
	"given:\n  x: {value: 5, from: 1, to: 9}\nchecks:\n  - at: {x: ⟦out-of-range|10⟧}\n    expect: refused\n    source: from memory",
	"given:\n  x: {value: 5, from: 1, to: 9}\nchecks:\n  - at: {x: ⟦whole-only|1.5⟧}\n    expect: refused\n    source: from memory",
	"given:\n  x: 5\nchecks:\n  - at: {x: ⟦given-fixed|6⟧}\n    expect: refused\n    source: from memory",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml}\nchecks:\n  - at: {x: ⟦unit-missing|6⟧}\n    expect: refused\n    source: from memory",
	"given:\n  x: {value: 20 °C, from: 18 °C, to: 24 °C}\nchecks:\n  - at: {x: ⟦unit-missing|68⟧}\n    expect: refused\n    source: from memory",
	"given:\n  x: {value: 5, from: 1, to: 9}\nchecks:\n  - at: {⟦unknown-given|z⟧: 6}\n    expect: refused\n    source: from memory",

	"given:\n  x: {value: 5, source: measured here ⟦no-such-day|2026-02-30⟧, review: 1 year}",

	"given:\n  x: {value: 2 min, from: 1 min, to: 3 min, step: 1 min}\nsteps:\n  - {do: A, for: ⟦step-negative|x - 2 min⟧}",
	"data: {times: times.csv}\nsteps:\n  - {do: A, for: \"⟦refused-at-own-values|lookup⟧(times.minutes, times.x, 7)\"}",
	"given:\n  x: {value: 2, from: 0, to: 3}\nsteps:\n  - {do: A, for: ⟦not-finite|1 min / x⟧}",

	// figures, limits, checks
	"figures:\n" + manyFigures(500) + "  ⟦too-many-figures|f500⟧: 1\n",
	"figures:\n  ⟦cycle|a1⟧: b1 + 1\n  b1: a1 + 1",
	"given:\n  x: {value: 5, from: 0, to: 9}\nfigures:\n  y: 1 ⟦not-finite|/⟧ x",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml, step: 1 ml}\nfigures:\n  y: 1 ml2 ⟦not-finite|/⟧ (x - 3.14 ml)",
	"given:\n  x: {value: 5, from: 0, to: 9}\nlimits:\n  - {when: ⟦refused-at-own-values|x == 5⟧, refuse: No.}",
	"limits:\n  - {when: 1 > 2, notice: A., caution: ⟦limit-twice|B.⟧}",
	"limits:\n  - {⟦limit-without-text|when⟧: 1 > 2}",
	"given:\n  x: {value: 5, from: 0, to: 9}\nlimits:\n  - {when: ⟦limit-never|x > 9⟧, notice: A.}",
	"checks:\n  - {⟦check-empty|source⟧: from memory}",
	"figures:\n  x: 5\nchecks:\n  - {expect: {x: 5}, always: ⟦check-both|x > 1⟧}",
	"checks:\n  - {expect: ⟦expect-word|refuse⟧, source: from memory}",
	"checks:\n  - {expect: {⟦unknown-figure|x⟧: 5}, source: from memory}",
	"figures:\n  x: 5\nchecks:\n  - {expect: {x: ⟦check-fails|6⟧}, source: from memory}",
	"figures:\n  x: 5\nchecks:\n  - {expect: ⟦check-fails|notice⟧, source: from memory}",
	"given:\n  x: {value: 5, from: 0, to: 9}\nfigures:\n  y: x\nlimits:\n  - {when: x > 8, refuse: No.}\nchecks:\n  - {at: {x: 9}, expect: ⟦check-refused|{⟧y: 9}, source: from memory}",
	"given:\n  x: {value: 5, from: 0, to: 9}\nchecks:\n  - always: ⟦always-fails|x < 9⟧",
	"figures:\n  x: 5\nchecks:\n  - always: ⟦always-constant|x < 9⟧",

	// steps, cautions, tables, charts
	"steps:\n  - do: Fix\n    agitate: {first: ⟦clock-time|1:00⟧}",
	"steps:\n  - do: Fix\n    ⟦missing-key|agitate⟧: {turning: 10 s}",
	"steps:\n  - do: Fix\n    agitate: {every: 60 s, inversions: 2, ⟦turned-twice|turning⟧: 10 s}",
	"steps:\n  - do: Fix\n    for: ⟦wrong-kind|90⟧",
	"steps:\n  - do: Fix\n    caution: ⟦unknown-caution|glovs⟧",
	"steps:\n  - do: Fix\n    caution: ⟦caution-word|Wear gloves.⟧",
	"cautions:\n  gloves: ⟦unknown-caution|glovs⟧",
	"substances: [{name: acetic acid, strength: ⟦strength-range|120 %⟧}]",
	"makes: {⟦bad-name|Syrup⟧: {amount: 1 l}}",
	"makes: {⟦missing-key|syrup⟧: {label: Syrup}}",
	"makes: {syrup: {amount: 1 l, ⟦unknown-key|last⟧: 12 months}}",
	"makes: {syrup: {amount: ⟦wrong-kind|20 °C⟧}}",
	"makes: {syrup: {amount: 1 l, lasts: ⟦wrong-kind|1 l⟧, opened: ⟦wrong-kind|2026-11-28⟧}}",
	"makes: {syrup: {amount: ⟦product-nothing|1 l - 1 l⟧, opened: ⟦product-nothing|2 h - 3 h⟧}}",
	"data: {times: times.csv}\nmakes: {syrup: {amount: \"⟦product-refused|lookup⟧(times.y, times.x, 9)\"}}",
	"given: {x: 0}\nmakes: {syrup: {amount: 1 l ⟦not-finite|/⟧ x}}",
	"makes: {syrup: {amount: 1 l, contains: [{name: acetic acid, strength: ⟦strength-range|120 %⟧}]}}",
	"substances: [{name: acetic acid, strength: ⟦strength-range|0 %⟧}]",
	"substances: [{name: acetic acid, strength: ⟦strength-range|-5 %⟧}, {name: citric acid, strength: 100 %}]",
	"substances: [{name: acetic acid, strength: ⟦wrong-shape|0.28⟧}]",
	"given:\n  x: {value: 5, from: 1, to: 9}\nfigures:\n  y: x\ntables:\n  t1: {caption: C, list: [y], rows: ⟦list-and-grid|x⟧}",
	"given:\n  x: {value: 5, from: 1, to: 9}\nfigures:\n  y: x\ntables:\n  t1: {caption: C, rows: x, cell: y, blanks: ⟦blanks-without-list|[⟧lot]}",
	"given:\n  x: {value: 5, from: 1, to: 900}\nfigures:\n  y: x\ntables:\n  ⟦too-many-cells|t1⟧: {caption: C, rows: x, cell: y}",
	"given:\n  x: {value: 5, from: 1, to: 9}\nfigures:\n  y: x\ntables:\n  ⟦one-given-twice|t1⟧: {caption: C, rows: x, columns: x, cell: y}",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml}\nfigures:\n  y: x\ntables:\n  t1: {caption: C, rows: ⟦no-steps|x⟧, cell: y}",
	"given:\n  x: 5 ml\nfigures:\n  y: x\ncharts:\n  c1: {caption: C, x: ⟦no-range|x⟧, y: y}",
	"given:\n  x: {value: 5 ml, from: 1 ml, to: 9 ml}\nfigures:\n  y: x\ncharts:\n  c1: {caption: C, x: x, y: y, limits: ⟦limits-without-points|individuals⟧}",

	"data: {log: log.csv}\ngiven: {a1: 0.5, b1: 0.1, c1: 0.08}\ncharts:\n  c2: {caption: C, points: {x: log.date, y: log.density}, limits: {aim: a1, action: ⟦limits-crossed|b1⟧, control: c1}}",
	"data: {log: one.csv}\ncharts:\n  c1: {caption: C, points: {x: log.date, y: log.density}, limits: individuals, baseline: ⟦few-baseline|19⟧}",
	"data: {log: one.csv}\ncharts:\n  c1: {caption: C, points: {x: log.date, y: log.density}, limits: individuals, baseline: ⟦wrong-shape|many⟧}",
	"data: {log: one.csv}\ncharts:\n  c1: {caption: C, points: {x: log.date, y: log.density}, baseline: ⟦baseline-without-method|20⟧}",

	// data and pages drawn on
	"data: {times: ⟦path-outside|../times.csv⟧}",
	"data: {times: ⟦link-nowhere|tims.csv⟧}",
	"data: {times: ⟦data-broken|holes.csv⟧}\nfigures: {x: \"lookup(times.y, times.x, 1)\"}\nchecks: [{expect: {x: 2 ml}, source: from memory}]",
	"draws_on: {mix: {page: mix.md, at: {film: ⟦texts-differ|w1⟧}}}\ngiven:\n  w1: {value: a, choices: [a, b]}\nfigures: {x: mix.syrup}",
	"draws_on: {mix: {page: mix.md, at: {⟦given-fixed|rate⟧: 6 ml}}}\nfigures: {x: mix.syrup}",
	"draws_on: {\n" + manyUses(page.MostDrawn) + "  last: ⟦drawn-too-many|mix.md⟧}",

	// bench formulas
	"given:\n  t1: {value: 20 °C, from: 18 °C, to: 30 °C}\n  k1: {value: 1.09, source: from memory, owner: lead}\nfigures:\n  x: time_at_temperature(8 min, 20 °C, ⟦wider-than-tested|t1⟧, k1, 18 °C, 24 °C)",
	"given:\n  t1: {value: 20 °C, from: 18 °C, to: 24 °C}\nfigures:\n  x: time_at_temperature(8 min, 20 °C, t1, ⟦not-owned|1.09⟧, 18 °C, 24 °C)",
}

func manyUses(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  u%d: mix.md,\n", i)
	}
	return b.String()
}

func manyFigures(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("  f" + strconv.Itoa(i) + ": 1\n")
	}
	return b.String()
}

// whole are examples that are not a page with a title and an audience.
var whole = []string{
	"⟦no-front-matter|# A⟧ page\n",
	"⟦front-matter-open|---⟧\ntitle: T\n",
	"---\n⟦front-matter-map|-⟧ a\n---\n",
	"---\ntitle: T\naudience: staff\ntopics: " + strings.Repeat("[", 64) + "⟦front-matter-too-large|[⟧" + strings.Repeat("]", 65) + "\n---\n",
	"---\ntitle: a⟦control-character|\x01⟧\naudience: staff\n---\n",
	"---\ntitle: a⟦not-utf8|\xff⟧\naudience: staff\n---\n",
	"⟦page-too-large|---⟧\ntitle: " + strings.Repeat("x", 1<<20) + "\n---\n",
}

// dataExamples are data files, settingsExamples settings.
var dataExamples = []string{
	"⟦data-empty|a⟧\n",
	"a,b\n1,2\n⟦data-field-count|1⟧\n",
	"film⟦data-other-comma|;⟧minutes [min]\nroll;9,5\n",
	"film⟦data-other-comma|\t⟧minutes [min]\nroll\t9\n",
	"a, b [ ⟦unknown-unit|mn⟧ ]\n1,5\n",
	"b,\"a [⟦unknown-unit|mn⟧]\"\n1,5\n",
	"a\nx⟦data-unreadable|\"⟧y\n",
	"a,b\n⟦data-field-count|1,8,5⟧\n",
	"a,⟦data-column-twice|a⟧\n1,2\n",
	"a,b\n1,⟦data-cell-empty|⟧\n",
	"a\n5 ml\n⟦data-mixed|roll⟧\n",
	"a,b\n1,\"⟦decimal-comma|0,5⟧\"\n2,\"1,0\"\n",
	"⟦bad-name|A⟧\n1\n",
	"a [ml]\n⟦kinds-differ|5 g⟧\n",
	"a\n2026-11-01\n⟦data-mixed|20261102⟧\n2026-11-03\n",
	"a\n2026-11-01\n⟦no-such-day|2026-11-31⟧\n",
	"a\n2026-11-01\n⟦date-form|04.11.2026⟧\n",
	"a\n5 ml\n⟦kinds-differ|5 g⟧\n",
	"a [⟦unknown-unit|mll⟧]\n5\n",
	"b,a [⟦unknown-unit|mn⟧]\n1,5\n",
	"a [⟦which-measure|fl oz⟧]\n5\n",
	"a [ml/⟦unknown-unit|sq m⟧]\n5\n",
	"a [⟦scale-joined|°C/min⟧]\n5\n",
	"a [⟦not-a-unit|]⟧\n5\n",
}

// dayExamples are data files whose days a chart cannot place.
var dayExamples = []string{
	"day [text],density\n2026-11-01,0.51\n⟦no-such-day|2026-11-31⟧,0.52\n",
	"day,density\n⟦date-form|03.11.2026⟧,0.51\n04.11.2026,0.52\n",
}

var settingsExamples = []string{
	"address: ⟦not-an-address|here⟧\n",
	"guarded: ⟦guarded-share|120 %⟧\n",
	"units: ⟦not-one-of|old⟧\n",
	"counts: [drum, ⟦count-is-unit|cup⟧]\n",
	"counts: [⟦count-word|Big drum⟧]\n",
	"customers_see: [owner, ⟦not-one-of|price⟧]\n",
	"alike: [[hypo, fixer], ⟦alike-group|[⟧syrup]]\n",
	"alike: [⟦alike-group|hypo⟧]\n",
	"alike: [[hypo, fixer, '⟦alike-word|--⟧']]\n",
	"alike: [[hypo, fixer, ⟦alike-word|what we pour last of all into it⟧]]\n",
	"alike: [[hypo, fixer, ⟦alike-amount|1+4⟧]]\n",
	"alike: [[hypo, fixer, ⟦alike-twice|Hypo⟧]]\n",
	"⟦unknown-key|nmae⟧: x\n",
}

// unreachable are functions that no page can reach, with the reason why. Each is kept as the last case
// of a switch, so that a bug of the program is reported and not ignored.
var unreachable = map[string]string{
	"FormulaUnreadable": "a part of the engine's tree that the scanner lets through nowhere",
	"KeyNotText":        "the YAML library refuses keys that are lists or maps",
	"RefusedAlways":     "a page that refuses its own values is told that first",
	"TradeFails":        "entries of the formulary are tried over kinds when they are loaded",
	"TradeResult":       "likewise",
	"DataTooLarge":      "a file above 16 MiB: TestReadTableBounds",
	"DrawnTooLarge":     "pages with 20,000 values: TestTooManyDrawn",
}

// A data file has at most 16 MiB and 100,000 rows.
func TestReadTableBounds(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		ok   bool
	}{
		"100,000 rows":       {"a\n" + strings.Repeat("1\n", page.MostRows), true},
		"100,001 rows":       {"a\n" + strings.Repeat("1\n", page.MostRows+1), false},
		"more than 16 MiB":   {"a\n" + strings.Repeat("x", page.MostDataBytes), false},
		"a cell of 1 MiB":    {"a\n" + strings.Repeat("x", 1<<20), false},
		"a quote that opens": {"a\n\"" + strings.Repeat("x\n", 1<<20), false},
	} {
		sourcetest.Bounded(t, name, func() {
			f, _ := source.New("data.csv", []byte(c.text))
			table, list := page.ReadTable(f)
			if (table != nil) != c.ok || (list.Errors() == 0) != c.ok {
				t.Errorf("%s: %v, %s", name, table != nil, clip(fmt.Sprint(list[:min(1, len(list))])))
			}
			if !c.ok && strings.Contains(name, "0,001") && list[0].Code != "data-too-large" {
				t.Errorf("%s: %s", name, list[0].Code)
			}
		})
	}
}

// Every function of the wording that is called in reading, inferring and proving a page has an example
// here, with its exact place, a message and a hint.
func TestEveryMessageHasAnExample(t *testing.T) {
	var all source.List
	check := func(marked string, list source.List, want []string) {
		t.Helper()
		if got := places(list); !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %s\nwant %s", clip(marked), clip(strings.Join(got, "\n     ")), clip(strings.Join(want, "\n     ")))
		}
		for _, d := range list {
			if d.Message == "" || d.Hint == "" || d.Line < 1 || d.Column < 1 || d.File == "" {
				t.Errorf("%s: %+v", clip(marked), d)
			}
		}
		all = append(all, list...)
	}
	mix, _, list := buildWith(pagetest.WithKeys(exampleMix), nil, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	world := page.World{Page: func(path string) (*page.Sheet, source.Problem, bool) {
		return mix, source.LinkNowhere(path, ""), path == "mix.md"
	}}
	for _, marked := range examples {
		text, want := marks(t, pagetest.WithKeys(marked))
		_, _, list := buildWith(text, exampleFiles, world)
		check(marked, list, want)
	}
	for _, marked := range whole {
		text, want := marks(t, marked)
		f, list := source.New("page.md", []byte(text))
		if len(list) == 0 {
			_, _, list = buildWith(f.Text, nil, page.World{})
			list = slices.DeleteFunc(list, func(d source.Diagnostic) bool { return d.Code == "missing-key" })
		}
		check(marked, list, want)
	}
	for _, marked := range dataExamples {
		text, want := marks(t, marked)
		f, _ := source.New("data.csv", []byte(text))
		table, list := page.ReadTable(f)
		if table != nil {
			t.Errorf("%s is read", marked)
		}
		check(marked, list, want)
	}
	for _, marked := range dayExamples {
		text, want := marks(t, marked)
		_, _, list := buildWith(pagetest.WithKeys("data: {log: log.csv}\ncharts:\n  strip: {caption: C, points: {x: log.day, y: log.density}}"), pagetest.Shelf{"log.csv": text}, world)
		check(marked, list, want)
	}
	for _, marked := range settingsExamples {
		text, want := marks(t, marked)
		f, _ := source.New(page.SettingsFile, []byte(text))
		_, list := page.DecodeSettings(f)
		check(marked, list, want)
	}

	functions := wording(t)
	for _, name := range called(t, functions) {
		w := functions[name]
		found := slices.ContainsFunc(all, func(d source.Diagnostic) bool {
			return d.Code == w.code && slices.ContainsFunc(w.parts, func(part string) bool { return strings.Contains(d.Message, part) })
		})
		switch {
		case !found && unreachable[name] == "":
			t.Errorf("source.%s (%s) has no example", name, w.code)
		case found && unreachable[name] != "":
			t.Errorf("source.%s (%s) is called unreachable, and has an example", name, w.code)
		}
	}
}

// wordingOf is what a function of the wording returns: its code, and parts of its message.
type wordingOf struct {
	code  string
	parts []string
}

// wording reads the files of the wording.
func wording(t *testing.T) map[string]wordingOf {
	t.Helper()
	files, err := filepath.Glob("../source/wording*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]wordingOf{}
	var decls []ast.Decl
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		decls = append(decls, file.Decls...)
	}
	for _, decl := range decls {
		f, ok := decl.(*ast.FuncDecl)
		if !ok || !f.Name.IsExported() || f.Recv != nil || f.Type.Results == nil {
			continue
		}
		if result, ok := f.Type.Results.List[0].Type.(*ast.Ident); !ok || result.Name != "Problem" {
			continue
		}
		var w wordingOf
		ast.Inspect(f.Body, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if callee, ok := n.Fun.(*ast.Ident); ok && (callee.Name == "fault" || callee.Name == "remark") {
					if literal, ok := n.Args[0].(*ast.BasicLit); ok {
						w.code, _ = strconv.Unquote(literal.Value)
					}
				}
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
					for _, part := range strings.FieldsFunc(verbs.Replace(text), func(r rune) bool { return r == '\x00' }) {
						if len(strings.TrimSpace(part)) > 3 {
							w.parts = append(w.parts, strings.TrimSpace(part))
						}
					}
				}
			}
			return true
		})
		out[f.Name.Name] = w
	}
	if len(out) < 150 {
		t.Fatalf("only %d functions in the wording", len(out))
	}
	return out
}

var verbs = strings.NewReplacer("%s", "\x00", "%q", "\x00", "%d", "\x00", "%c", "\x00", "%v", "\x00", "%04X", "\x00")

// called lists the functions of the wording that these packages call.
func called(t *testing.T, functions map[string]wordingOf) []string {
	t.Helper()
	var files []string
	for _, pattern := range []string{"*.go", "../formula/*.go", "../quantity/*.go", "../source/file.go"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	seen := map[string]bool{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			switch callee := call.Fun.(type) {
			case *ast.SelectorExpr:
				if of, ok := callee.X.(*ast.Ident); ok && of.Name == "source" {
					if _, ok := functions[callee.Sel.Name]; ok {
						seen[callee.Sel.Name] = true
					}
				}
			case *ast.Ident:
				if _, ok := functions[callee.Name]; ok && file.Name.Name == "source" {
					seen[callee.Name] = true
				}
			}
			return true
		})
	}
	var out []string
	for name := range seen {
		out = append(out, name)
	}
	slices.Sort(out)
	if len(out) < 120 {
		t.Fatalf("only %d functions are called", len(out))
	}
	return out
}
