package prove

import (
	"context"
	"fmt"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// trial tries a page over its cases, and keeps what was found so far.
type trial struct {
	ctx   context.Context
	sheet *page.Sheet
	proof *Proof
	run   *Case
	list  source.List

	rules    []*page.Check // those that must hold in every case
	breaches map[*page.Check]*breach
	held     map[*page.Limit]bool       // limits that held in some case
	failed   map[string]bool            // figures already reported as giving no number
	crossed  map[*page.ChartLimits]bool // limits of charts already reported
	timed    map[*page.Step]bool        // steps already reported as having no time
	poles    *poles
	proofs   map[*page.Check]outcome // what came of proving the rules that held in all cases
	never    map[*page.Limit]bool    // limits that are proved never to hold
	spread   *spreadCollector        // of a page with document control; else nil
}

// breach is a rule that does not hold: in how many cases, and the given values of the first.
type breach struct {
	count int
	first []float64
}

// overCases tries every case: are figures finite, do rules hold, does each limit ever hold? Its
// result means nothing if ctx ends meanwhile.
func overCases(ctx context.Context, s *page.Sheet, p *Proof) source.List {
	t := &trial{ctx: ctx, sheet: s, proof: p, run: NewCase(s), breaches: map[*page.Check]*breach{}, held: map[*page.Limit]bool{},
		failed: map[string]bool{}, crossed: map[*page.ChartLimits]bool{}, timed: map[*page.Step]bool{}}
	for _, c := range s.Checks {
		if c.Always != nil && c.Node != nil {
			t.rules = append(t.rules, c)
		}
	}
	t.poles = newPoles(s, t.held)
	if s.Control != nil && s.Control.Number != "" {
		t.spread = newSpreadCollector(s)
	}
	p.All = EachCase(s, t.run, t.try)
	if t.spread != nil && ctx.Err() == nil {
		p.Spreads = t.spread.end()
	}
	if t.poles != nil {
		t.list = append(t.list, t.poles.find(ctx, t.failed)...)
	}
	t.alwaysRefused()
	t.prove()
	for _, c := range t.rules {
		p.Verdicts = append(p.Verdicts, t.verdict(c))
	}
	if t.list.Errors() == 0 {
		for _, l := range s.Limits {
			if !t.held[l] && l.Each == nil && !s.DependsOnToday(l.Node) { // a row or a day for which it holds may still come
				t.list = append(t.list, source.LimitNever(p.Cases, t.never[l]).At(l.Span))
			}
		}
	}
	return t.list
}

// try works one case out; it reports whether to go on.
func (t *trial) try() bool {
	if t.ctx.Err() != nil {
		return false
	}
	p, run := t.proof, t.run
	p.Cases++
	run.Work()
	if t.spread != nil {
		t.spread.take(run)
	}
	for _, l := range run.Holding {
		t.held[l] = true
	}
	if run.Refused() {
		p.Refused++
		return true
	}
	for _, f := range run.Failed {
		t.fails(f)
	}
	if len(run.Failed) > 0 {
		return true
	}
	if t.poles != nil && (p.Cases <= t.poles.grid || t.poles.grid == 0) {
		t.poles.look(run, p.Cases-1)
	}
	t.list = append(t.list, run.crossedLimits(t.ctx, t.crossed)...)
	t.stepTimes()
	for _, c := range t.rules {
		if run.Keeps(c) {
			continue
		}
		b := t.breaches[c]
		if b == nil {
			b = &breach{first: run.values()}
			t.breaches[c] = b
		}
		b.count++
	}
	return true
}

// Keeps reports whether a rule holds in a case that was worked out, or waits for a reading.
func (c *Case) Keeps(rule *page.Check) bool {
	c.Frame.Reset()
	holds := rule.Node.Eval(&c.Frame) != 0
	return holds && c.Frame.Fault == formula.None || c.Frame.Fault == formula.Missing
}

// fails reports a figure that gives no number in the present case, once.
func (t *trial) fails(f Failure) {
	name := failureName(f)
	if t.failed[name] {
		return
	}
	t.failed[name] = true
	at, _ := simplest(t.ctx, t.sheet, t.run.values(), func(c *Case) bool {
		return !c.Refused() && len(c.Failed) > 0 && failureName(c.Failed[0]) == name
	})
	t.list = append(t.list, source.NotFinite(name, at).At(f.Span))
}

// alwaysRefused reports a page that refuses all of its cases, at its first refusal.
func (t *trial) alwaysRefused() {
	if t.proof.Cases == 0 || t.proof.Refused < t.proof.Cases {
		return
	}
	at := t.sheet.File.Span(0, 3)
	for _, l := range t.sheet.Limits {
		if l.Kind == page.Refuse {
			at = l.Span
			break
		}
	}
	t.list = append(t.list, source.RefusedAlways().At(at))
}

// verdict says what came of a rule, and reports one that does not hold or cannot fail.
func (t *trial) verdict(c *page.Check) Verdict {
	count := t.proof.Cases - t.proof.Refused
	v := Verdict{Check: c, What: c.Text, Expected: "always", Found: "holds", OK: t.breaches[c] == nil, Source: c.Source}
	if t.proofs[c] == proved {
		v.At, v.Proved = "every setting (proved)", true
	} else if v.At = fmt.Sprintf("%d cases", count); count == 1 {
		v.At = "1 case"
	} else if !t.proof.All {
		v.At += " drawn from the ranges"
	}
	b := t.breaches[c]
	if b == nil {
		if !canVary(t.sheet, c.Node) {
			t.list = append(t.list, source.AlwaysConstant().At(c.Always.Span()))
		}
		return v
	}
	at, run := simplest(t.ctx, t.sheet, b.first, func(run *Case) bool {
		return !run.Refused() && len(run.Failed) == 0 && !run.Keeps(c)
	})
	sides := run.sides(c.Node)
	v.At, v.Found = at, sides
	if sides == "" {
		v.Found = "does not hold"
	}
	t.list = append(t.list, source.AlwaysFails(at, sides, b.count, count).At(c.Always.Span()))
	return v
}

// prove tries to prove for all settings what held in all cases. Settings that it finds at which a
// rule does not hold count as one more case.
func (t *trial) prove() {
	t.proofs, t.never = map[*page.Check]outcome{}, map[*page.Limit]bool{}
	if t.ctx.Err() != nil || t.list.Errors() > 0 || t.proof.Cases == t.proof.Refused {
		return
	}
	c := newContinuous(t.ctx, t.sheet)
	t.proof.Finite = true
	for _, f := range t.sheet.Sorted {
		t.proof.Finite = t.proof.Finite && (f.Node == nil || c.finite(f.Node))
	}
	for _, rule := range t.rules {
		if t.breaches[rule] != nil {
			continue
		}
		came, at := c.holds(rule.Node, func(run *Case) bool { return !run.Keeps(rule) })
		t.proofs[rule] = came
		if came == broken {
			t.breaches[rule] = &breach{count: 1, first: at}
		}
	}
	for _, l := range t.sheet.Limits {
		if l.Node != nil && !t.held[l] {
			t.never[l] = c.never(l)
		}
	}
}

// values copies the given values of a case.
func (c *Case) values() []float64 {
	out := make([]float64, len(c.Sheet.Given))
	for i, g := range c.Sheet.Given {
		out[i] = c.Frame.V[g.Slot]
	}
	return out
}

// simplest sets as many given values as possible back to the page's own while the case still
// fails. It names those that are left, and returns the case.
func simplest(ctx context.Context, s *page.Sheet, values []float64, fails func(*Case) bool) (string, *Case) {
	run := NewCase(s)
	set := func() {
		for i, g := range s.Given {
			run.Set(g, values[i])
		}
		run.Work()
	}
	for i, g := range s.Given {
		if ctx.Err() != nil {
			break
		}
		old := values[i]
		values[i] = g.Own
		if set(); !fails(run) {
			values[i] = old
		}
	}
	var left []page.Setting
	for i, g := range s.Given {
		if values[i] != g.Own {
			left = append(left, page.Setting{Text: g.Name + " " + g.Shown(values[i]).Text})
		}
	}
	set()
	return settingsText(left), run
}

// canVary reports whether a rule depends on a value that can be set.
func canVary(s *page.Sheet, n *formula.Node) bool {
	bySlot := map[int]*formula.Node{}
	fixed := map[int]bool{}
	for _, g := range s.Given {
		if !g.Settable() && !g.Today {
			fixed[g.Slot] = true
		}
	}
	for _, f := range s.Figures {
		bySlot[f.Slot] = f.Node
	}
	lets := map[int]bool{}
	vary := false
	var see func(n *formula.Node) bool
	see = func(n *formula.Node) bool {
		if n.Op == formula.Let {
			lets[n.Slot] = true
		}
		if n.Data != nil && n.Data.Live() != nil {
			vary = true
		}
		if n.Op == formula.Var && !fixed[n.Slot] && !lets[n.Slot] {
			if f := bySlot[n.Slot]; f != nil {
				fixed[n.Slot] = true // so that it is visited once
				f.Walk(see)
			} else {
				vary = true
			}
		}
		return !vary
	}
	n.Walk(see)
	return vary
}
