package prove

import (
	"math"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Verdict is the outcome of one expectation of one check.
type Verdict struct {
	Check *page.Check
	// At names the given values that the check sets, "the page's own values" if it sets none.
	At string
	// What is the figure's name, or the rule of an always.
	What            string
	Expected, Found string
	Source          string
	OK              bool
	// Proved says that an always is proved for every setting.
	Proved bool
}

func settingsText(at []page.Setting) string {
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
func expected(s *page.Sheet, c *page.Check, p *Proof) source.List {
	var list source.List
	at := settingsText(c.At)
	run := NewCase(s)
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
		ok, found := run.holds(c)
		verdict("", c.Wanted(), found, ok)
		if !ok {
			list = append(list, source.CheckFailsLimit(c.Wanted(), at, found).At(c.Span))
		}
		return list
	}
	if run.Refused() {
		if !p.examples.Refused() || !run.Refusals[0].same(p.examples.Refusals[0]) { // else it is already reported
			list = append(list, source.CheckRefused(at, run.Why()).At(c.Span))
		}
		for _, e := range c.Expect {
			verdict(name(e), e.Want.Text, "refused", false)
		}
		return list
	}
	for _, e := range c.Expect {
		found, ok := run.meets(e)
		expected := e.Want.Text
		if e.Want.HasTolerance {
			expected += " ± " + e.Want.ToleranceText
		}
		verdict(name(e), expected, found, ok)
		if !ok {
			p := source.CheckFails(name(e), at, expected, found)
			if run.rounds(e) {
				p = source.CheckShownOtherwise(name(e), at, expected, found)
			}
			list = append(list, p.At(e.Span))
		}
	}
	return list
}

// Passes reports whether a check with an expectation passes. run comes at the page's own values,
// and is left at those of the check.
func Passes(c *page.Check, run *Case) bool {
	for _, set := range c.At {
		run.Set(set.Given, set.Base)
	}
	run.Work()
	if len(run.Failed) > 0 && !run.Refused() {
		return false
	}
	if c.Holds != "" {
		ok, _ := run.holds(c)
		return ok
	}
	if run.Refused() {
		return false
	}
	for _, e := range c.Expect {
		if _, ok := run.meets(e); !ok {
			return false
		}
	}
	return true
}

// rounds reports whether a figure that is shown as another value than the expected one would agree
// with it if it were shown to as many digits.
func (c *Case) rounds(e page.Expectation) bool {
	w := e.Want
	if e.Figure == nil || w.HasTolerance || w.YesNo || w.Form != quantity.Plain || w.Kind != e.Figure.Kind {
		return false
	}
	number, unit, _ := strings.Cut(w.Text, " ")
	step := "1"
	if _, decimals, ok := strings.Cut(number, "."); ok {
		step = "0." + strings.Repeat("0", len(decimals)-1) + "1"
	}
	show, trouble := quantity.ParseShow(strings.TrimSpace(step+" "+unit), w.Kind)
	if trouble != nil {
		return false
	}
	return show.Format(c.Frame.V[e.Figure.Slot]).Text == show.Format(w.Base).Text
}

func name(e page.Expectation) string {
	if e.Figure != nil {
		return e.Figure.Name
	}
	return e.Given.Name
}

// holds reports whether the limits are as a check expects, and describes how they are.
func (c *Case) holds(check *page.Check) (bool, string) {
	holds, found := c.limitHolds(check.Holds)
	if check.Silent {
		return !holds && !c.Refused(), found
	}
	return holds, found
}

// limitHolds reports whether a limit of a kind holds, and describes what does.
func (c *Case) limitHolds(kind page.LimitKind) (bool, string) {
	if kind == page.Refuse {
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

// meets compares a figure with what is expected of it: the value as shown, or, if a tolerance is
// given, the unrounded one.
func (c *Case) meets(e page.Expectation) (found string, ok bool) {
	var shown quantity.Shown
	var base float64
	if e.Figure != nil {
		base = c.Frame.V[e.Figure.Slot]
		shown = c.Shown(e.Figure)
	} else {
		base = c.Frame.V[e.Given.Slot]
		shown = c.ShownGiven(e.Given)
	}
	switch {
	case shown.Missing && shown.Text == "":
		return "missing", false
	case shown.Missing || e.Instead:
		return shown.Text, shown.Missing && e.Instead
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
