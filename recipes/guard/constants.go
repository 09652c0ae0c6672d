package guard

import (
	"math/big"
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// mutated lists the mutations of a written quantity: its last digit one more, the whole
// doubled, a unit of the same kind in place of its own.
func mutated(text string) []string {
	var out []string
	add := func(other string, ok bool) {
		if ok && other != text {
			out = append(out, other)
		}
	}
	add(renumbered(text, func(x *big.Rat, step *big.Rat) *big.Rat { return x.Add(x, step) }))
	add(renumbered(text, func(x *big.Rat, step *big.Rat) *big.Rat {
		if x.Sign() == 0 {
			return x.Add(x, new(big.Rat).Mul(step, big.NewRat(10, 1)))
		}
		return x.Add(x, x)
	}))
	for _, u := range otherUnits {
		if before, is := strings.CutSuffix(text, " "+u[0]); is {
			add(before+" "+u[1], true)
			break
		}
	}
	return out
}

// otherUnits are units, each with one that is easily taken for it.
var otherUnits = [][2]string{
	{"ml", "cl"}, {"l", "ml"}, {"cl", "ml"}, {"fl_oz", "ml"}, {"min", "s"}, {"s", "min"}, {"h", "min"}, {"day", "h"}, {"ms", "s"},
	{"kg", "g"}, {"g", "mg"}, {"mg", "g"}, {"mm", "cm"}, {"cm", "mm"}, {"m", "cm"}, {"inch", "cm"}, {"m2", "cm2"}, {"cm2", "mm2"}, {"sq_inch", "cm2"},
	{"°C", "°F"}, {"°F", "°C"}, {"K", "Δ°F"}, {"%", "ppm"},
}

var number = regexp.MustCompile(`(^|[ +/])([0-9]+)(\.[0-9]+)?`)

// renumbered changes a number of a written quantity: the last of a dilution or a fraction,
// else the first; step is one of its last digit.
func renumbered(text string, to func(x, step *big.Rat) *big.Rat) (string, bool) {
	all := number.FindAllStringSubmatchIndex(text, -1)
	if len(all) == 0 {
		return "", false
	}
	at := all[0]
	if last := all[len(all)-1]; strings.ContainsAny(text[:last[1]], "+/") {
		at = last
	}
	x, ok := new(big.Rat).SetString(text[at[4]:at[1]])
	if !ok {
		return "", false
	}
	decimals := max(0, at[1]-at[5]-1)
	step := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil))
	return text[:at[4]] + to(x, step).FloatString(decimals) + text[at[1]:], true
}

// constants changes the given values that a reader cannot set, as far as something is worked
// out from them.
func constants(s *page.Sheet) []change {
	used := map[int]bool{}
	for _, p := range places(s) {
		(*p.node).Walk(func(n *formula.Node) bool {
			if n.Op == formula.Var {
				used[n.Slot] = true
			}
			return true
		})
	}
	var out []change
	for _, g := range s.Given {
		if g.Settable() || !used[g.Slot] {
			continue
		}
		texts := mutated(g.Value.Text)
		for i, text := range texts {
			if slices.Contains(texts[:i], text) {
				continue
			}
			q, trouble := quantity.Parse(text)
			if trouble != nil || q.Kind != g.Kind || quantity.Equal(q.Base, g.Own) {
				continue
			}
			out = append(out, change{what: source.ChangedValue(g.Name, text, g.Value.Text), span: g.Span, apply: func() (func(), bool) {
				old := g.Own
				g.Own = q.Base
				return func() { g.Own = old }, true
			}})
		}
	}
	return out
}
