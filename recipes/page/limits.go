package page

import "labsite/recipes/source"

func (d *decoder) limits(v *value) {
	for _, item := range d.items(v, "limits") {
		if item.Shape != mapping {
			d.notKeys(item, "a limit", "a set of keys: when and one of notice, caution, warning, refuse")
			continue
		}
		d.known(item, underFront("limits", ""))
		l := &Limit{Span: item.Span}
		if len(item.Keys) > 0 {
			l.Span = item.Keys[0].Span
		}
		when := d.required(item, "when", "when: and a formula", l.Span)
		for _, kind := range []LimitKind{Notice, Watch, Warning, Refuse} {
			t := item.Get(string(kind))
			if t == nil {
				continue
			}
			if l.Kind != "" {
				d.report(source.LimitTwice(), t.Span)
				continue
			}
			l.Kind = kind
			d.text(t, string(kind))
			l.Text = prose(t)
			if l.Text.Text == "" && (t.Shape == scalar || t.Shape == nothing) {
				d.report(source.ValueMissing(string(kind), string(kind)+": and what to say when the limit holds"), t.Key)
			}
		}
		if l.Kind == "" {
			d.report(source.LimitWithout(), l.Span)
		}
		if when == nil {
			continue
		}
		l.Span = when.Span
		if each := item.Get("each"); each != nil {
			if l.Each = d.fileNamed(each, "each"); l.Each == nil {
				continue
			}
		}
		if l.When = d.formula(when, "when"); l.When != nil && l.Kind != "" {
			d.sheet.Limits = append(d.sheet.Limits, l)
		}
	}
}
