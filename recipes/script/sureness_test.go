package script

import (
	"encoding/json"
	"math"
	"testing"

	"labsite/recipes/prove"
)

// The script gives every figure the same uncertainty as Go, in the same words.
func TestSureness(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data: {curve: curve.csv}
draws_on: {one: other.md, two: {page: other.md, at: {tank: tank}}}
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, within: 5 ml}
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, within: 0.5 K}
  x: {label: X, value: 2.5, from: 1, to: 3, step: 0.5, within: 0.3}
  factor: {label: Factor, value: 1.09, source: from memory, owner: x}
figures:
  develop: {label: Time, formula: "round(time_at_temperature(11 min, 20 °C, bath, factor, 18 °C, 24 °C), 15 s)"}
  along: {label: Along, formula: "interpolate(curve.y, curve.x, x)"}
  power: {label: Power, formula: "let z = x * 2; z ** 3 + max(x, 1)"}
  bent: {label: Bent, formula: "(x - 2.4) ** 2"}
  edge: {label: Edge, formula: "sqrt(abs(x - 2.6) - 0.09)"}
  dose: {label: Dose, formula: one.dose + two.dose}
`, "curve.csv", "x,y\n1,5\n2,9\n3,6\n4,2\n", "other.md",
		"---\ntitle: Other\naudience: staff\ngiven: {tank: {value: 1 l, from: 100 ml, to: 2 l}, syringe: {label: Syringe, value: 5 ml, within: 0.1 ml}}\nfigures: {dose: syringe * tank / 1 l}\n---\n")
	js, err := Page{Sheet: s, Sureness: true}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	r := referee(t)
	trial, err := r.Load(js)
	if err != nil {
		t.Fatalf("%v\n%s", err, js)
	}
	_ = r.vm.Set("page", trial.page)
	b := &bench{t, r.vm}
	x := prove.NewPropagation(s)
	for _, set := range []string{"", "bath=23.8 °C", "x=1.1&tank=720 ml"} {
		b.run("page.take(" + quoted(set) + ")")
		c := prove.NewCase(s)
		for _, g := range s.Given {
			var base float64
			if err := json.Unmarshal([]byte(b.run("page.get("+quoted(g.Name)+").base")), &base); err != nil {
				t.Fatal(err)
			}
			c.Set(g, base)
		}
		c.Work()
		var got []struct {
			Name              string
			Standard          float64
			Unknown, Straight bool
			Shown             *string
			Most              string
		}
		if err := json.Unmarshal([]byte(b.run("page.work() && page.sureness()")), &got); err != nil {
			t.Fatal(err)
		}
		want := x.At(c)
		if len(got) != 6 || len(want) != 6 {
			t.Fatalf("%d and %d figures", len(got), len(want))
		}
		for i, w := range want {
			g := got[i]
			shown := ""
			if g.Shown != nil {
				shown = *g.Shown
			}
			if g.Name != w.Figure.Name || math.Abs(g.Standard-w.Standard) > 1e-9*w.Standard || g.Unknown != w.Unknown || !w.Unknown && g.Straight != w.Straight || shown != w.Shown() || g.Most != w.Cause() {
				t.Errorf("at %q a browser says %+v (%s), Go %+v, %s, %s", set, g, shown, w, w.Shown(), w.Cause())
			}
		}
	}
}
