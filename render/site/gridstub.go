package site

import (
	"html/template"

	"labsite/recipes/sheet"
)

func (p *pager) grid(g *sheet.Grid) template.HTML { return "" }
