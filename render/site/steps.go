package site

import (
	"html/template"

	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/render/markdown"
)

// steps makes the list of a process at the page's case.
func (p *pager) steps() template.HTML {
	v := p.stepsView()
	return p.keep(p.site.templates.Steps(v))
}

func (p *pager) stepsView() Steps {
	var v Steps
	rows, total, ok := p.fill.run.Process()
	if p.fill.run.Refused() {
		v.Limits = p.refusals()
	}
	timed := false
	for i, t := range rows {
		st := t.Step
		texts := p.b.steps[i]
		row := Step{Number: i + 1, Do: p.fill.html(texts.do, markdown.RenderOptions{}), Note: p.fill.html(texts.note, markdown.RenderOptions{}),
			Hold: st.Hold, Dark: st.Dark}
		if st.Aim != nil {
			row.Aim = aimHTML(st.Aim)
		} else if st.AimText != nil {
			row.Aim = p.fill.html(texts.aim, markdown.RenderOptions{})
		}
		row.Caution = p.stepCaution(st, texts.caution)
		if st.Agitate != nil {
			row.Agitate = p.agitation(st.Agitate, texts.agitate, t, ok)
		}
		if t.HasTime && ok {
			timed = true
			row.Time = valueOf(t.Shown, "")
			row.Seconds = secondsText(t.Length)
			row.Starts = momentAt(t.Start)
			if t.Pour < t.Length {
				m := momentAt(t.Pour)
				row.PourAt = &m
			}
		}
		v.Rows = append(v.Rows, row)
	}
	if timed {
		v.Total = valueOf(quantity.DefaultShow(quantity.Time, quantity.Unit{}).Format(total), "")
		v.End = momentAt(total)
	}
	return v
}

// refusals are the refusals alone.
func (p *pager) refusals() []Limit {
	var out []Limit
	for _, l := range p.holding() {
		if l.Kind == "refused" {
			out = append(out, l)
		}
	}
	return out
}

func aimHTML(aim *quantity.Expected) template.HTML {
	h := quantityHTML(aim.Text, "")
	if aim.HasTolerance {
		h += " ± " + quantityHTML(aim.ToleranceText, "")
	}
	return h
}

func (p *pager) stepCaution(st *sheet.Step, own text) template.HTML {
	switch {
	case st.Own != nil:
		return p.keep(p.site.templates.Cautions([]Caution{{Word: st.Own.Word, Text: p.fill.html(own, markdown.RenderOptions{})}}))
	case st.Caution >= 0:
		return p.cautions([]int{st.Caution})
	}
	return ""
}

func (p *pager) agitation(a *sheet.Agitation, words text, t sheet.Timed, ok bool) *Agitation {
	if a.Text != nil {
		return &Agitation{Text: p.fill.html(words, markdown.RenderOptions{})}
	}
	v := &Agitation{Inversions: a.Inversions}
	if a.First != nil {
		v.First, v.FirstSeconds = plainValue(a.First.Text), secondsText(a.First.Base)
	}
	if a.Every != nil {
		v.Every = plainValue(a.Every.Text)
	}
	if a.Turning != nil {
		v.Turning, v.TurningSeconds = plainValue(a.Turning.Text), secondsText(a.Turning.Base)
	}
	if ok {
		for _, at := range t.Moments {
			v.Moments = append(v.Moments, momentAt(at))
		}
	}
	return v
}
