package sheet

import (
	"math"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Case is a sheet worked out at one set of given values.
type Case struct {
	Sheet *Sheet
	// Frame holds all values by slot, in base units.
	Frame formula.Frame
	// Holding are the limits that hold, in the page's order; a refusal among them.
	Holding []*Limit
	// Refusals say why no number may be shown; empty where all is well.
	Refusals []Refusal
	// Failed are the figures whose formula gave no finite number.
	Failed []Failure

	uses map[*Use]*Case
}

// Refusal is a reason why a case has no numbers.
type Refusal struct {
	// Limit is the limit that refuses; nil where a formula does by itself.
	Limit *Limit
	// Text is the reason where there is no limit.
	Text string
	Span source.Span
	// From is the page drawn on that refuses, Run its case; nil for this page.
	From *Use
	Run  *Case
}

// Failure is a formula that gave no finite number.
type Failure struct {
	Figure *Figure
	Span   source.Span
}

// Refused tells whether every number is withdrawn.
func (c *Case) Refused() bool { return len(c.Refusals) > 0 }

var nan = math.NaN()

// NewCase makes room for a case at the page's own values.
func (s *Sheet) NewCase() *Case {
	c := &Case{Sheet: s}
	c.Frame.V = make([]float64, s.slots)
	for _, g := range s.Given {
		c.Frame.V[g.Slot] = g.Own
	}
	return c
}

// Set puts a value, in base units, for a given.
func (c *Case) Set(g *Given, base float64) { c.Frame.V[g.Slot] = base }

// Work works all figures and limits out for the given values that were set. The case
// is used again and again; nothing is allocated where nothing goes wrong.
func (c *Case) Work() {
	s := c.Sheet
	c.Holding, c.Refusals, c.Failed = c.Holding[:0], c.Refusals[:0], c.Failed[:0]
	for _, step := range s.Program {
		if step.Use != nil {
			c.workUse(step.Use)
			continue
		}
		f := step.Figure
		if f.Node == nil {
			continue
		}
		c.Frame.Reset()
		v := f.Node.Eval(&c.Frame)
		if c.Frame.Fault != formula.None {
			// what depends on it fails as well; the first is told
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
		if l.Kind == Refuse {
			c.Refusals = append(c.Refusals, Refusal{Limit: l, Span: l.Span})
		}
	}
}

func (c *Case) fault(f *Figure, kind formula.FaultKind, at *formula.Node) {
	if dependsOnFault(f.Node, &c.Frame) {
		return
	}
	c.faultAt(f, f.Formula, kind, at)
}

// dependsOnFault tells whether one of the names that a formula uses has no value. Names
// that it binds itself are its own trouble.
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
		if n.Op == formula.Var && !bound[n.Slot] && math.IsNaN(frame.V[n.Slot]) {
			found = true
		}
		return !found
	})
	return found
}

func (c *Case) faultAt(f *Figure, text *formula.Formula, kind formula.FaultKind, at *formula.Node) {
	span := text.SpanOf(at)
	if kind.Refuses() {
		c.Refusals = append(c.Refusals, Refusal{Text: c.reason(kind, at), Span: span})
		return
	}
	c.Failed = append(c.Failed, Failure{f, span})
}

// reason says in words why a formula refuses.
func (c *Case) reason(kind formula.FaultKind, at *formula.Node) string {
	switch kind {
	case formula.OutOfRange:
		return at.Reason
	case formula.NoRow, formula.Beyond:
		var parts []string
		for i, key := range at.Data.Keys {
			parts = append(parts, strings.ReplaceAll(key.Name, "_", " ")+" "+key.Show().Format(at.Args[i].Eval(&c.Frame)).Text)
		}
		return source.NotInData(at.Data.Result.File, strings.Join(parts, ", "), kind == formula.Beyond)
	}
	return ""
}

// Shown writes a figure's value of this case.
func (c *Case) Shown(f *Figure) quantity.Shown { return f.Show.Format(c.Frame.V[f.Slot]) }

// ShownGiven writes a given's value of this case.
func (c *Case) ShownGiven(g *Given) quantity.Shown { return g.Shown(c.Frame.V[g.Slot]) }

// Figure finds a figure by name, Given a given; nil where there is none.
func (s *Sheet) Figure(name string) *Figure { return s.figs[name] }

// GivenNamed finds a given by name, or nil.
func (s *Sheet) GivenNamed(name string) *Given { return s.given[name] }

// Room makes the frame as large as the sheet has slots by now: formulas of the body may
// have bound names since the case was made.
func (c *Case) Room() {
	c.Sheet.slotMu.Lock()
	n := c.Sheet.slots - len(c.Frame.V)
	c.Sheet.slotMu.Unlock()
	if n > 0 {
		c.Frame.V = append(c.Frame.V, make([]float64, n)...)
	}
}

// OwnCase is the sheet worked out at its own values.
func (s *Sheet) OwnCase() *Case {
	c := s.NewCase()
	c.Work()
	return c
}

// ShownOf writes a value of a page drawn on.
func (c *Case) ShownOf(of, name string) (string, bool) {
	u := c.Sheet.use(of)
	if u == nil || u.Sheet == nil {
		return "", false
	}
	if g := u.Sheet.given[name]; g != nil {
		return g.Shown(c.Frame.V[u.Base+g.Slot]).Text, true
	}
	if f := u.Sheet.figs[name]; f != nil {
		return f.Show.Format(c.Frame.V[u.Base+f.Slot]).Text, true
	}
	return "", false
}

// Copy makes a case with the same given values, to be set and worked out on its own.
func (c *Case) Copy() *Case {
	out := c.Sheet.NewCase()
	for _, g := range c.Sheet.Given {
		out.Frame.V[g.Slot] = c.Frame.V[g.Slot]
	}
	return out
}
