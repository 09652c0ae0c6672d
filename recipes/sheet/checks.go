package sheet

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (d *decoder) checks(v *value) {
	for _, item := range d.list0(v, "checks") {
		if item.shape != mapping {
			d.report(source.WantsShape("a check", "a set of keys: at, expect and source, or always"), item.span)
			continue
		}
		d.known(item, []string{"at", "expect", "source", "always"})
		c := &Check{Span: item.span}
		if len(item.keys) > 0 {
			c.Span = item.keys[0].span
		}
		c.Source = d.text(item.get("source"), "source")
		expect, always := item.get("expect"), item.get("always")
		if expect == nil && always == nil {
			d.report(source.CheckEmpty(), c.Span)
			continue
		}
		if always != nil {
			if expect != nil || item.get("at") != nil {
				d.report(source.CheckBoth(), always.span)
				continue
			}
			c.Span = always.span
			c.Text = strings.TrimSpace(always.text)
			if c.Always = d.formula(always, "always"); c.Always != nil {
				d.sheet.Checks = append(d.sheet.Checks, c)
			}
			continue
		}
		if c.Source == "" {
			d.report(source.MissingKey("source", "source: and where the expected value comes from; common practice, no source and from memory are sources too"), c.Span)
		}
		c.Span = expect.span
		d.sheet.Checks = append(d.sheet.Checks, c)
		at := d.mapping(item.get("at"), "at")
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
	for i, k := range at.keys {
		g := d.sheet.given[k.text]
		if g == nil {
			d.report(source.UnknownGiven(k.text, source.Nearest(k.text, d.sheet.givenNames())), k.span)
			continue
		}
		if g.Kind.Sort == quantity.Unknown {
			continue
		}
		v := at.items[i]
		text := d.text(v, k.text)
		base, t := g.Set(text)
		if t != nil {
			start := strings.Index(v.text, text)
			d.report(t.Problem, v.place(t.Start+max(0, start), t.End+max(0, start)))
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
	if v.shape == scalar {
		switch word := strings.TrimSpace(v.text); word {
		case "refused":
			c.Holds = Refuse
		case "notice", "caution", "warning":
			c.Holds = LimitKind(word)
		default:
			d.report(source.ExpectWord(word), v.span)
		}
		return
	}
	if v.shape != mapping || len(v.keys) == 0 {
		d.report(source.ExpectWord(""), v.span)
		return
	}
	for i, k := range v.keys {
		item := v.items[i]
		f, g := d.sheet.figs[k.text], d.sheet.given[k.text]
		if f == nil && g == nil {
			var names []string
			for _, x := range d.sheet.Figures {
				names = append(names, x.Name)
			}
			d.report(source.UnknownFigure(k.text, source.Nearest(k.text, names)), k.span)
			continue
		}
		if item.shape != scalar {
			d.report(source.WantsShape("an expected value", "a quantity, perhaps with a tolerance: 4.95 ml ± 0.01 ml"), item.span)
			continue
		}
		want, t := quantity.ParseExpected(item.text)
		if t != nil {
			d.report(t.Problem, item.place(t.Start, t.End))
			continue
		}
		c.Expect = append(c.Expect, Expectation{Figure: f, Given: g, Want: want, Span: item.span})
	}
}
