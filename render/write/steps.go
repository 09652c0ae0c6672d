package write

import (
	"html/template"
	"math"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/markdown"
	"labsite/render/theme"
	"labsite/render/work"
)

// steps makes the list of a process at the page's case.
func (p *pager) steps() template.HTML {
	v := p.stepsView()
	return p.collect(p.Theme.Steps(v))
}

func (p *pager) stepsView() theme.Steps {
	var v theme.Steps
	rows, total, ok := p.filler.run.Process()
	if p.filler.run.Refused() {
		v.Limits = p.refusals()
	}
	timed := false
	for i, t := range rows {
		st := t.Step
		texts := p.texts.Steps[i]
		row := theme.Step{Number: i + 1, Do: p.filler.html(texts.Do, markdown.RenderOptions{}), Note: p.filler.html(texts.Note, markdown.RenderOptions{}),
			Hold: st.Hold, Dark: st.Dark}
		if st.Aim != nil {
			row.Aim = aimHTML(st.Aim)
		} else if st.AimText != nil {
			row.Aim = p.filler.html(texts.Aim, markdown.RenderOptions{})
		}
		row.Caution = p.stepCaution(st, texts.Caution)
		if st.Agitate != nil {
			row.Agitate = p.agitation(st.Agitate, texts.Agitate, t, ok)
		}
		if t.Missing {
			timed = true
			row.Time, row.Starts = valueOf(t.Shown, ""), momentAt(t.Start)
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
	if timed && math.IsNaN(total) {
		v.Total, v.End = valueOf(quantity.Shown{Missing: true}, ""), momentAt(total)
	} else if timed {
		v.Total = valueOf(quantity.DefaultShow(quantity.Time, quantity.Unit{}).Format(total), "")
		v.End = momentAt(total)
	}
	return v
}

// refusals lists only the refusals among the limits that hold.
func (p *pager) refusals() []theme.Limit {
	var out []theme.Limit
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

func (p *pager) stepCaution(st *page.Step, own work.Text) template.HTML {
	switch {
	case st.Own != nil:
		return p.collect(p.Theme.Cautions([]theme.Caution{{Word: st.Own.Word, Text: p.filler.html(own, markdown.RenderOptions{})}}))
	case st.Caution >= 0:
		return p.cautions([]int{st.Caution})
	}
	return ""
}

func (p *pager) agitation(a *page.Agitation, words work.Text, t prove.Timed, ok bool) *theme.Agitation {
	if a.Text != nil {
		return &theme.Agitation{Text: p.filler.html(words, markdown.RenderOptions{})}
	}
	v := &theme.Agitation{Inversions: a.Inversions}
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
