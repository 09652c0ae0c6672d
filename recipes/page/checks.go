package page

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (d *decoder) checks(v *value) {
	for _, item := range d.items(v, "checks") {
		if item.Shape != mapping {
			d.notKeys(item, "a check", "a set of keys: at, expect and source, or always")
			continue
		}
		d.known(item, underFront("checks", ""))
		c := &Check{Span: item.Span}
		if len(item.Keys) > 0 {
			c.Span = item.Keys[0].Span
		}
		c.Source = d.origin(item.Get("source"))
		expect, always := item.Get("expect"), item.Get("always")
		if expect == nil && always == nil {
			d.report(source.CheckEmpty(), c.Span)
			continue
		}
		if always != nil {
			if expect != nil || item.Get("at") != nil {
				d.report(source.CheckBoth(), always.Span)
				continue
			}
			c.Span = always.Span
			c.Text = strings.TrimSpace(always.Text)
			if c.Always = d.formula(always, "always"); c.Always != nil {
				d.sheet.Checks = append(d.sheet.Checks, c)
			}
			continue
		}
		if c.Source == "" {
			d.report(source.MissingKey("source", "source: and where the expected value comes from; common practice, no source and from memory are sources too"), c.Span)
		}
		c.Span = expect.Span
		d.sheet.Checks = append(d.sheet.Checks, c)
		at := d.mapping(item.Get("at"), "at")
		d.later = append(d.later, func() {
			c.At = d.settings(at)
			d.expect(c, expect)
		})
	}
}

func (d *decoder) settings(at *value) []Setting {
	var out []Setting
	if at == nil {
		return nil
	}
	for i, k := range at.Keys {
		g := d.sheet.given[k.Text]
		if g == nil {
			d.missing(k.Text, source.UnknownGiven(k.Text, source.Nearest(k.Text, d.sheet.givenNames())), k.Span)
			continue
		}
		if g.Kind.Sort == quantity.Unknown {
			continue
		}
		v := at.Items[i]
		text := d.text(v, k.Text)
		base, t := g.Set(text)
		if t != nil {
			if !g.excused(t) {
				d.troubleIn(t, v, text)
			}
			continue
		}
		out = append(out, Setting{g, base, g.Name + " " + g.Shown(base).Text})
	}
	return out
}

func (s *Sheet) givenNames() []string {
	var out []string
	for _, g := range s.Given {
		out = append(out, g.Name)
	}
	return out
}

func (d *decoder) expect(c *Check, v *value) {
	if v.Shape == scalar {
		switch word := strings.TrimSpace(v.Text); word {
		case "refused":
			c.Holds = Refuse
		case "notice", "caution", "warning":
			c.Holds = LimitKind(word)
		case "no notice", "no caution", "no warning":
			c.Holds, c.Silent = LimitKind(strings.TrimPrefix(word, "no ")), true
		default:
			d.report(source.ExpectWord(word), v.Span)
		}
		return
	}
	if v.Shape != mapping || len(v.Keys) == 0 {
		d.report(source.ExpectWord(""), v.Span)
		return
	}
	for i, k := range v.Keys {
		item := v.Items[i]
		f, g := d.sheet.figs[k.Text], d.sheet.given[k.Text]
		if f == nil && g == nil {
			var names []string
			for _, x := range d.sheet.Figures {
				names = append(names, x.Name)
			}
			d.missing(k.Text, source.UnknownFigure(k.Text, source.Nearest(k.Text, names)), k.Span)
			continue
		}
		if item.Shape != scalar {
			d.report(source.WantsShape("an expected value", "a quantity, perhaps with a tolerance: 4.95 ml ± 0.01 ml"), item.Span)
			continue
		}
		want, t := quantity.ParseExpected(item.Text)
		c.Expect = append(c.Expect, Expectation{Figure: f, Given: g, Want: want, Span: item.Span, text: prose(item), trouble: t})
	}
}
