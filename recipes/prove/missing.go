package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Lack says why a value is missing.
type Lack struct {
	// Instead stands in the value's place: the else of a figure whose formula was refused. It is
	// "" if a reading was not entered; nothing stands in place of that.
	Instead string
}

// lack notes why a value is missing.
func (c *Case) lack(slot int, why Lack) {
	if c.lacks == nil {
		c.lacks = map[int]Lack{}
	}
	c.lacks[slot] = why
}

// lackAt finds why the value at a slot is missing, on this page or on one that it draws on.
func (c *Case) lackAt(slot int) Lack {
	if why, ok := c.lacks[slot]; ok {
		return why
	}
	for _, u := range c.Sheet.Uses {
		if slot < u.Base || slot >= u.Base+u.Slots {
			continue
		}
		if run := c.Inside(u); run != nil {
			return run.lackAt(slot - u.Base)
		}
	}
	if c.Sheet.Layout == nil || c.top != nil {
		return Lack{}
	}
	for _, p := range c.Sheet.Layout.Parts { // the slot may be of a text taken from a page drawn on
		if run := c.At(p); run != nil && slot >= p.Base && slot < p.Base+p.Sheet.BlockSize() {
			return run.lackAt(slot - p.Base)
		}
	}
	return Lack{}
}

// lackOf finds why a formula has no value; at is the part of it that lacks one.
func (c *Case) lackOf(at *formula.Node) Lack { return c.lackAt(at.MissingSlot(&c.Frame)) }

// Missing reports whether the value at a slot is missing.
func (c *Case) Missing(slot int) bool { return formula.IsAbsent(c.Frame.V[slot]) }

// Write writes the value at a slot, or what stands in its place.
func (c *Case) Write(slot int, show func(base float64) quantity.Shown) quantity.Shown {
	if c.Missing(slot) {
		return c.Instead(slot)
	}
	return show(c.Frame.V[slot])
}

// Instead is what stands in place of a missing value.
func (c *Case) Instead(slot int) quantity.Shown {
	return quantity.Shown{Text: c.lackAt(slot).Instead, Number: nan, Missing: true}
}

// Shown writes a figure's value of this case.
func (c *Case) Shown(f *page.Figure) quantity.Shown { return c.Write(f.Slot, f.Show.Format) }

// ShownGiven writes a given's value of this case.
func (c *Case) ShownGiven(g *page.Given) quantity.Shown { return c.Write(g.Slot, g.Shown) }

// ShownOf writes a value of a page drawn on.
func (c *Case) ShownOf(of, name string) (string, bool) {
	u := c.Sheet.UseNamed(of)
	if u == nil || u.Sheet == nil {
		return "", false
	}
	if g := u.Sheet.GivenNamed(name); g != nil {
		return c.Write(u.Base+g.Slot, g.Shown).Text, true
	}
	if f := u.Sheet.Figure(name); f != nil {
		return c.Write(u.Base+f.Slot, f.Show.Format).Text, true
	}
	return "", false
}

// WriteFormula works out a formula that is no figure's in this case, and writes its value or what
// stands in its place; ok is false if it gives none.
func (c *Case) WriteFormula(n *formula.Node, show quantity.Show) (shown quantity.Shown, ok bool) {
	c.Frame.Reset()
	c.Room()
	v := n.Eval(&c.Frame)
	switch c.Frame.Fault {
	case formula.None:
		return show.Format(v), true
	case formula.Missing:
		return c.Instead(c.Frame.At.MissingSlot(&c.Frame)), true
	}
	return quantity.Shown{}, false
}

// OwnCase is the sheet worked out at its own values, a reading at its example.
func OwnCase(s *page.Sheet) *Case {
	c := NewCase(s)
	c.Work()
	return c
}

// BlankCase is the sheet worked out with all readings still to be entered: see NewBlank.
func BlankCase(s *page.Sheet) *Case {
	c := NewBlank(s)
	c.Work()
	return c
}

// exampled is a copy of the case in which readings that were not entered have their examples,
// which tables use.
func (c *Case) exampled() *Case {
	out := c.Copy()
	out.blank = false
	for _, g := range c.Sheet.Given {
		if c.Missing(g.Slot) {
			out.Set(g, g.Own)
		}
	}
	return out
}
