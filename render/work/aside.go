package work

import (
	"context"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/render/content"
	"labsite/render/markdown"
)

// Aside works out a page that the program writes itself, such as the one on which a bench formula is
// tried. It is not among the pages of the folder: none can draw on it or link to it, and no memory
// keeps it.
func Aside(c *content.Content, p *content.Page) *Page {
	d := NewDesk(context.Background(), c, nil)
	full := &Page{Page: p, File: p.File, asked: asked{}, phase: making}
	full.guarded(func() {
		sh, list := page.Decode(p.File, library{d, full})
		if full.List = list; sh == nil || list.Errors() > 0 {
			return
		}
		full.Sheet, p.Head = sh, sh
		full.Body, list = markdown.Parse(p.File, sh.Body)
		full.List = append(full.List, list...)
		if d.resolve(full); !full.Resolved {
			return
		}
		proof, list := prove.Shown(sh)
		full.List = append(full.List, list...)
		if list.Errors() == 0 {
			full.Proof = proof
			d.bind(full)
		}
	})
	full.phase = made
	return full
}
