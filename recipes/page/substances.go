package page

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Substance is an entry of the hazard list that a page names.
type Substance struct {
	Name string
	// Strength is a fraction by weight; nil if not said.
	Strength *float64
	// StrengthText is the strength as written.
	StrengthText string
	Span         source.Span
}

func (d *decoder) substances(v *value) {
	for _, item := range d.items(v, "substances") {
		if s, ok := d.substance(item); ok {
			d.sheet.Substances = append(d.sheet.Substances, s)
		}
	}
}

// substance reads a name, or a name with its strength; ok is false if there is no name.
func (d *decoder) substance(item *value) (s Substance, ok bool) {
	s.Span = item.Span
	switch item.Shape {
	case scalar:
		s.Name = d.text(item, "a substance")
	case mapping:
		d.known(item, underFront("substances", ""))
		if n := d.required(item, "name", "name: acetic acid", item.Span); n != nil {
			s.Name, s.Span = d.text(n, "name"), n.Span
		}
		if x := item.Get("strength"); x != nil {
			d.strength(&s, x)
		}
	default:
		d.report(source.WantsShape("a substance", "a name, or {name: acetic acid, strength: 28 %}"), item.Span)
	}
	return s, s.Name != ""
}

func (d *decoder) strength(s *Substance, x *value) {
	q, ok := d.quantity(x, "strength")
	switch {
	case !ok:
	case q.Kind != quantity.Number || q.Unit.Text == "":
		d.report(source.WantsShape("strength", "a share by weight, such as 28 %"), x.Span)
	case q.Base <= 0 || q.Base > 1:
		d.report(source.StrengthRange(q.Text), x.Span)
	default:
		s.Strength, s.StrengthText = &q.Base, q.Text
	}
}

// AllSubstances are those of the page and of the pages that it draws on, near and far.
func (s *Sheet) AllSubstances() []Substance {
	out := s.Substances[:len(s.Substances):len(s.Substances)]
	seen := map[*Sheet]bool{s: true}
	var walk func(of *Sheet)
	walk = func(of *Sheet) {
		for _, u := range of.Uses {
			if u.Sheet != nil && !seen[u.Sheet] {
				seen[u.Sheet] = true
				out = append(out, u.Sheet.Substances...)
				walk(u.Sheet)
			}
		}
	}
	walk(s)
	return out
}
