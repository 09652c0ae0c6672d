package sheet

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Scope lets formulas of the sheet find its names.
type pageScope struct{ s *Sheet }

func (p pageScope) Symbol(of, name string) (formula.Symbol, bool) {
	if of != "" {
		return formula.Symbol{}, false
	}
	if g, ok := p.s.given[name]; ok {
		return formula.Symbol{Kind: g.Kind, Slot: g.Slot, Unit: g.Value.Unit, Words: g.Words}, true
	}
	if f, ok := p.s.figs[name]; ok {
		return formula.Symbol{Kind: f.Kind, Slot: f.Slot, Unit: f.Show.Unit}, true
	}
	return formula.Symbol{}, false
}

func (p pageScope) Symbols() []string {
	names := p.s.givenNames()
	for _, f := range p.s.Figures {
		names = append(names, f.Name)
	}
	return names
}

func (p pageScope) Column(string, string) (formula.Column, bool) { return formula.Column{}, false }
func (p pageScope) Columns(string) []string                      { return nil }
func (p pageScope) Trade(string) (*formula.Trade, bool)          { return nil, false }
func (p pageScope) Trades() []string                             { return nil }

func (p pageScope) Slot() int {
	p.s.slots++
	return p.s.slots - 1
}

// Scope resolves names of the page for a formula that stands in its body or a text.
func (s *Sheet) Scope() formula.Scope { return pageScope{s} }

// Resolve orders the figures and infers all kinds.
func (s *Sheet) Resolve() source.List {
	var list source.List
	report := func(p source.Problem, at source.Span) { list = append(list, p.At(at)) }
	list = append(list, s.order()...)
	scope := pageScope{s}
	for _, f := range s.Sorted {
		if f.Formula == nil {
			continue
		}
		n, l := formula.Infer(f.Formula, scope)
		list = append(list, l...)
		if n == nil {
			continue
		}
		if n.Kind.Sort == quantity.Word {
			report(source.TextResult(), f.Text.Place(0, len(f.Text.Text)))
			continue
		}
		f.Node, f.Kind = n, n.Kind
		unit, _ := n.FirstUnit()
		f.Show = quantity.DefaultShow(f.Kind, unit)
		if f.ShowText != "" {
			show, t := quantity.ParseShow(f.ShowText, f.Kind)
			if t != nil {
				report(t.Problem, f.showAt.Place(t.Start, t.End))
				continue
			}
			f.Show = show
		}
	}
	yesNo := func(f *formula.Formula, what string) *formula.Node {
		n, l := formula.Infer(f, scope)
		list = append(list, l...)
		if n != nil && n.Kind != quantity.Yes {
			report(source.WantsKind(what, quantity.Yes.Name(), n.Kind.Name()), f.Span())
			return nil
		}
		return n
	}
	for _, l := range s.Limits {
		l.Node = yesNo(l.When, "when")
	}
	for _, c := range s.Checks {
		if c.Always != nil {
			c.Node = yesNo(c.Always, "always")
		}
		for _, e := range c.Expect {
			kind := quantity.Any
			if e.Figure != nil {
				kind = e.Figure.Kind
			} else {
				kind = e.Given.Kind
			}
			if kind.Sort != quantity.Unknown && kind.Sort != quantity.Word && kind != e.Want.Kind {
				report(source.WantsKind("the figure", kind.Name(), e.Want.Kind.Name()), e.Span)
			}
		}
	}
	return list
}

// order sorts the figures so that each comes after those it uses, and names a cycle.
func (s *Sheet) order() source.List {
	const (
		fresh = iota
		open
		done
	)
	var list source.List
	var path []*Figure
	var visit func(f *Figure)
	visit = func(f *Figure) {
		switch f.state {
		case done:
			return
		case open:
			names := ""
			for i := len(path) - 1; i >= 0; i-- {
				names = path[i].Name + " → " + names
				if path[i] == f {
					break
				}
			}
			list = append(list, source.Cycle(names+f.Name).At(f.Span))
			return
		}
		f.state = open
		path = append(path, f)
		if f.Formula != nil {
			for _, r := range f.Formula.References() {
				if g, ok := s.figs[r.Name]; ok && r.Of == "" {
					visit(g)
				}
			}
		}
		path = path[:len(path)-1]
		f.state = done
		s.Sorted = append(s.Sorted, f)
	}
	s.Sorted = s.Sorted[:0]
	for _, f := range s.Figures {
		f.state = fresh
	}
	for _, f := range s.Figures {
		visit(f)
	}
	return list
}
