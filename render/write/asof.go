package write

import (
	"html/template"
	"strconv"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// asOf says as of which day a value was worked out; "" if it does not depend on the day. The page's
// script keeps this up to date.
func (p *pager) asOf(n *formula.Node) string {
	if !p.page.Sheet.DependsOnToday(n) {
		return ""
	}
	return ` <span class="as-of">as of ` + p.dayHTML() + `</span>`
}

// dayHTML is the day on which values of the page depend.
func (p *pager) dayHTML() string {
	slot, _, _ := p.page.Sheet.Day()
	attributes := ""
	if s := p.page.Script; s != nil && s.AsOf > 0 {
		attributes = ` data-placed="` + strconv.Itoa(s.AsOf-1) + `"`
	}
	shown := quantity.DefaultShow(quantity.Date, quantity.Unit{}).Format(p.filler.run.Frame.V[slot])
	return string(quantityHTML(shown.Text, attributes))
}

// captionOf is a caption; if figures below it depend on the day, it says as of which day they were
// worked out.
func (p *pager) captionOf(caption template.HTML, figures ...[]*page.Figure) template.HTML {
	for _, list := range figures {
		for _, f := range list {
			if p.page.Sheet.DependsOnToday(f.Node) {
				return caption + template.HTML(` <span class="as-of">As of `+p.dayHTML()+`.</span>`)
			}
		}
	}
	return caption
}
