package write

import (
	"html/template"

	"labsite/recipes/page"
	"labsite/render/theme"
)

// makers make the blocks of a page, one for each of page.Blocks, from a template of the
// block's name. The steps place cautions, and cautions are a block, so the list is filled as
// the program starts.
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

// report marks where a sheet for a customer begins.
func (p *pager) report() template.HTML {
	return p.collect(p.Theme.Report(theme.Report{SiteName: p.Content.Settings.Name}))
}

// block makes a block where the page's text places it.
func (p *pager) block(b page.Block) template.HTML { return makers[b.Name](p) }

// unplaced makes the blocks that the page has and its text does not place, of one stand.
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

// numbersFirst tells whether a block with numbers is above the page's text.
func (p *pager) numbersFirst() bool {
	for _, b := range page.Blocks() {
		if b.Numbers && b.Stands < page.AfterText && !p.texts.Placed[b.Name] && b.Has(p.page.Sheet) {
			return true
		}
	}
	return false
}
