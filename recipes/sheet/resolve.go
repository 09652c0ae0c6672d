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
		u := p.s.use(of)
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
	// texts of a page may be bound while another page that draws on it is written
	p.s.slotMu.Lock()
	defer p.s.slotMu.Unlock()
	p.s.slots++
	return p.s.slots - 1
}

// Scope resolves names of the page for a formula that stands in its body or a text.
func (s *Sheet) Scope() formula.Scope { return pageScope{s} }

// World is what the formulas of a page may reach beyond the page.
type World struct {
	// Page finds a page to draw on, already resolved, by its path in the content folder;
	// where there is none it says why, with an empty Problem where that was said already.
	Page func(path string) (*Sheet, source.Problem, bool)
	// Trades finds functions of the formulary; nil for none.
	Trades Trades
}

// Trades is a set of functions of the formulary.
type Trades interface {
	Trade(name string) (*formula.Trade, bool)
	Names() []string
}

// Resolve is ResolveIn without a world: for a page that stands alone.
func (s *Sheet) Resolve() source.List { return s.ResolveIn(World{}) }

// ResolveIn orders the figures and infers all kinds. Pages drawn on must be resolved
// before.
func (s *Sheet) ResolveIn(w World) source.List {
	s.world = w
	if s.world.Page == nil {
		s.world.Page = func(path string) (*Sheet, source.Problem, bool) {
			return nil, source.LinkNowhere(path, ""), false
		}
	}
	var list source.List
	report := func(p source.Problem, at source.Span) { list = append(list, p.At(at)) }
	list = append(list, s.resolveUses(s.world.Page)...)
	list = append(list, s.order()...)
	scope := pageScope{s}
	for _, step := range s.Program {
		if step.Use != nil {
			list = append(list, s.inferUse(step.Use)...)
			continue
		}
		f := step.Figure
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
				if t.Code == source.ShowKind("", "", "").Code {
					f.Kind = quantity.Any // one of the two is wrong, and nobody else need be told
				}
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
	for _, st := range s.Steps {
		if st.For == nil {
			continue
		}
		n, l := formula.Infer(st.For, scope)
		list = append(list, l...)
		if n == nil {
			continue
		}
		if n.Kind != quantity.Time {
			report(source.WantsKind("for", "a time", n.Kind.Name()), st.For.Span())
			continue
		}
		st.Node = n
		unit, _ := n.FirstUnit()
		st.Show = quantity.DefaultShow(quantity.Time, unit)
		if name, alone := st.For.Alone(); alone {
			if f := s.figs[name]; f != nil {
				st.Show = f.Show
			}
		}
	}
	for _, c := range s.Charts {
		for _, f := range c.Y {
			first := c.Y[0]
			switch {
			case f.Kind.Sort == quantity.Unknown || first.Kind.Sort == quantity.Unknown:
			case f.Kind != first.Kind:
				report(source.KindsDiffer("the figures of the chart", first.Kind.Name(), f.Kind.Name()), c.Span)
			case f.Kind.Sort == quantity.YesNo:
				report(source.WantsKind("a chart", "figures with a number", f.Kind.Name()), c.Span)
			}
		}
		if c.Points != nil && c.Limits != nil && c.Limits.Aim != "" {
			want := c.Points.Y.Kind
			for i, name := range []string{c.Limits.Aim, c.Limits.Action, c.Limits.Control} {
				got, _ := scope.Symbol("", name)
				if i > 0 {
					want = c.Points.Y.Kind.Difference()
				}
				if got.Kind.Sort != quantity.Unknown && got.Kind != want {
					report(source.WantsKind(name, want.Name(), got.Kind.Name()), c.Span)
				}
			}
		}
		if c.Points != nil && len(c.Y) > 0 {
			if k := c.Y[0].Kind; k.Sort != quantity.Unknown && k != c.Points.Y.Kind {
				report(source.KindsDiffer("the figures and the points", k.Name(), c.Points.Y.Kind.Name()), c.Span)
			}
			if c.X != nil && c.X.Kind != c.Points.X.Kind {
				report(source.KindsDiffer("the chart's given and its points", c.X.Kind.Name(), c.Points.X.Kind.Name()), c.Span)
			}
		}
	}
	s.fixedSlots = s.slots
	return onceEach(list, source.RowsWithOneKey("", 0, 0).Code)
}

// order sorts the figures, and the pages drawn on among them, so that each comes after
// what it uses, and names a cycle.
func (s *Sheet) order() source.List {
	const (
		fresh = iota
		open
		done
	)
	type item struct {
		name string
		step Task
	}
	var list source.List
	var path []item
	var visit func(x item)
	state := func(x item) *uint8 {
		if x.step.Use != nil {
			return &x.step.Use.state
		}
		return &x.step.Figure.state
	}
	follow := func(f *formula.Formula) {
		if f == nil {
			return
		}
		for _, r := range f.References() {
			if u := s.use(r.Of); u != nil {
				visit(item{u.Name, Task{Use: u}})
			} else if g, ok := s.figs[r.Name]; ok && r.Of == "" {
				visit(item{g.Name, Task{Figure: g}})
			}
		}
	}
	visit = func(x item) {
		switch *state(x) {
		case done:
			return
		case open:
			names := x.name
			for i := len(path) - 1; i >= 0; i-- {
				names = path[i].name + " → " + names
				if path[i].step == x.step {
					break
				}
			}
			at := source.Span{}
			if x.step.Use != nil {
				at = x.step.Use.Span
			} else {
				at = x.step.Figure.Span
			}
			list = append(list, source.Cycle(names).At(at))
			return
		}
		*state(x) = open
		path = append(path, x)
		if x.step.Use != nil {
			for _, set := range x.step.Use.At {
				follow(set.Formula)
			}
		} else {
			follow(x.step.Figure.Formula)
		}
		path = path[:len(path)-1]
		*state(x) = done
		s.Program = append(s.Program, x.step)
		if x.step.Figure != nil {
			s.Sorted = append(s.Sorted, x.step.Figure)
		}
	}
	s.Sorted, s.Program = s.Sorted[:0], s.Program[:0]
	for _, f := range s.Figures {
		f.state = fresh
	}
	for _, u := range s.Uses {
		u.state = fresh
	}
	for _, u := range s.Uses {
		visit(item{u.Name, Task{Use: u}})
	}
	for _, f := range s.Figures {
		visit(item{f.Name, Task{Figure: f}})
	}
	return list
}
