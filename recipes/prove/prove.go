package prove

import (
	"context"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Proof is what working a page out over its cases and running its checks gave.
type Proof struct {
	// Own is the page as it shows itself: at its own values, and without its readings.
	Own      *Case
	Verdicts []Verdict
	// Cases is how many were tried, Refused how many of them the page refuses; All tells
	// whether they are all combinations of its steps.
	Cases, Refused int
	All            bool
	// Finite says that every figure is proved to be a number at every setting that the page does
	// not refuse.
	Finite bool
	// Spreads are the labelled figures of a page with document control over its cases, which a
	// record of it holds; nil of any other page, and where the cases were not tried.
	Spreads []Spread

	examples *Case           // the page at its own values and the examples of its readings
	failed   map[string]bool // the figures that are reported already, since they give no number
}

// Sample tells whether the cases are some of many, drawn from ranges that hold more than can
// be tried.
func (p *Proof) Sample() bool { return !p.All && p.Cases > 0 }

// Sheet proves a page: it works its sheet out at its own values and over its cases, and runs its checks.
// It is called for a sheet that has resolved without an error. Where ctx ends it stops after
// the case at hand, and gives nothing.
func Sheet(ctx context.Context, s *page.Sheet) (*Proof, source.List) {
	p := &Proof{Own: BlankCase(s), examples: OwnCase(s)}
	list := ungathered(s)
	if p.examples.Refused() {
		r := p.examples.Refusals[0]
		list = append(list, source.RefusedAtOwn(p.examples.Why()).At(r.Span))
	}
	list = append(list, p.examples.stepsRefused()...)
	list = append(list, p.Own.rowsHeld()...)
	list = append(list, p.Own.pointsBeyond()...)
	for _, f := range p.examples.Failed {
		list = append(list, p.failure(f, ownValues)...)
	}
	list = append(list, p.examples.products()...)
	for _, c := range s.Checks {
		if ctx.Err() != nil {
			return nil, nil
		}
		if c.Always == nil {
			list = append(list, expected(s, c, p)...)
		}
	}
	if len(list) == 0 || list.Errors() == 0 {
		list = append(list, overCases(ctx, s, p)...)
	}
	if ctx.Err() != nil {
		return nil, nil
	}
	return p, list
}

// failure reports a figure that gives no number, once.
func (p *Proof) failure(f Failure, at string) source.List {
	name := failureName(f)
	if p.failed[name] {
		return nil
	}
	if p.failed == nil {
		p.failed = map[string]bool{}
	}
	p.failed[name] = true
	return source.List{source.NotFinite(name, at).At(f.Span)}
}

// same tells whether two cases are refused for one cause.
func (r Refusal) same(other Refusal) bool {
	return r.Limit == other.Limit && r.Span == other.Span
}

func failureName(f Failure) string {
	if f.Figure == nil {
		return "the limit"
	}
	return f.Figure.Name
}

// Why is the text of the first refusal, with what it places filled in.
func (c *Case) Why() string {
	if len(c.Refusals) == 0 {
		return ""
	}
	r := c.Refusals[0]
	if r.Limit == nil {
		return r.Text
	}
	return c.orRun(r.Run).filled(strings.TrimSpace(r.Limit.Text.Text))
}

const ownValues = "the page's own values"
