package page

import (
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
	// Base is the first slot of the window of this page's block into which the other page's given
	// values and figures are copied; Slots is how many there are.
	Base, Slots int

	Number int // among the page's uses

	state uint8
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
			d.known(item, underFront("draws_on", "x"))
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
		u.Path, u.Number = full, len(d.sheet.Uses)
		d.sheet.Uses = append(d.sheet.Uses, u)
	}
}

// UseNamed finds a page drawn on by its name here.
func (s *Sheet) UseNamed(name string) *Use {
	for _, u := range s.Uses {
		if u.Name == name {
			return u
		}
	}
	return nil
}

// resolveUses finds the pages drawn on and reserves a window for each; within reports whether the
// page's own uses are within the bounds.
func (s *Sheet) resolveUses(find func(path string) (*Sheet, source.Problem, bool)) (list source.List, within bool) {
	s.own = s.slots
	for i, u := range s.Uses {
		if i == MostDrawn {
			return append(list, source.DrawnTooMany([]string{s.File.Path, u.Path}, MostDrawn).At(u.Span)), false
		}
		target, problem, ok := find(u.Path)
		if !ok {
			if problem.Code != "" {
				list = append(list, problem.At(u.Span))
			}
			continue
		}
		if s.slots+target.own > MostValues {
			return append(list, source.DrawnTooLarge([]string{s.File.Path, u.Path}, MostValues).At(u.Span)), false
		}
		u.Sheet = target
		u.Base, u.Slots = s.slots, target.own
		s.slots += u.Slots
	}
	return list, true
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
			if n = n.Among(g.Words); n == nil {
				list = append(list, source.TextsDiffer(set.Name).At(set.Formula.Span()))
				continue
			}
		} else if n.Kind != g.Kind {
			list = append(list, source.WantsKind(u.Name+"."+set.Name, g.Kind.Name(), n.KindName()).At(set.Formula.Span()))
			continue
		}
		if !g.Settable() && !g.Today {
			list = append(list, source.GivenFixed(u.Name+"."+set.Name, g.Value.Text).At(set.Span))
			continue
		}
		set.Given, set.Node = g, n
	}
	return list
}

// Takes reports whether a given may have a value, in base units.
func (g *Given) Takes(base float64) bool {
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
	case g.From == nil && g.Today:
		return true
	case g.From == nil:
		return quantity.Equal(base, g.Own)
	}
	if quantity.Less(base, g.From.Base) || quantity.Less(g.To.Base, base) {
		return false
	}
	return !g.Whole || quantity.Equal(base, quantity.Nearest(base))
}

// Labelled is the label of the given, or its name if it has none.
func (g *Given) Labelled() string {
	if g.Label != "" {
		return g.Label
	}
	return g.Name
}
