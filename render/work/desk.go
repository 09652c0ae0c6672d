package work

import (
	"context"
	"fmt"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/markdown"
)

// Memory keeps the verdicts on pages. Several desks may share one.
type Memory interface {
	// Verdict gives the verdict on a page. If none that still holds is kept, the desk makes the
	// page.
	Verdict(d *Desk, p *content.Page) *Verdict
	// Anchors is the sum of the ids of a page's headings.
	Anchors(d *Desk, p *content.Page) content.Sum
}

// Desk holds the pages that one worker has in full: the present page, those that it draws on, and the
// most recently used. A desk is not safe for concurrent use; each worker has its own.
type Desk struct {
	ctx     context.Context // ends all work at the desk
	Content *content.Content
	Memory  Memory
	// Looking says that answers are only looked up: no page is made to find one.
	Looking bool
	// KeepLast says that a changed page's last state without errors is kept, to compare later ones
	// with it.
	KeepLast bool
	// Keep is how many pages are held in full.
	Keep int

	// last are pages that have changed, as they were when they last had no errors.
	last  map[string]*Page
	pages map[string]*Page
	order []*Page // by when they were read, the latest at the end
	// generation counts the states of the folder.
	generation int
	names      content.Sum
	allNames   []string // of the folder, once they are asked for
	bench      map[string]content.Sum
}

// keptPages is how many pages a desk holds in full.
const keptPages = 64

// NewDesk returns an empty desk. When ctx ends, so does all work at it, and pages may be left
// half made; see Ended.
func NewDesk(ctx context.Context, c *content.Content, m Memory) *Desk {
	return &Desk{ctx: ctx, Content: c, Memory: m, Keep: keptPages, pages: map[string]*Page{}, last: map[string]*Page{}, bench: map[string]content.Sum{}}
}

// Ended reports whether work at the desk was cut short, so that its pages may be incomplete.
func (d *Desk) Ended() bool { return d.ctx.Err() != nil }

// FolderChanged says that the folder may have changed: pages on the desk are checked against
// their inputs before they are used again.
func (d *Desk) FolderChanged() {
	d.generation++
	d.names, d.allNames = content.Sum{}, nil
	clear(d.bench)
}

// Read returns a page with its front matter and its text parsed.
func (d *Desk) Read(p *content.Page) *Page {
	full := d.pages[p.Path]
	if full != nil && !d.holdsFull(full, p) {
		d.drop(full)
		full = nil
	}
	if full == nil {
		full = &Page{Page: p, asked: asked{}, current: d.generation}
		d.pages[p.Path] = full
		d.order = append(d.order, full)
		full.guarded(func() { d.read(full) })
		full.phase = read
	}
	return full
}

// Held returns a page if the desk already holds it in full, and nil otherwise.
func (d *Desk) Held(p *content.Page) *Page {
	if full := d.pages[p.Path]; full != nil && full.phase == made && d.holdsFull(full, p) {
		return full
	}
	return nil
}

// holdsFull reports whether a page on the desk still matches what it was made from. Its standing is
// asked first: only if that is unchanged can no page that it draws on draw on it in turn. If one
// did, answering might make that page, and so this one again while it is half made.
func (d *Desk) holdsFull(full *Page, p *content.Page) bool {
	if full.Page != p {
		return false
	}
	if full.current == d.generation {
		return true
	}
	standing := Ask{What: Standing}
	if sum, asked := full.asked[standing]; asked && d.answer(p, standing, full.dues, full.words) != sum {
		return false
	}
	for ask, sum := range full.asked {
		if ask != standing && d.answer(p, ask, full.dues, full.words) != sum {
			return false
		}
	}
	full.current = d.generation
	return true
}

// drop removes a page that has changed. Its last state without errors stays, to compare the new one
// with it.
func (d *Desk) drop(full *Page) {
	delete(d.pages, full.Path)
	if full.phase != made || full.wrong || full.Proof == nil || !d.KeepLast {
		return
	}
	if _, there := d.last[full.Path]; there || len(d.last) < d.Keep {
		d.last[full.Path] = full
	}
}

// LastHeld returns a changed page as it was when it last had no errors, if the desk held it in full
// then; nil otherwise.
func (d *Desk) LastHeld(p *content.Page) *Page { return d.last[p.Path] }

// ForgetHeld drops that state.
func (d *Desk) ForgetHeld(p *content.Page) { delete(d.last, p.Path) }

// Context ends all work at the desk.
func (d *Desk) Context() context.Context { return d.ctx }

// Trim evicts all but the most recently read pages. Pages taken from the desk before must
// not be used after it.
func (d *Desk) Trim() {
	if len(d.order) <= d.Keep*2 {
		return
	}
	var kept []*Page
	for i := len(d.order) - 1; i >= 0; i-- {
		full := d.order[i]
		if d.pages[full.Path] != full {
			continue
		}
		if len(kept) < d.Keep {
			kept = append(kept, full)
			continue
		}
		delete(d.pages, full.Path)
	}
	for i, j := 0, len(kept)-1; i < j; i, j = i+1, j-1 {
		kept[i], kept[j] = kept[j], kept[i]
	}
	d.order = kept
}

// read does what needs no other page.
func (d *Desk) read(p *Page) {
	p.List = append(p.List, p.Said...)
	file, same := d.Content.PageText(p.Page)
	if p.File = file; !same {
		p.report(source.ChangedMeanwhile().AtFile(p.Path))
	}
	d.ask(p, Standing, "")
	if p.List.Errors() > 0 {
		return
	}
	sh, list := page.Decode(p.File, library{d, p})
	p.List = append(p.List, list...)
	if sh == nil {
		return
	}
	p.Sheet = sh
	body, list := markdown.Parse(p.File, sh.Body)
	p.Body = body
	p.List = append(p.List, list...)
}

// guarded runs a part of the work on a page. A panic in it is reported as an error of the page, so
// that all other pages go on.
func (p *Page) guarded(do func()) {
	defer func() {
		if fault := recover(); fault != nil {
			p.Resolved, p.Proof = false, nil
			p.wrong = true
			p.report(source.PageFails(fmt.Sprint(fault)).AtFile(p.Path))
		}
	}()
	do()
}

// Count is how many pages the desk holds.
func (d *Desk) Count() int { return len(d.pages) }

// Behind lists the files that a page's numbers come from: its own, the pages that it draws on,
// directly or through others, and the data files of all of them.
func (d *Desk) Behind(p *content.Page) map[string]bool {
	files := map[string]bool{}
	d.EachBehind(p, func(p *content.Page) {
		files[p.Path] = true
		if sh := d.Read(p).Sheet; sh != nil {
			for _, x := range sh.Data {
				files[x.Path] = true
			}
		}
	})
	return files
}

// EachBehind calls do once for a page and for each page that it draws on, directly or through
// others. Of a page that is in a circle or begins a chain that is too long, it follows only
// the page where that is reported.
func (d *Desk) EachBehind(p *content.Page, do func(p *content.Page)) {
	seen := map[*content.Page]bool{p: true}
	for todo := []*content.Page{p}; len(todo) > 0; todo = todo[1:] {
		at := todo[0]
		do(at)
		var next []*content.Page
		if at.Standing.ReportedAt != nil {
			next = append(next, at.Standing.ReportedAt)
		} else {
			for _, path := range at.Draws {
				next = append(next, d.Content.Page(path))
			}
		}
		for _, to := range next {
			if to != nil && !seen[to] {
				seen[to] = true
				todo = append(todo, to)
			}
		}
	}
}
