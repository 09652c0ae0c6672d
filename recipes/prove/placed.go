package prove

import (
	"context"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Placed is a formula that a text of the page places. Texts are bound after the sheet is proved,
// which tries its figures alone.
type Placed struct {
	Text string // as written between the braces
	Node *formula.Node
	Span source.Span
	// Limit is the limit whose text it stands in, which is shown only if that limit holds; nil for
	// any other text.
	Limit *page.Limit
}

// Bounds on the work on one page, which may place thousands of formulas.
const (
	mostProved      = 200       // formulas that are proved to be finite; more are tried only
	mostPlacedTries = 2_000_000 // with more formulas times cases, not every case is tried
)

// Placed reports placed formulas that give no number: at the page's own values, or divided by zero
// and the like at any setting that the page does not refuse. Those that are proved to be finite cost
// no case; one that is placed again is judged once and reported at each place. If ctx ends, what it returns means nothing.
func (p *Proof) Placed(ctx context.Context, s *page.Sheet, all []Placed) source.List {
	if p.examples.Refused() || len(p.examples.Failed) > 0 || len(all) == 0 {
		return nil // that is already reported
	}
	type formulaIn struct {
		text  string
		limit *page.Limit
	}
	var distinct []Placed
	spans := map[formulaIn][]source.Span{}
	for _, x := range all {
		in := formulaIn{x.Text, x.Limit}
		if spans[in] == nil {
			distinct = append(distinct, x)
		}
		spans[in] = append(spans[in], x.Span)
	}
	var list source.List
	report := func(x Placed, what source.Problem) {
		for _, span := range spans[formulaIn{x.Text, x.Limit}] {
			list = append(list, what.At(span))
		}
	}
	var open []Placed
	p.examples.Room()
	reach := newContinuous(ctx, s)
	for i, x := range distinct {
		switch fault, at := p.examples.faultOf(x); {
		case fault.Refuses():
			report(x, source.RefusedAtOwn(p.examples.reason(fault, at)))
		case fault != formula.None:
			report(x, source.NotFinite("{"+x.Text+"}", ownValues))
		case i >= mostProved || !reach.finite(x.Node):
			open = append(open, x)
		}
	}
	if len(open) == 0 {
		return list
	}
	run, n := NewCase(s), 0
	every := 1 + p.Cases*len(open)/mostPlacedTries
	EachCase(s, run, func() bool {
		if n++; n%every != 0 {
			return ctx.Err() == nil
		}
		run.Work()
		open = slices.DeleteFunc(open, func(x Placed) bool {
			if !run.failsAt(x) {
				return false
			}
			at, _ := simplest(ctx, s, run.values(), func(c *Case) bool { return c.failsAt(x) })
			report(x, source.NotFinite("{"+x.Text+"}", at))
			return true
		})
		return len(open) > 0 && ctx.Err() == nil
	})
	return list
}

// failsAt reports whether a placed formula should give a number in a case that was worked out, and
// gives none.
func (c *Case) failsAt(x Placed) bool {
	if c.Refused() && (x.Limit == nil || x.Limit.Kind != page.Refuse) || len(c.Failed) > 0 {
		return false
	}
	fault, _ := c.faultOf(x)
	return fault != formula.None && !fault.Refuses()
}

// faultOf is why a placed formula gives no number in a case that was worked out: None as well where
// its text is not shown, where a reading is missing, or where a name that it uses failed before.
func (c *Case) faultOf(x Placed) (formula.FaultKind, *formula.Node) {
	if x.Limit != nil && !slices.Contains(c.Holding, x.Limit) {
		return formula.None, nil
	}
	c.Frame.Reset()
	x.Node.Eval(&c.Frame)
	fault, at := c.Frame.Fault, c.Frame.At
	if fault == formula.None || fault == formula.Missing || dependsOnFault(x.Node, &c.Frame) {
		return formula.None, nil
	}
	return fault, at
}
