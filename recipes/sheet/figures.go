package sheet

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

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
			d.known(item, []string{"label", "formula", "show"})
			f.Label = d.text(item.Get("label"), "label")
			if show := item.Get("show"); show != nil && show.Shape == scalar {
				f.ShowText, f.showAt = show.Text, prose(show)
			} else if show != nil {
				d.report(source.WantsShape("show", "a step or a unit"), show.Span)
			}
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
