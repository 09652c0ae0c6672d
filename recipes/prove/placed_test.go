package prove

import (
	"fmt"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

// Of a thousand placed formulas those beyond the proofs are tried, and one that is placed again is
// reported at each place.
func TestManyPlaced(t *testing.T) {
	s, proof, list := build(pagetest.WithKeys(`
given:
  size: {value: 3, from: 1, to: 9, step: 0.01}
  share: {value: 0.5, from: 0, to: 1, step: 0.01}
`))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	var all []Placed
	add := func(text string) {
		f, list := formula.Parse(text, func(int, int) source.Span { return source.Span{} })
		if f == nil {
			t.Fatal(list)
		}
		n, list := formula.Infer(f, s.Scope())
		if n == nil {
			t.Fatal(list)
		}
		all = append(all, Placed{Text: text, Node: n})
	}
	for i := range 1000 {
		add(fmt.Sprintf("size / (share + %d)", i+1))
	}
	if said := proof.Placed(t.Context(), s, all); len(said) > 0 {
		t.Errorf("finite formulas are reported: %v", said)
	}
	add("1 / (size - 9)")
	add("1 / (size - 9)")
	if said := proof.Placed(t.Context(), s, all); len(said) != 2 || said[0].Message != "{1 / (size - 9)} gives no finite number at size 9" {
		t.Errorf("a formula that fails at an end of its range: %v", said)
	}
}
