package write

import (
	"html/template"

	"labsite/recipes/page"
	"labsite/render/theme"
)

// makers has a maker for each of page.Blocks; its template has the name of the block. Makers lead
// back to this list, as the steps place cautions, so an initializer cannot fill it.
var makers map[string]func(*pager) template.HTML

func init() {
	makers = map[string]func(*pager) template.HTML{
		"cautions":   (*pager).allCautions,
		"given":      (*pager).given,
		"figures":    (*pager).figures,
		"steps":      (*pager).steps,
		"sureness":   (*pager).sureness,
		"arithmetic": (*pager).arithmetic,
		"checks":     (*pager).checks,
		"report":     (*pager).report,
	}
}

// report marks where the sheet for a customer begins.
func (p *pager) report() template.HTML {
	return p.collect(p.Theme.Report(theme.Report{SiteName: p.Content.Settings.Name}))
}

// block makes a block where the page's text places it.
func (p *pager) block(b page.Block) template.HTML { return makers[b.Name](p) }

// unplaced makes the blocks that stand at some place because the page's text does not place them.
func (p *pager) unplaced(at page.Stand) (out []theme.Block) {
	for _, b := range page.Blocks() {
		if b.Stands != at || p.texts.Placed[b.Name] || !b.Has(p.page.Sheet) {
			continue
		}
		if html := p.block(b); html != "" {
			out = append(out, theme.Block{Name: b.Name, HTML: html})
		}
	}
	return out
}

// numbersFirst reports whether a block with numbers stands above the page's text.
func (p *pager) numbersFirst() bool {
	for _, b := range page.Blocks() {
		if b.Numbers && b.Stands < page.AfterText && !p.texts.Placed[b.Name] && b.Has(p.page.Sheet) {
			return true
		}
	}
	return false
}
