package formulary

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/molar"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

func (r *reader) masses(e *Entry, v *tree.Value) {
	if v == nil {
		return
	}
	if v.Shape != tree.Mapping {
		r.report(source.WantsShape("masses", "names with a chemical formula each"), v.Span)
		return
	}
	for i, k := range v.Keys {
		if !r.free(e, k) {
			continue
		}
		if e.param(k.Text) >= 0 {
			r.report(source.NameTaken(k.Text), k.Span)
			continue
		}
		r.mass(e, k.Text, v.Items[i])
	}
}

// mass looks up the molar mass of a chemical formula and fixes it under a name.
func (r *reader) mass(e *Entry, name string, v *tree.Value) (string, bool) {
	chemical := r.text(v, name)
	m, err := molar.Mass(chemical)
	if err != nil {
		r.report(source.SheetFormula(err.Error()), v.Span)
		return "", false
	}
	kind, _ := quantity.Mass.Over(quantity.Amount)
	e.Masses = append(e.Masses, MolarMass{Name: name, Chemical: chemical, Mass: m})
	e.trade.Fixed = append(e.trade.Fixed, formula.Fixed{Name: name, Value: quantity.Value{Kind: kind, Base: m}})
	return chemical, true
}

// swap makes a whole entry: the mass of one form of a chemical in place of another.
func (r *reader) swap(e *Entry, v, swap *tree.Value) {
	if swap.Shape != tree.Mapping {
		r.report(source.WantsShape("swap", "asked and weighed, each a chemical formula"), swap.Span)
		return
	}
	r.known(swap, "asked", "weighed")
	for _, key := range []string{"takes", "gives", "formula", "masses"} {
		if x := v.Get(key); x != nil {
			r.report(source.BenchSwapAlone(key), x.Span)
		}
	}
	var forms []string
	for _, key := range []string{"asked", "weighed"} {
		if r.needs(swap, key, key+": Na2CO3·H2O", swap.Span) == "" {
			return
		}
		form, ok := r.mass(e, key, swap.Get(key))
		if !ok {
			return
		}
		forms = append(forms, form)
	}
	if !sameSalt(forms[0], forms[1]) {
		r.report(source.BenchSwapDiffers(forms[0], forms[1]), swap.Span)
		return
	}
	e.Params = []Param{{Name: "mass", Label: "Mass of " + forms[0] + " that the recipe asks for", Fit: formula.Fit{Kind: quantity.Mass}, Range: Range{From: "0 g"}}}
	r.guard(e, "mass < 0 g", source.BenchOutOfRange(e.Params[0].Label, "0 g", "", "", ""))
	e.Result = formula.Fit{Kind: quantity.Mass}
	e.Formula = "mass * weighed / asked"
	e.trade.Body, _ = formula.Parse(e.Formula, nil)
}

// sameSalt reports whether two chemical formulas stand for the same amount of the same
// salt: some element other than those of water, counted alike in both. That finds a
// formula written for two units of the salt beside one written for one.
func sameSalt(a, b string) bool {
	x, errX := molar.Elements(a)
	y, errY := molar.Elements(b)
	if errX != nil || errY != nil {
		return false
	}
	for _, p := range x {
		for _, q := range y {
			if p.Symbol == q.Symbol && p.Symbol != "H" && p.Symbol != "O" && math.Abs(p.Count-q.Count) < 1e-9 {
				return true
			}
		}
	}
	return false
}
