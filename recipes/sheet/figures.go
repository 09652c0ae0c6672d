package sheet

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (d *decoder) figures(v *value) {
	if v = d.mapping(v, "figures"); v == nil {
		return
	}
	if len(v.keys) > MostFigures {
		d.report(source.TooManyFigures(MostFigures), v.keys[MostFigures].span)
		return
	}
	for i, k := range v.keys {
		if !d.claim(k) {
			continue
		}
		item := v.items[i]
		f := &Figure{Name: k.text, Span: k.span, Slot: d.sheet.slots, Kind: quantity.Any}
		d.sheet.slots++
		d.sheet.Figures = append(d.sheet.Figures, f)
		d.sheet.figs[f.Name] = f
		text := item
		if item.shape == mapping {
			d.known(item, []string{"label", "formula", "show"})
			f.Label = d.text(item.get("label"), "label")
			if show := item.get("show"); show != nil && show.shape == scalar {
				f.ShowText, f.showAt = show.text, prose(show)
			} else if show != nil {
				d.report(source.WantsShape("show", "a step or a unit"), show.span)
			}
			text = d.required(item, "formula", "formula: and how it is worked out", k.span)
		}
		if text == nil {
			continue
		}
		if text.shape == nothing {
			d.report(source.MissingKey("formula", "how "+f.Name+" is worked out"), k.span)
			continue
		}
		f.Text = prose(text)
		f.Formula = d.formula(text, "a figure")
	}
}
