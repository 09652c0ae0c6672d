package sheet

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// symbol is what the given's name stands for in a formula. The shop owns what names a
// source and an owner.
func (g *Given) symbol() formula.Symbol {
	s := formula.Symbol{Kind: g.Kind, Slot: g.Slot, Unit: g.Value.Unit, Words: g.Words}
	if g.Source != "" && g.Owner != "" {
		s.Ownership = formula.Owned
	}
	switch g.Kind.Sort {
	case quantity.Measure, quantity.Point:
	default:
		return s
	}
	s.Bounded, s.Low, s.High = true, g.Own, g.Own
	if g.From != nil && g.To != nil {
		s.Low, s.High = g.From.Base, g.To.Base
	}
	for _, c := range g.Choices {
		s.Low, s.High = min(s.Low, c.Base), max(s.High, c.Base)
	}
	return s
}

// symbol is what the figure's name stands for in a formula; a figure made of what the
// shop owns is the shop's as well.
func (f *Figure) symbol() formula.Symbol {
	s := formula.Symbol{Kind: f.Kind, Slot: f.Slot, Unit: f.Show.Unit}
	if f.Node != nil && f.Node.Ownership() == formula.Owned {
		s.Ownership = formula.Owned
	}
	return s
}
