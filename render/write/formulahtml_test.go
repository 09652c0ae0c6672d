package write_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// A formula with numbers in place of names has them with all their digits, and comes to the result shown
// below it, which rounded numbers would not.
func TestNumbersOfAFormula(t *testing.T) {
	texts := map[string]string{
		"mix.md": "---\ntitle: Mix\naudience: customers\ngiven:\n  tank: {value: 500 ml, from: 500 ml, to: 1 l}\nfigures:\n  part: {label: Part, formula: tank / 7, show: 1 ml}\n---\n{part}\n",
		"cost.md": "---\ntitle: Cost\naudience: customers\ndraws_on: {mix: mix.md}\ngiven:\n  strength: {value: 1+100, choices: [1+50, 1+100]}\n" +
			"figures:\n  cost: {label: Cost, formula: mix.part * 0.70 EUR/ml * strength, show: 1 EUR}\n---\n{cost}\n",
	}
	page := string(buildtest.Sited(t, texts, page.Customers)["cost.html"])
	text := strings.ReplaceAll(html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, "")), "\u00a0", " ")
	if want := "71.42857143 ml * 0.70 EUR/ml * dilution(1, 100)"; !strings.Contains(text, want) {
		t.Errorf("lacks %s:\n%s", want, text)
	}
}
