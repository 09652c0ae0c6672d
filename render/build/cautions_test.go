package build

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/write"
)

// A page drawn on twice brings a caution with an amount twice, and one without an amount once: the
// larger amount must not go missing. A caution in the page's own words counts as the page's.
func TestCautionsOfEachUse(t *testing.T) {
	dir := labOf(t, map[string]string{
		"acid.md": "---\ntitle: Acid\naudience: customers\ngiven:\n  tank: {label: Tank, value: 1 l, from: 1 l, to: 20 l}\nfigures:\n  acid: {label: Acid, formula: tank * 3 %, show: 10 ml}\n" +
			"cautions:\n  pour: {word: DANGER, text: \"Pour {acid} of acid into the water.\"}\n  goggles: {word: WARNING, text: Wear goggles.}\n---\n\n{acid}\n",
		"both.md": "---\ntitle: Both tanks\naudience: customers\ndraws_on:\n  small: {page: acid.md, at: {tank: 2 l}}\n  large: {page: acid.md, at: {tank: 10 l}}\nfigures:\n  all: {label: All, formula: small.acid + large.acid, show: 10 ml}\ncautions:\n  same: {word: WARNING, text: Wear goggles.}\n---\n\n{all}\n",
	})
	files := published(t, dir, page.Customers)
	for _, name := range []string{"both.html", "both.card.html"} {
		text := strings.ReplaceAll(html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(string(files[name]), "")), "\u00a0", " ")
		for want, times := range map[string]int{"Pour 60 ml of acid": 1, "Pour 300 ml of acid": 1, "Wear goggles": 1} {
			if n := strings.Count(text, want); n != times {
				t.Errorf("%s says %q %d times", name, want, n)
			}
		}
	}
	var told []string
	s, _ := checked(t, dir)
	desk := s.Desk()
	for _, c := range write.CautionTexts(desk, desk.Make(s.Content.Page("both.md")).Proof.Own) {
		told = append(told, c.String())
	}
	if got := strings.Join(told, "\n"); got != "DANGER: Pour 60 ml of acid into the water.\nDANGER: Pour 300 ml of acid into the water.\nWARNING: Wear goggles." {
		t.Error(got)
	}
}
