package prove

import (
	"context"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Proof is the result of working a page out over its cases and running its checks.
type Proof struct {
	// Own is the page as it first opens: at its own values, with readings still to be entered.
	Own      *Case
	Verdicts []Verdict
	// Cases is how many cases were tried, Refused how many of them the page refuses; All says that
	// they are all combinations of its steps.
	Cases, Refused int
	All            bool
	// Finite says that every figure is proved to be a number at every setting that the page does
	// not refuse.
	Finite bool
	// Spreads are those of a page with document control, for its records; nil for any other page,
	// and if the cases were not tried.
	Spreads []Spread

	examples *Case           // the page at its own values and the examples of its readings
	failed   map[string]bool // figures already reported as giving no number
}

// Sample reports whether the cases are only a sample, because there are more than can be tried.
func (p *Proof) Sample() bool { return !p.All && p.Cases > 0 }

// Sheet proves a page: it works the sheet out at its own values and over its cases, and runs its
// checks. The sheet must have resolved without an error. If ctx ends, it stops after the present
// case and returns nil.
func Sheet(ctx context.Context, s *page.Sheet) (*Proof, source.List) {
	p := &Proof{Own: BlankCase(s), examples: OwnCase(s)}
	list := tooManyGroups(s)
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

// failure reports a figure that gives no number, unless it is already reported.
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

// same reports whether two refusals have the same cause.
func (r Refusal) same(other Refusal) bool {
	return r.Limit == other.Limit && r.Span == other.Span
}

func failureName(f Failure) string {
	if f.Figure == nil {
		return "the limit"
	}
	return f.Figure.Name
}

// Why is the text of the first refusal, with its placements filled in; "" if nothing refuses.
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
