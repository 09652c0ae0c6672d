package prove

import (
	"math"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Case is a sheet worked out at one set of given values.
type Case struct {
	Sheet *page.Sheet
	// Frame holds all values by slot, in base units.
	Frame formula.Frame
	// Holding are the limits that hold, in the page's order, those that refuse included.
	Holding []*page.Limit
	// Refusals say why no number may be shown; empty if numbers may be shown.
	Refusals []Refusal
	// Failed are the figures whose formula gave no finite number.
	Failed []Failure

	// blank says that readings are missing unless they were set, here and on the pages drawn on.
	blank bool
	// lacks say why a value is missing, by slot.
	lacks map[int]Lack

	// top is the case of the page in whose frame this one lies, and part its place there; top is
	// nil for that page itself, which keeps the cases of its parts in runs.
	top  *Case
	part *page.Part
	runs []*Case
	// shut says that the case has no numbers because another part refuses.
	shut bool
}

// Refusal is a reason why a case has no numbers.
type Refusal struct {
	// Limit is the limit that refuses; nil if a formula refuses by itself.
	Limit *page.Limit
	// Text is the reason why a formula refuses.
	Text string
	Span source.Span
	// From is the page drawn on that refuses, Run its case; nil for this page.
	From *page.Use
	Run  *Case
}

// Failure is a formula that gave no finite number.
type Failure struct {
	Figure *page.Figure
	Span   source.Span
}

// Refused reports whether the case has no numbers.
func (c *Case) Refused() bool { return len(c.Refusals) > 0 || c.shut }

// begin drops what was found at other values.
func (c *Case) begin() {
	c.Holding, c.Refusals, c.Failed = c.Holding[:0], c.Refusals[:0], c.Failed[:0]
	clear(c.lacks)
	c.shut = false
}

var nan = math.NaN()

// NewCase makes a case at the page's own values, not yet worked out.
func NewCase(s *page.Sheet) *Case {
	c := &Case{Sheet: s}
	c.Frame.V = make([]float64, s.Slots())
	for _, g := range s.Given {
		c.Frame.V[g.Slot] = g.Own
	}
	return c
}

// NewBlank makes a case as a page first opens: at its own values, with readings still to be
// entered.
func NewBlank(s *page.Sheet) *Case {
	c := NewCase(s)
	c.blank = true
	for _, g := range s.Given {
		if g.Reading {
			c.Frame.V[g.Slot] = formula.Absent
		}
	}
	return c
}

// Set sets a given to a value in base units.
func (c *Case) Set(g *page.Given, base float64) { c.Frame.V[g.Slot] = base }

// Work works out all figures and limits for the given values that were set. A case is used over
// and over, so nothing is allocated unless something goes wrong.
func (c *Case) Work() {
	s := c.Sheet
	c.begin()
	for _, step := range s.Program {
		if step.Use != nil {
			c.workUse(step.Use)
			continue
		}
		if step.Added != nil {
			c.workAdded(step.Added)
			continue
		}
		f := step.Figure
		if f.Node == nil {
			continue
		}
		c.Frame.Reset()
		v := f.Node.Eval(&c.Frame)
		switch fault := c.Frame.Fault; {
		case fault == formula.None:
		case fault == formula.Missing:
			v = formula.Absent
			c.lack(f.Slot, c.lackOf(c.Frame.At))
		case f.Else != "" && fault.Refuses() && !dependsOnFault(f.Node, &c.Frame):
			v = formula.Absent
			c.lack(f.Slot, Lack{f.Else})
		default:
			// what depends on it fails as well, but only the first is reported
			v = nan
			c.fault(f, c.Frame.Fault, c.Frame.At)
		}
		c.Frame.V[f.Slot] = v
	}
	for _, l := range s.Limits {
		if l.Node == nil {
			continue
		}
		c.Frame.Reset()
		holds := l.Node.Eval(&c.Frame)
		if c.Frame.Fault == formula.Missing {
			continue // while the condition waits for a reading, the limit does not hold
		}
		if c.Frame.Fault != formula.None {
			if c.Frame.Fault.Refuses() || len(c.Failed) == 0 {
				c.faultAt(nil, l.When, c.Frame.Fault, c.Frame.At)
			}
			continue
		}
		if holds == 0 || math.IsNaN(holds) {
			continue
		}
		c.Holding = append(c.Holding, l)
		if l.Kind == page.Refuse {
			c.Refusals = append(c.Refusals, Refusal{Limit: l, Span: l.Span})
		}
	}
}

// workAdded works out an added column whose cells depend on values that can be set.
func (c *Case) workAdded(a *page.Added) {
	if a.Node == nil || !a.Column.Live {
		return
	}
	state := a.Column.State()
	c.Frame.V[state] = 0
	for row := range a.Column.Rows {
		a.File.SetRow(&c.Frame, row)
		c.Frame.Reset()
		v := a.Node.Eval(&c.Frame)
		if kind, at := c.Frame.Fault, c.Frame.At; kind == formula.Missing {
			v = formula.Absent
			if c.Frame.V[state] == 0 {
				c.Frame.V[state] = v
				c.lack(state, c.lackOf(at))
			}
		} else if kind != formula.None {
			if c.Frame.V[state] == 0 && !dependsOnFault(a.Node, &c.Frame) { // only the first is reported
				c.faultAt(nil, a.Formula, kind, at)
			}
			c.Frame.V[state], v = nan, nan
		}
		c.Frame.V[a.Column.Slot+row] = v
	}
}

func (c *Case) fault(f *page.Figure, kind formula.FaultKind, at *formula.Node) {
	if dependsOnFault(f.Node, &c.Frame) {
		return
	}
	c.faultAt(f, f.Formula, kind, at)
}

// dependsOnFault reports whether a formula uses a name whose own formula failed. Names that it binds
// itself do not count: their faults are its own.
func dependsOnFault(n *formula.Node, frame *formula.Frame) bool {
	bound := map[int]bool{}
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Let {
			bound[n.Slot] = true
		}
		return true
	})
	found := false
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Var && !bound[n.Slot] && math.IsNaN(frame.V[n.Slot]) && !formula.IsAbsent(frame.V[n.Slot]) {
			found = true
		}
		if n.Data != nil {
			for _, c := range n.Data.Live() {
				found = found || math.IsNaN(frame.V[c.State()]) && !formula.IsAbsent(frame.V[c.State()])
			}
		}
		return !found
	})
	return found
}

func (c *Case) faultAt(f *page.Figure, text *formula.Formula, kind formula.FaultKind, at *formula.Node) {
	span := text.SpanOf(at)
	if kind.Refuses() {
		c.Refusals = append(c.Refusals, Refusal{Text: c.reason(kind, at), Span: span})
		return
	}
	c.Failed = append(c.Failed, Failure{f, span})
}

// reason says in words why a formula refuses.
func (c *Case) reason(kind formula.FaultKind, at *formula.Node) string {
	var parts []string
	if at.Data != nil {
		for i, key := range at.Data.Keys {
			parts = append(parts, strings.ReplaceAll(key.Name, "_", " ")+" "+key.Show().Format(at.Args[i].Eval(&c.Frame)).Text)
		}
	}
	return kind.Reason(at, strings.Join(parts, ", "))
}

// Room grows the frame to as many slots as the sheet has by now: formulas of the body may have
// bound names since the case was made.
func (c *Case) Room() {
	if n := c.Sheet.Slots() - len(c.Frame.V); n > 0 {
		c.Frame.V = append(c.Frame.V, make([]float64, n)...)
	}
}

// Copy makes a case with the same given values, not yet worked out.
func (c *Case) Copy() *Case {
	out := NewCase(c.Sheet)
	out.blank = c.blank
	for _, g := range c.Sheet.Given {
		out.Frame.V[g.Slot] = c.Frame.V[g.Slot]
	}
	return out
}
