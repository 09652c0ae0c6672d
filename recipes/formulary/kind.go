package formulary

import (
	"maps"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

var kindWords = map[string]formula.Fit{
	"number": {Kind: quantity.Number}, "time": {Kind: quantity.Time}, "length": {Kind: quantity.Length},
	"area": {Kind: quantity.Area}, "volume": {Kind: quantity.Volume}, "mass": {Kind: quantity.Mass},
	"amount of substance": {Kind: quantity.Amount}, "temperature": {Kind: quantity.Scale},
	"temperature difference": {Kind: quantity.Degree}, "stops": {Kind: quantity.Stops},
	"pressure": {Kind: quantity.Pressure}, "energy": {Kind: quantity.Energy}, "power": {Kind: quantity.Power},
	"yes or no": {Kind: quantity.Yes}, "money": {Kind: quantity.Kind{Money: 1}},
	"any": {Kind: quantity.Any}, "any but temperature": {Kind: quantity.Any, Amount: true},
}

// KindWords lists the words for kinds; units, money per something, "like x" and
// "difference of x" are kinds as well.
func KindWords() []string { return slices.Sorted(maps.Keys(kindWords)) }

// readKind reads a kind; before are the names that like and difference of may use.
func readKind(text string, before []string) (formula.Fit, *source.Problem) {
	no := func(nearest string) (formula.Fit, *source.Problem) {
		p := source.BenchKind(text, nearest, KindWords())
		return formula.Fit{}, &p
	}
	if f, ok := kindWords[text]; ok {
		return f, nil
	}
	name, like := strings.CutPrefix(text, "like ")
	step := false
	if !like {
		name, step = strings.CutPrefix(text, "difference of ")
	}
	if like || step {
		name = strings.TrimSpace(name)
		if !slices.Contains(before, name) {
			p := source.BenchLike(name, source.Nearest(name, before))
			return formula.Fit{}, &p
		}
		return formula.Fit{Like: name, Step: step}, nil
	}
	if rest, money := strings.CutPrefix(text, "money/"); money {
		u, n, ok := quantity.ReadUnit(rest)
		if !ok || n != len(rest) || u.Kind.Money != 0 {
			return no("")
		}
		k, ok := quantity.Kind{Money: 1}.Over(u.Kind)
		if !ok {
			return no("")
		}
		return formula.Fit{Kind: k}, nil
	}
	if u, n, ok := quantity.ReadUnit(text); ok && n == len(text) {
		return formula.Fit{Kind: u.Kind}, nil
	}
	return no(source.Nearest(text, KindWords()))
}

// samples are kinds that a Fit takes, to try a formula with.
func samples(f formula.Fit, settled map[string]quantity.Kind) []quantity.Kind {
	switch {
	case f.Like != "":
		k := settled[f.Like]
		if f.Step {
			k = k.Difference()
		}
		return []quantity.Kind{k}
	case f.Kind.Sort == quantity.Unknown:
		out := []quantity.Kind{quantity.Number, quantity.Volume, quantity.Time, quantity.Stops, {Money: 1, Currency: "EUR"}}
		if !f.Amount {
			out = append(out, quantity.Scale)
		}
		return out
	case f.Kind.Money != 0 && f.Kind.Currency == "":
		k := f.Kind
		k.Currency = "EUR"
		return []quantity.Kind{k}
	}
	return []quantity.Kind{f.Kind}
}

// eachBinding calls try with kinds for all parameters, every sample of every one, until
// it returns false.
func (e *Entry) eachBinding(try func(map[string]quantity.Kind) bool) {
	kinds := map[string]quantity.Kind{}
	var next func(i int) bool
	next = func(i int) bool {
		if i == len(e.Params) {
			return try(kinds)
		}
		p := e.Params[i]
		for _, k := range samples(p.Fit, kinds) {
			kinds[p.Name] = k
			if !next(i + 1) {
				return false
			}
		}
		return true
	}
	next(0)
}
