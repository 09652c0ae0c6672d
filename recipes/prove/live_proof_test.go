package prove

import (
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
)

// A rule about cells that depend on a setting is not taken for proved because it held where it was
// tried: here it fails only at 1.2, between the steps.
func TestNoProofThroughCellsThatFollow(t *testing.T) {
	for _, value := range []string{"sum(log.off)", "lookup(log.off, log.x, 1)", "interpolate(log.off, log.x, 1)"} {
		_, p, list := buildWith(pagetest.WithKeys(`
data: {log: {file: log.csv, adds: {off: "x * (at - 1.2) ** 2"}}}
given:
  at: {value: 1, from: 1, to: 2, step: 0.3}
figures:
  off: "`+value+`"
checks:
  - always: off + at * 0 > 0.0001
`), pagetest.Shelf{"log.csv": "x\n1\n"}, page.World{})
		if p == nil {
			t.Fatal(list)
		}
		if p.Verdicts[0].OK && p.Verdicts[0].Proved {
			t.Errorf("%s: told as proved", value)
		}
	}
}
