package page

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// pageScope lets formulas of the sheet find its names.
type pageScope struct{ s *Sheet }

func (p pageScope) Symbol(of, name string) (formula.Symbol, bool) {
	if of != "" {
		u := p.s.UseNamed(of)
		if u == nil {
			return formula.Symbol{Kind: quantity.Any}, p.s.misnamed[of]
		}
		if u.Sheet == nil {
			return formula.Symbol{Kind: quantity.Any}, true
		}
		s, ok := pageScope{u.Sheet}.Symbol("", name)
		s.Slot += u.Base
		s.Bounded = false // the other page's range; here it has one value
		return s, ok
	}
	if g, ok := p.s.given[name]; ok {
		return g.symbol(), true
	}
	if f, ok := p.s.figs[name]; ok {
		return f.symbol(), true
	}
	return formula.Symbol{Kind: quantity.Any}, p.s.misnamed[name]
}

func (p pageScope) Symbols() []string {
	names := p.s.givenNames()
	for _, f := range p.s.Figures {
		names = append(names, f.Name)
	}
	for _, u := range p.s.Uses {
		if u.Sheet == nil {
			continue
		}
		for _, g := range u.Sheet.Given {
			names = append(names, u.Name+"."+g.Name)
		}
		for _, f := range u.Sheet.Figures {
			names = append(names, u.Name+"."+f.Name)
		}
	}
	return names
}

func (p pageScope) Column(file, name string) (formula.Column, bool) {
	d := p.s.dataNamed(file)
	if d == nil {
		return formula.Column{Kind: quantity.Any}, p.s.misnamedData[file]
	}
	if d.Table == nil {
		return formula.Column{Kind: quantity.Any}, true
	}
	c, ok := d.Table.Column(name)
	if !ok {
		return formula.Column{}, false
	}
	return c.Column, true
}

func (p pageScope) Columns(file string) []string {
	if file == "" {
		var names []string
		for _, d := range p.s.Data {
			names = append(names, d.Name)
		}
		return names
	}
	if d := p.s.dataNamed(file); d != nil && d.Table != nil {
		return d.Table.Names()
	}
	return nil
}

func (p pageScope) Trade(name string) (*formula.Trade, bool) {
	if p.s.world.Trades == nil {
		return nil, false
	}
	return p.s.world.Trades.Trade(name)
}

func (p pageScope) Trades() []string {
	if p.s.world.Trades == nil {
		return nil
	}
	return p.s.world.Trades.Names()
}

func (p pageScope) Slot() int {
	// the texts of a page may be bound while a page that draws on it is being written
	p.s.slotMu.Lock()
	defer p.s.slotMu.Unlock()
	p.s.slots++
	return p.s.slots - 1
}

// Scope resolves names of the page for formulas in its body and its texts.
func (s *Sheet) Scope() formula.Scope { return pageScope{s} }

// symbol is what the given's name stands for in a formula. A value with a source and an owner
// is the lab's own.
func (g *Given) symbol() formula.Symbol {
	s := formula.Symbol{Kind: g.Kind, Slot: g.Slot, Unit: g.Value.Unit, Words: g.Words, Lens: g.Show.Style == quantity.Engraved}
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
	if g.From == nil && g.Today {
		s.Low, s.High = quantity.FirstDay, quantity.LastDay
	}
	for _, c := range g.Choices {
		s.Low, s.High = min(s.Low, c.Base), max(s.High, c.Base)
	}
	return s
}

// symbol is what the figure's name stands for in a formula. A figure made of values of the lab's
// own is the lab's own as well.
func (f *Figure) symbol() formula.Symbol {
	s := formula.Symbol{Kind: f.Kind, Slot: f.Slot, Unit: f.Show.Unit, Words: f.Show.Words, Lens: f.Show.Style == quantity.Engraved}
	if f.Node != nil && f.Node.Ownership() == formula.Owned {
		s.Ownership = formula.Owned
	}
	return s
}
