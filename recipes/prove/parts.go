package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// workUse copies the values of a page drawn on, and first works it out if that falls to this use.
func (c *Case) workUse(u *page.Use) {
	if c.Sheet.Layout == nil && c.top == nil {
		return
	}
	top := c.whole()
	to := c.place().Links[u.Number]
	if to == nil {
		return
	}
	run := top.runOf(to)
	if c.place().Owns(u) {
		c.workPart(u, run)
	} else if c.top != nil && run.Refused() {
		c.shut = true
	}
	copy(c.Frame.V[u.Base:u.Base+u.Slots], run.Frame.V)
}

// runOf is the case of a part, which lies in the frame of the page's case.
func (c *Case) runOf(p *page.Part) *Case {
	if c.runs == nil {
		c.runs = make([]*Case, c.Sheet.Layout.Count)
	}
	run := c.runs[p.Number]
	if run == nil {
		run = &Case{Sheet: p.Sheet, top: c, part: p}
		c.runs[p.Number] = run
	}
	run.Frame.V = c.Frame.V[p.Base : p.Base+p.Sheet.BlockSize() : p.Base+p.Sheet.BlockSize()]
	return run
}

// workPart works out a page drawn on at the values that a use sets.
func (c *Case) workPart(u *page.Use, run *Case) {
	top := c.whole()
	run.begin()
	for _, g := range u.Sheet.Given {
		run.Frame.V[g.Slot] = g.Own
		if g.Reading && top.blank {
			run.Frame.V[g.Slot] = formula.Absent
		}
	}
	for i := range u.At {
		set := &u.At[i]
		if set.Node == nil {
			continue
		}
		c.Frame.Reset()
		v := set.Node.Eval(&c.Frame)
		if c.Frame.Fault == formula.Missing {
			run.Frame.V[set.Given.Slot] = formula.Absent
			run.lack(set.Given.Slot, c.lackOf(c.Frame.At))
			continue
		}
		if c.Frame.Fault != formula.None {
			if !dependsOnFault(set.Node, &c.Frame) {
				c.faultAt(nil, set.Formula, c.Frame.Fault, c.Frame.At)
			}
			run.withdraw()
			return
		}
		if !set.Given.Takes(v) {
			c.Refusals = append(c.Refusals, Refusal{Text: source.UseOutside(set.Given.Labelled(), set.Given.Show.Format(v).Text, u.Sheet.Title), Span: set.Span, From: u})
			run.withdraw()
			return
		}
		run.Frame.V[set.Given.Slot] = v
	}
	run.Work()
	for _, r := range run.Refusals {
		if r.From == nil {
			r.From = u
		}
		r.Span = u.Span
		r.Run = run.orRun(r.Run)
		c.Refusals = append(c.Refusals, r)
	}
	for _, f := range run.Failed {
		f.Span = u.Span
		c.Failed = append(c.Failed, f)
	}
}

// whole is the case of the page in whose frame this one lies; for that page, the case itself.
func (c *Case) whole() *Case {
	if c.top != nil {
		return c.top
	}
	return c
}

// place is the part of the layout that the case is of. It must not be asked of a page that draws
// on none.
func (c *Case) place() *page.Part {
	if c.top != nil {
		return c.part
	}
	return c.Sheet.Layout.Top
}

// Inside is the case of a page drawn on by this one; nil before it is worked out.
func (c *Case) Inside(u *page.Use) *Case {
	top := c.whole()
	if top.runs == nil {
		return nil
	}
	if to := c.place().Links[u.Number]; to != nil {
		return top.runs[to.Number]
	}
	return nil
}

func (c *Case) orRun(run *Case) *Case {
	if run != nil {
		return run
	}
	return c
}

// withdraw takes away the numbers of a page drawn on, and of the pages worked out for its uses.
func (c *Case) withdraw() {
	c.begin()
	c.shut = true
	for i := range c.Frame.V {
		c.Frame.V[i] = nan
	}
	for _, u := range c.Sheet.Uses {
		if c.part.Owns(u) {
			c.top.runOf(c.part.Links[u.Number]).withdraw()
		}
	}
}

// Held is a limit that holds on this page or on one that it draws on, with the case whose values
// its text shows.
type Held struct {
	Limit *page.Limit
	Run   *Case
	// From is the page drawn on, nil for this one.
	From *page.Use
}

// At is the case of a part; nil if it was not worked out.
func (c *Case) At(p *page.Part) *Case {
	if p.Number < len(c.runs) {
		return c.runs[p.Number]
	}
	return nil
}

// PartOf finds the part that another case is of; nil if that is not part of this case.
func (c *Case) PartOf(run *Case) *page.Part {
	if run.top != c {
		return nil
	}
	return run.part
}

// AllHolding lists the limits that hold: this page's own first, then those of the pages that it
// draws on, in the order in which they are worked out. The page's script lists them likewise.
func (c *Case) AllHolding() []Held {
	var out []Held
	for _, l := range c.Holding {
		out = append(out, Held{Limit: l, Run: c})
	}
	if c.runs == nil {
		return out
	}
	for _, p := range c.Sheet.Layout.Parts {
		if run := c.runs[p.Number]; run != nil {
			for _, l := range run.Holding {
				out = append(out, Held{l, run, p.Use})
			}
		}
	}
	return out
}

// CautionCase is the case whose values a caution's text shows: that of its page within c, or, if
// there is none, its page at its own values.
func CautionCase(u page.UsedCaution, c *Case) *Case {
	if run := c.At(u.Part); run != nil {
		return run
	}
	return OwnCase(u.Sheet)
}
