package prove

import "testing"

// Values of what a page makes are written like its given values or figures; a page that refuses has
// nothing to write on a label.
func TestProduct(t *testing.T) {
	const front = "---\ntitle: T\naudience: staff\ngiven:\n  batch: {value: 500 ml, from: 250 ml, to: 1 l}\n  life: 18 months\nfigures:\n  most: {formula: batch * 0.9, show: 10 ml}\nlimits:\n  - {when: batch > 900 ml, refuse: Too much.}\nmakes:\n  a: {amount: most, lasts: 12 months, opened: life}\n---\nBody.\n"
	s, p, list := build(front)
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	var got []string
	for _, v := range s.Makes[0].Values() {
		shown, ok := p.Own.Product(v)
		if !ok {
			t.Errorf("%s is not worked out", v.Key)
		}
		got = append(got, shown.Text)
	}
	if want := [3]string{"450 ml", "12 months", "18 months"}; len(got) != 3 || [3]string(got) != want {
		t.Errorf("got %q, want %q", got, want)
	}
	c := NewCase(s)
	c.Set(s.GivenNamed("batch"), s.GivenNamed("batch").To.Base)
	c.Work()
	for _, v := range s.Makes[0].Values() {
		if shown, ok := c.Product(v); ok {
			t.Errorf("a refused page says %s: %s", v.Key, shown.Text)
		}
	}
}
