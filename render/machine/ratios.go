package machine

import (
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// ratiosIn lists the dilutions that a text mentions, as the search writes them.
func ratiosIn(text string) (out []string) {
	for _, found := range quantity.Find(text) {
		if v, trouble := quantity.Parse(found.Text); trouble == nil {
			out = addRatio(out, v)
		}
	}
	return out
}

// ratiosGiven lists the dilutions that are given values of a page, or choices for them.
func ratiosGiven(sh *page.Sheet) (out []string) {
	for _, g := range sh.Given {
		for _, v := range append([]quantity.Value{g.Value}, g.Choices...) {
			out = addRatio(out, v)
		}
	}
	return out
}

// addRatio adds a dilution, written as parts plus what is added to them: 1 in 100 as 1+99.
func addRatio(out []string, v quantity.Value) []string {
	if v.Form != quantity.Dilution {
		return out
	}
	text := v.Text
	if a, b, in := strings.Cut(text, " in "); in {
		parts, _ := strconv.ParseFloat(a, 64)
		whole, _ := strconv.ParseFloat(b, 64)
		text = a + "+" + strconv.FormatFloat(whole-parts, 'f', -1, 64)
	}
	if !slices.Contains(out, text) {
		out = append(out, text)
	}
	return out
}
