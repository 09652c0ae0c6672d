package page

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// instead reads what stands in a figure's place where its formula is refused.
func (d *decoder) instead(v *value) string {
	if v == nil {
		return ""
	}
	text := d.text(v, "else")
	switch {
	case text == "" && (v.Shape == scalar || v.Shape == nothing):
		d.report(source.ValueMissing("else", "else: and what to show in its place"), v.Key)
	case strings.ContainsAny(text, "{}"):
		d.report(source.ElseBraces(), v.Span)
	}
	return text
}

// label reads a label, with its place.
func (d *decoder) label(v *value) (string, Prose) {
	if v == nil || v.Shape != scalar {
		return d.text(v, "label"), Prose{}
	}
	return d.text(v, "label"), prose(v)
}

func (d *decoder) figures(v *value) {
	if v = d.mapping(v, "figures"); v == nil {
		return
	}
	if len(v.Keys) > MostFigures {
		d.report(source.TooManyFigures(MostFigures), v.Keys[MostFigures].Span)
		return
	}
	for i, k := range v.Keys {
		if !d.claim(k) {
			continue
		}
		item := v.Items[i]
		f := &Figure{Name: k.Text, Span: k.Span, Slot: d.sheet.slots, Kind: quantity.Any}
		d.sheet.slots++
		d.sheet.Figures = append(d.sheet.Figures, f)
		d.sheet.figs[f.Name] = f
		text := item
		if item.Shape == mapping {
			d.known(item, underFront("figures", "x"))
			f.Label, f.LabelText = d.label(item.Get("label"))
			if show := item.Get("show"); show != nil && show.Shape == scalar {
				f.ShowText, f.showAt = show.Text, prose(show)
			} else if show != nil {
				d.report(source.WantsShape("show", "a step or a unit"), show.Span)
			}
			f.Else = d.instead(item.Get("else"))
			text = d.required(item, "formula", "formula: and how it is worked out", k.Span)
		}
		if text == nil {
			continue
		}
		if text.Shape == nothing {
			d.report(source.MissingKey("formula", "how "+f.Name+" is worked out"), k.Span)
			continue
		}
		f.Text = prose(text)
		f.Formula = d.formula(text, "a figure")
	}
}
