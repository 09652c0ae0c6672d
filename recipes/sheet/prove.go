package sheet

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Verdict is the outcome of one expectation of one check.
type Verdict struct {
	Check *Check
	// At says the given values that the check sets, "the page's own values" for none.
	At string
	// What is the figure's name, or the rule of an always.
	What            string
	Expected, Found string
	Source          string
	OK              bool
}

// Proof is what working a page out over its cases and running its checks gave.
type Proof struct {
	// Own is the page at its own values.
	Own      *Case
	Verdicts []Verdict
	// Cases is how many were tried, Refused how many of them the page refuses; All tells
	// whether they are all combinations of its steps.
	Cases, Refused int
	All            bool

	failed map[string]bool // the figures of which it was told that they give no number
}

// Sample tells whether the cases are some of many, drawn from ranges that hold more than can
// be tried.
func (p *Proof) Sample() bool { return !p.All && p.Cases > 0 }

// Prove works the sheet out at its own values and over its cases, and runs its checks.
// It is called for a sheet that has resolved without an error.
func (s *Sheet) Prove() (*Proof, source.List) {
	p := &Proof{Own: s.NewCase()}
	var list source.List
	p.Own.Work()
	if p.Own.Refused() {
		r := p.Own.Refusals[0]
		list = append(list, source.RefusedAtOwn(p.Own.Why()).At(r.Span))
	}
	for _, f := range p.Own.Failed {
		list = append(list, p.failure(f, ownValues)...)
	}
	for _, c := range s.Checks {
		if c.Always == nil {
			list = append(list, s.expected(c, p)...)
		}
	}
	if len(list) == 0 || list.Errors() == 0 {
		list = append(list, s.overCases(p)...)
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

// Why is the text of the first refusal, with the values of the givens that it places by their
// names alone.
func (c *Case) Why() string {
	if len(c.Refusals) == 0 {
		return ""
	}
	r := c.Refusals[0]
	if r.Limit == nil {
		return r.Text
	}
	run := c.orRun(r.Run)
	return braced.ReplaceAllStringFunc(strings.TrimSpace(r.Limit.Text.Text), func(text string) string {
		if g := run.Sheet.given[text[1:len(text)-1]]; g != nil {
			return run.ShownGiven(g).Text
		}
		return text
	})
}

var braced = regexp.MustCompile(`\{[a-z][a-z0-9_]*\}`)

const ownValues = "the page's own values"

func settingsText(at []Setting) string {
	if len(at) == 0 {
		return ownValues
	}
	var parts []string
	for _, s := range at {
		parts = append(parts, s.Text)
	}
	return strings.Join(parts, ", ")
}

// expected runs one check of the form at, expect.
func (s *Sheet) expected(c *Check, p *Proof) source.List {
	var list source.List
	at := settingsText(c.At)
	run := s.NewCase()
	for _, set := range c.At {
		run.Set(set.Given, set.Base)
	}
	run.Work()
	verdict := func(what, expected, found string, ok bool) {
		p.Verdicts = append(p.Verdicts, Verdict{Check: c, At: at, What: what, Expected: expected, Found: found, Source: c.Source, OK: ok})
	}
	for _, f := range run.Failed {
		list = append(list, p.failure(f, at)...)
	}
	if len(run.Failed) > 0 && !run.Refused() {
		return list
	}
	if c.Holds != "" {
		ok, found := run.holds(c.Holds)
		verdict("", string(c.Holds), found, ok)
		if !ok {
			list = append(list, source.CheckFailsLimit(string(c.Holds), at, found).At(c.Span))
		}
		return list
	}
	if run.Refused() {
		if !p.Own.Refused() || !run.Refusals[0].same(p.Own.Refusals[0]) { // else it was told
			list = append(list, source.CheckRefused(at, run.Why()).At(c.Span))
		}
		for _, e := range c.Expect {
			verdict(e.name(), e.Want.Text, "refused", false)
		}
		return list
	}
	for _, e := range c.Expect {
		found, ok := run.meets(e)
		expected := e.Want.Text
		if e.Want.HasTolerance {
			expected += " ± " + e.Want.ToleranceText
		}
		verdict(e.name(), expected, found, ok)
		if !ok {
			list = append(list, source.CheckFails(e.name(), at, expected, found).At(e.Span))
		}
	}
	return list
}

func (e Expectation) name() string {
	if e.Figure != nil {
		return e.Figure.Name
	}
	return e.Given.Name
}

// holds tells whether a limit of a kind holds, and what does in words.
func (c *Case) holds(kind LimitKind) (bool, string) {
	if kind == Refuse {
		if c.Refused() {
			return true, "refused"
		}
		return false, "it does not refuse"
	}
	for _, l := range c.Holding {
		if l.Kind == kind {
			return true, string(kind)
		}
	}
	if c.Refused() {
		return false, "the page refuses"
	}
	return false, "no " + string(kind) + " holds"
}

// meets compares a figure with what was expected of it: as displayed, or within the
// tolerance of its unrounded value.
func (c *Case) meets(e Expectation) (found string, ok bool) {
	var shown quantity.Shown
	var base float64
	if e.Figure != nil {
		base = c.Frame.V[e.Figure.Slot]
		shown = c.Shown(e.Figure)
	} else {
		base = c.Frame.V[e.Given.Slot]
		shown = c.ShownGiven(e.Given)
	}
	if e.Want.HasTolerance {
		exact := quantity.Show{Style: quantity.Written, Unit: e.Want.Unit}
		if e.Want.Kind == quantity.Number && e.Want.Unit.Text == "" {
			exact = quantity.Value{Kind: quantity.Number}.AsWritten()
		}
		return exact.Format(base).Text, quantity.LessOrEqual(math.Abs(base-e.Want.Base), e.Want.Tolerance)
	}
	if e.Want.YesNo || e.Want.Kind.Sort == quantity.Word {
		return shown.Text, quantity.Equal(base, e.Want.Base)
	}
	back, t := quantity.ParseExpected(shown.Text)
	if t != nil {
		return shown.Text, quantity.Equal(base, e.Want.Base)
	}
	return shown.Text, quantity.Equal(back.Base, e.Want.Base)
}

// overCases tries every case: figures finite, rules kept, limits that ever hold.
func (s *Sheet) overCases(p *Proof) source.List {
	var list source.List
	run := s.NewCase()
	held := map[*Limit]bool{}
	type breach struct {
		count int
		first []float64
	}
	breaches := map[*Check]*breach{}
	failed := map[string]bool{}
	crossed := map[*ChartLimits]bool{}
	var rules []*Check
	for _, c := range s.Checks {
		if c.Always != nil && c.Node != nil {
			rules = append(rules, c)
		}
	}
	watched := s.newPoles(held)
	p.All = s.EachCase(run, func() bool {
		p.Cases++
		run.Work()
		for _, l := range run.Holding {
			held[l] = true
		}
		if run.Refused() {
			p.Refused++
			return true
		}
		for _, f := range run.Failed {
			if name := failureName(f); !failed[name] {
				failed[name] = true
				at, _ := s.simplest(run.values(), func(c *Case) bool { return !c.Refused() && len(c.Failed) > 0 && failureName(c.Failed[0]) == name })
				list = append(list, source.NotFinite(name, at).At(f.Span))
			}
		}
		if len(run.Failed) > 0 {
			return true
		}
		if watched != nil && (p.Cases <= watched.grid || watched.grid == 0) {
			watched.look(run, p.Cases-1)
		}
		list = append(list, run.limitsApart(crossed)...)
		for _, c := range rules {
			run.Frame.Reset()
			if holds := c.Node.Eval(&run.Frame); holds == 0 || run.Frame.Fault != formula.None {
				b := breaches[c]
				if b == nil {
					b = &breach{first: run.values()}
					breaches[c] = b
				}
				b.count++
			}
		}
		return true
	})
	if watched != nil {
		list = append(list, watched.find(failed)...)
	}
	if p.Cases > 0 && p.Refused == p.Cases {
		at := s.File.Span(0, 3)
		for _, l := range s.Limits {
			if l.Kind == Refuse {
				at = l.Span
				break
			}
		}
		list = append(list, source.RefusedAlways().At(at))
	}
	for _, c := range rules {
		v := Verdict{Check: c, What: c.Text, Expected: "always", OK: breaches[c] == nil, Source: c.Source}
		if v.At = fmt.Sprintf("%d cases", p.Cases-p.Refused); p.Cases-p.Refused == 1 {
			v.At = "1 case"
		} else if !p.All {
			v.At += " drawn from the ranges"
		}
		v.Found = "holds"
		if b := breaches[c]; b != nil {
			at, run := s.simplest(b.first, func(run *Case) bool {
				if run.Refused() || len(run.Failed) > 0 {
					return false
				}
				run.Frame.Reset()
				return c.Node.Eval(&run.Frame) == 0 || run.Frame.Fault != formula.None
			})
			v.At, v.Found = at, "does not hold"
			sides := run.sides(c.Node)
			if sides != "" {
				v.Found = sides
			}
			list = append(list, source.AlwaysFails(at, sides, b.count, p.Cases-p.Refused).At(c.Always.Span()))
		} else if !s.canVary(c.Node) {
			list = append(list, source.AlwaysConstant().At(c.Always.Span()))
		}
		p.Verdicts = append(p.Verdicts, v)
	}
	if list.Errors() == 0 {
		for _, l := range s.Limits {
			if !held[l] {
				list = append(list, source.LimitNever(p.Cases).At(l.Span))
			}
		}
	}
	return list
}

// values copies the given values of a case.
func (c *Case) values() []float64 {
	out := make([]float64, len(c.Sheet.Given))
	for i, g := range c.Sheet.Given {
		out[i] = c.Frame.V[g.Slot]
	}
	return out
}

// simplest puts as many given values as possible back to the page's own while the case
// still fails; it says those that are left, and gives the case.
func (s *Sheet) simplest(values []float64, fails func(*Case) bool) (string, *Case) {
	run := s.NewCase()
	set := func() {
		for i, g := range s.Given {
			run.Set(g, values[i])
		}
		run.Work()
	}
	for i, g := range s.Given {
		old := values[i]
		values[i] = g.Own
		if set(); !fails(run) {
			values[i] = old
		}
	}
	var left []Setting
	for i, g := range s.Given {
		if values[i] != g.Own {
			left = append(left, Setting{Text: g.Name + " " + g.Shown(values[i]).Text})
		}
	}
	set()
	return settingsText(left), run
}

// canVary tells whether a rule depends on a value that can be set.
func (s *Sheet) canVary(n *formula.Node) bool {
	bySlot := map[int]*formula.Node{}
	fixed := map[int]bool{}
	for _, g := range s.Given {
		if !g.Settable() {
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
		if n.Op == formula.Var && !fixed[n.Slot] && !lets[n.Slot] {
			if f := bySlot[n.Slot]; f != nil {
				fixed[n.Slot] = true // seen once is enough
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
