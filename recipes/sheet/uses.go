package sheet

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Use is another page that this one draws on, at given values of its own.
type Use struct {
	Name string
	// Path is the other page's, in the content folder.
	Path string
	Span source.Span
	// Sheet is the other page, set by Resolve.
	Sheet *Sheet
	At    []UseSetting
	// Base is where the other page's values begin in this page's frame, Slots how many
	// there are.
	Base, Slots int

	state uint8
	run   *Case
}

// UseSetting sets a given of the page drawn on by a formula of this one.
type UseSetting struct {
	Name    string
	Span    source.Span
	Formula *formula.Formula
	Given   *Given
	Node    *formula.Node
}

func (d *decoder) uses(v *value) {
	if v = d.mapping(v, "draws_on"); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claimDotted(k) {
			continue
		}
		item := v.Items[i]
		u := &Use{Name: k.Text, Span: item.Span}
		at := item
		if item.Shape == mapping {
			d.known(item, []string{"page", "at"})
			if at = d.required(item, "page", "page: and a path such as one-shot-developer.md", k.Span); at == nil {
				continue
			}
			if settings := d.mapping(item.Get("at"), "at"); settings != nil {
				for j, g := range settings.Keys {
					if f := d.formula(settings.Items[j], g.Text); f != nil {
						u.At = append(u.At, UseSetting{Name: g.Text, Span: g.Span, Formula: f})
					}
				}
			}
		}
		reference := d.text(at, "page")
		u.Span = at.Span
		full, ok := inContent(d.file.Path, reference)
		if !ok {
			d.report(source.PathOutside(reference), at.Span)
			continue
		}
		u.Path = full
		d.sheet.Uses = append(d.sheet.Uses, u)
	}
}

// use finds a page drawn on by its name here.
func (s *Sheet) use(name string) *Use {
	for _, u := range s.Uses {
		if u.Name == name {
			return u
		}
	}
	return nil
}

// resolveUses finds the pages drawn on and makes room for their values.
func (s *Sheet) resolveUses(find func(path string) (*Sheet, source.Problem, bool)) source.List {
	var list source.List
	for _, u := range s.Uses {
		target, problem, ok := find(u.Path)
		if !ok {
			if problem.Code != "" {
				list = append(list, problem.At(u.Span))
			}
			continue
		}
		u.Sheet = target
		u.Base, u.Slots = s.slots, target.fixedSlots
		s.slots += u.Slots
	}
	return list
}

// inferUse infers the formulas that set a used page's given values.
func (s *Sheet) inferUse(u *Use) source.List {
	var list source.List
	if u.Sheet == nil {
		return nil
	}
	for i := range u.At {
		set := &u.At[i]
		g := u.Sheet.given[set.Name]
		if g == nil {
			list = append(list, source.UnknownGiven(u.Name+"."+set.Name, source.Nearest(set.Name, u.Sheet.givenNames())).At(set.Span))
			continue
		}
		n, l := formula.Infer(set.Formula, pageScope{s})
		list = append(list, l...)
		if n == nil || g.Kind.Sort == quantity.Unknown {
			continue
		}
		if g.Kind.Sort == quantity.Word {
			if n = sameWords(g, n, s); n == nil {
				list = append(list, source.TextsDiffer(set.Name).At(set.Formula.Span()))
				continue
			}
		} else if n.Kind != g.Kind {
			list = append(list, source.WantsKind(u.Name+"."+set.Name, g.Kind.Name(), n.Kind.Name()).At(set.Formula.Span()))
			continue
		}
		if !g.Settable() {
			list = append(list, source.GivenFixed(u.Name+"."+set.Name, g.Value.Text).At(set.Span))
			continue
		}
		set.Given, set.Node = g, n
	}
	return list
}

// sameWords fits a text to a given of texts: a choice in quotes, or a given of this page
// with the same choices.
func sameWords(g *Given, n *formula.Node, s *Sheet) *formula.Node {
	if n.Op == formula.Num {
		for i, w := range g.Words {
			if w == n.Reason {
				return &formula.Node{Op: formula.Num, Kind: quantity.Text, Value: float64(i), Start: n.Start, End: n.End}
			}
		}
		return nil
	}
	for _, own := range s.Given {
		if n.Op == formula.Var && own.Slot == n.Slot && len(own.Words) == len(g.Words) {
			for i := range g.Words {
				if g.Words[i] != own.Words[i] {
					return nil
				}
			}
			return n
		}
	}
	return nil
}

// takes tells whether a given may have a value, in base units.
func (g *Given) takes(base float64) bool {
	switch {
	case g.Kind.Sort == quantity.YesNo:
		return base == 0 || base == 1
	case len(g.Choices) > 0:
		for _, c := range g.Choices {
			if quantity.Equal(c.Base, base) {
				return true
			}
		}
		return false
	case g.From == nil:
		return quantity.Equal(base, g.Own)
	}
	if quantity.Less(base, g.From.Base) || quantity.Less(g.To.Base, base) {
		return false
	}
	return !g.Whole || quantity.Equal(base, quantity.Nearest(base))
}

// workUse works the page drawn on out, inside this case's frame.
func (c *Case) workUse(u *Use) {
	if u.Sheet == nil {
		return
	}
	run := c.uses[u]
	if run == nil {
		run = &Case{Sheet: u.Sheet}
		if c.uses == nil {
			c.uses = map[*Use]*Case{}
		}
		c.uses[u] = run
	}
	run.Holding, run.Refusals, run.Failed = run.Holding[:0], run.Refusals[:0], run.Failed[:0]
	run.Frame.V = c.Frame.V[u.Base : u.Base+u.Slots : u.Base+u.Slots]
	for _, g := range u.Sheet.Given {
		run.Frame.V[g.Slot] = g.Own
	}
	for i := range u.At {
		set := &u.At[i]
		if set.Node == nil {
			continue
		}
		c.Frame.Reset()
		v := set.Node.Eval(&c.Frame)
		if c.Frame.Fault != formula.None {
			if !dependsOnFault(set.Node, &c.Frame) {
				c.faultAt(nil, set.Formula, c.Frame.Fault, c.Frame.At)
			}
			c.withdraw(u)
			return
		}
		if !set.Given.takes(v) {
			c.Refusals = append(c.Refusals, Refusal{Text: source.UseOutside(set.Given.labelled(), set.Given.Show.Format(v).Text, u.Sheet.Title), Span: set.Span, From: u})
			c.withdraw(u)
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

// Inside is the case of a page drawn on by this one, nil before it was worked out.
func (c *Case) Inside(u *Use) *Case { return c.uses[u] }

func (c *Case) orRun(run *Case) *Case {
	if run != nil {
		return run
	}
	return c
}

func (g *Given) labelled() string {
	if g.Label != "" {
		return g.Label
	}
	return g.Name
}

// withdraw leaves no number of a page drawn on.
func (c *Case) withdraw(u *Use) {
	for i := range u.Slots {
		c.Frame.V[u.Base+i] = nan
	}
}

// Held is a limit that holds on this page or on one that it draws on, with the case that
// its text is to be written at.
type Held struct {
	Limit *Limit
	Run   *Case
	// From is the page drawn on, nil for this one.
	From *Use
}

// AllHolding lists the limits that hold, those of pages drawn on included.
func (c *Case) AllHolding() []Held {
	var out []Held
	for _, l := range c.Holding {
		out = append(out, Held{Limit: l, Run: c})
	}
	for _, u := range c.Sheet.Uses {
		if run := c.uses[u]; run != nil {
			for _, h := range run.AllHolding() {
				if h.From == nil {
					h.From = u
				}
				out = append(out, h)
			}
		}
	}
	return out
}

// AllCautions lists the cautions of the pages drawn on, near and far: each once, but one that
// places anything once for each use, whose amounts may be others.
func (s *Sheet) AllCautions() []UsedCaution {
	var out []UsedCaution
	seen := map[*Sheet]bool{}
	var walk func(of *Sheet, way []*Use)
	walk = func(of *Sheet, way []*Use) {
		for _, u := range of.Uses {
			if u.Sheet == nil {
				continue
			}
			way := append(way[:len(way):len(way)], u)
			for i, c := range u.Sheet.Cautions {
				if !seen[u.Sheet] || strings.Contains(c.Text.Text, "{") {
					out = append(out, UsedCaution{u.Sheet, i, u, way})
				}
			}
			seen[u.Sheet] = true
			walk(u.Sheet, way)
		}
	}
	walk(s, nil)
	return out
}

// UsedCaution is a caution of a page drawn on.
type UsedCaution struct {
	Sheet *Sheet
	Index int
	From  *Use
	way   []*Use // the uses that lead to it
}

// Caution is the caution itself.
func (u UsedCaution) Caution() Caution { return u.Sheet.Cautions[u.Index] }

// Run is the case that the caution's text is to be written at, within one of the page that
// draws on it; its page at its own values where that has none.
func (u UsedCaution) Run(c *Case) *Case {
	for _, x := range u.way {
		if c = c.uses[x]; c == nil {
			return u.Sheet.OwnCase()
		}
	}
	return c
}
