package page

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// World is what the formulas of a page may reach beyond the page.
type World struct {
	// Page finds a page to draw on, already resolved, by its path in the content folder. If it
	// cannot, it says why, or returns an empty Problem if that is already reported.
	Page func(path string) (*Sheet, source.Problem, bool)
	// Trades finds functions of the formulary; nil for none.
	Trades Trades
}

// Trades is a set of functions of the formulary.
type Trades interface {
	Trade(name string) (*formula.Trade, bool)
	Names() []string
}

// Resolve is ResolveIn for a page that uses nothing outside itself.
func (s *Sheet) Resolve() source.List { return s.ResolveIn(World{}) }

// ResolveIn orders the figures and infers all kinds. Pages drawn on must be resolved first.
func (s *Sheet) ResolveIn(w World) source.List {
	s.world = w
	if s.world.Page == nil {
		s.world.Page = func(path string) (*Sheet, source.Problem, bool) {
			return nil, source.LinkNowhere(path, ""), false
		}
	}
	told, within := s.resolveUses(s.world.Page)
	r := &resolver{scope: pageScope{s}, list: append(told, s.order()...)}
	r.list = append(r.list, s.kinds()...)
	r.noteGiven()
	for _, step := range s.Program {
		switch {
		case step.Use != nil:
			r.list = append(r.list, s.inferUse(step.Use)...)
		case step.Added != nil:
			r.added(step.Added)
		default:
			r.figure(step.Figure)
			r.noteFigure(step.Figure)
		}
	}
	s.markToday()
	s.markKept()
	r.limits()
	for _, c := range s.Checks {
		r.check(c)
	}
	for _, st := range s.Steps {
		r.step(st)
	}
	for _, g := range s.Grids {
		r.rowTable(g)
	}
	for _, c := range s.Charts {
		r.chart(c)
	}
	for _, p := range s.Makes {
		r.product(p)
	}
	s.block = s.slots
	if within {
		r.list = append(r.list, s.layOut()...)
	}
	return onceEach(r.list, source.RowsWithOneKey("", 0, 0).Code)
}

// resolver infers the kinds of a page's formulas and gathers what is wrong with them.
type resolver struct {
	scope pageScope
	list  source.List

	// rows says that the page has formulas over rows. frame then holds the values that depend on
	// nothing that can be set, and varies marks the slots of those that do.
	rows   bool
	frame  formula.Frame
	varies map[int]bool
}

func (r *resolver) report(p source.Problem, at source.Span) { r.list = append(r.list, p.At(at)) }

// infer infers a formula; nil after a report.
func (r *resolver) infer(f *formula.Formula) *formula.Node {
	n, list := formula.Infer(f, r.scope)
	r.list = append(r.list, list...)
	return n
}

func (r *resolver) figure(f *Figure) {
	if f.Formula == nil {
		return
	}
	n := r.infer(f.Formula)
	if n == nil {
		return
	}
	f.Node, f.Kind = n, n.Kind
	f.Show = n.Show()
	if f.ShowText == "" {
		return
	}
	show, t := quantity.ParseShow(f.ShowText, f.Kind)
	if t == nil {
		f.Show = show
		return
	}
	r.report(t.Problem, f.showAt.Place(t.Start, t.End))
	if t.Code == source.ShowKind("", "", "").Code {
		f.Kind = quantity.Any // formula or show is wrong, and what uses the figure need not report it again
	}
}

// yesNo infers a formula that must be yes or no; what is the key that it is under.
func (r *resolver) yesNo(f *formula.Formula, what string) *formula.Node {
	n := r.infer(f)
	if n != nil && n.Kind != quantity.Yes {
		r.report(formula.Wanted(n, quantity.Yes, what, f.Text), f.Span())
		return nil
	}
	return n
}

func (r *resolver) check(c *Check) {
	if c.Always != nil {
		c.Node = r.yesNo(c.Always, "always")
	}
	for i := range c.Expect {
		e := &c.Expect[i]
		kind := quantity.Any
		if e.Figure != nil {
			kind = e.Figure.Kind
		} else {
			kind = e.Given.Kind
		}
		if e.Figure != nil && r.scope.s.standsIn(strings.TrimSpace(e.text.Text), e.Figure) {
			e.Instead, e.Want.Text = true, strings.TrimSpace(e.text.Text)
			continue
		}
		if kind.Sort == quantity.Unknown {
			continue // the error is reported where the figure stands
		}
		if kind == quantity.Text {
			r.expectWord(e)
			continue
		}
		if e.trouble != nil {
			r.report(e.trouble.Problem, e.text.Place(e.trouble.Start, e.trouble.End))
			continue
		}
		if kind != e.Want.Kind {
			r.report(source.WantsKind("the figure", kind.Name(), quantity.KindIn(e.Want.Kind, e.Want.Unit)), e.Span)
		}
	}
}

// standsIn reports whether a text may stand in place of a figure: it is the figure's own else, or
// the else of another figure, here or on a page drawn on, since this one may depend on that. A
// text that the figure may come to does not count.
func (s *Sheet) standsIn(text string, f *Figure) bool {
	if text == "" || text == f.Else {
		return text != ""
	}
	if slices.Contains(f.Show.Words, text) {
		return false
	}
	if slices.ContainsFunc(s.Figures, func(x *Figure) bool { return x.Else == text }) {
		return true
	}
	return slices.ContainsFunc(s.Uses, func(u *Use) bool { return u.Sheet != nil && u.Sheet.standsIn(text, &Figure{}) })
}

// expectWord checks that an expected text is one that the figure or given can come to.
func (r *resolver) expectWord(e *Expectation) {
	var words []string
	if e.Figure != nil {
		words = e.Figure.Show.Words
	} else {
		words = e.Given.Words
	}
	text := strings.TrimSpace(e.text.Text)
	i := slices.Index(words, text)
	if i < 0 {
		r.report(source.NotAChoice(text, source.Nearest(text, words), words), e.Span)
	}
	e.Want = quantity.Expected{Value: quantity.Value{Kind: quantity.Text, Base: float64(i), Text: text}}
}

// step infers the time of a step. If it is just the name of a figure, it is shown as that is.
func (r *resolver) step(st *Step) {
	if st.For == nil {
		return
	}
	n := r.infer(st.For)
	if n == nil {
		return
	}
	if n.Kind != quantity.Time {
		r.report(source.WantsKind("for", "a time", n.KindName()), st.For.Span())
		return
	}
	st.Node = n
	unit, _ := n.FirstUnit()
	st.Show = quantity.DefaultShow(quantity.Time, unit)
	if name, alone := st.For.Alone(); alone {
		if f := r.scope.s.figs[name]; f != nil {
			st.Show = f.Show
		}
	}
}

// chart checks that the figures of a chart are of one kind, and its points and limits of the
// kind that goes with them.
func (r *resolver) chart(c *Chart) {
	for _, f := range c.Y {
		first := c.Y[0]
		switch {
		case f.Kind.Sort == quantity.Unknown || first.Kind.Sort == quantity.Unknown:
		case f.Kind != first.Kind:
			r.report(source.KindsDiffer("the figures of the chart", first.Kind.Name(), f.Kind.Name()), c.Span)
		case f.Kind.Sort == quantity.YesNo || f.Kind.Sort == quantity.Word:
			r.report(source.WantsKind("a chart", "figures with a number", f.Kind.Name()), c.Span)
		}
	}
	if c.Points != nil {
		for _, of := range []*Column{c.Points.X, c.Points.Y} {
			switch {
			case of.Live && c.Limits != nil && c.Limits.Method != "":
				r.report(source.LivePoints(of.Name), c.Span)
				c.Points = nil
				return
			case of.Kind.Sort == quantity.Unknown: // reported where it is added
				c.Points = nil
				return
			case of.Kind.Sort == quantity.YesNo || of == c.Points.Y && of.Kind.Sort == quantity.Word:
				r.report(source.WantsKind("points", "a column of quantities", of.Kind.Name()), c.Span)
				c.Points = nil
				return
			}
		}
	}
	if c.Points != nil && c.Limits != nil && c.Limits.Aim != "" {
		want := c.Points.Y.Kind
		for i, name := range []string{c.Limits.Aim, c.Limits.Action, c.Limits.Control} {
			got, _ := r.scope.Symbol("", name)
			if i > 0 {
				want = c.Points.Y.Kind.Difference()
			}
			if got.Kind.Sort != quantity.Unknown && got.Kind != want {
				r.report(source.WantsKind(name, want.Name(), got.Kind.Name()), c.Span)
			}
		}
	}
	if c.Points != nil && len(c.Y) > 0 {
		if k := c.Y[0].Kind; k.Sort != quantity.Unknown && k != c.Points.Y.Kind {
			r.report(source.KindsDiffer("the figures and the points", k.Name(), c.Points.Y.Kind.Name()), c.Span)
		}
		if c.X != nil && c.X.Kind != c.Points.X.Kind {
			r.report(source.KindsDiffer("the chart's given and its points", c.X.Kind.Name(), c.Points.X.Kind.Name()), c.Span)
		}
	}
}
