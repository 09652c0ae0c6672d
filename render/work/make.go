package work

import (
	"labsite/recipes/prove"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Make returns a page fully worked out: its cases are proved, its texts bound, and its links,
// substances and reviews checked.
func (d *Desk) Make(p *content.Page) *Page {
	full := d.Resolved(p)
	if full.phase >= making {
		return full
	}
	full.phase = making
	if d.Ended() {
		return full
	}
	full.guarded(func() { d.make(full) })
	full.phase = made
	return full
}

func (d *Desk) make(p *Page) {
	// a page that merely differs from what was approved does not make those that draw on it fail
	defer func() { p.wrong = p.Sheet == nil || !p.Resolved || p.List.Errors() > p.unapproved }()
	if p.Sheet == nil {
		p.List = append(p.List, p.Clash...)
		return
	}
	if p.Resolved && !d.inputs(p) {
		p.Resolved = false
	}
	if p.Resolved {
		proof, list := prove.Sheet(d.ctx, p.Sheet)
		if proof == nil { // the work has ended
			p.Resolved = false
			return
		}
		p.Proof = proof
		p.List = append(p.List, list...)
	}
	d.bind(p)
	p.Resolved = p.Resolved && !p.callsBroken // its texts may call one as well
	d.substances(p)
	d.reviews(p)
	d.places(p)
	before := p.List.Errors()
	d.approval(p)
	p.unapproved = p.List.Errors() - before
	for _, what := range []What{Due, Mentioned} {
		d.ask(p, what, "")
	}
}

// inputs reports whether all pages that a page draws on are without errors, and reports those that are
// not: if one of their numbers is wrong, every check of this page would seem to fail.
func (d *Desk) inputs(p *Page) bool {
	ok := true
	for _, u := range p.Sheet.Uses {
		to := d.Content.Page(u.Path)
		if to != nil && u.Sheet != nil && d.Memory.Verdict(d, to).Wrong {
			p.report(source.UseBroken(u.Path).At(u.Span))
			ok = false
		}
	}
	return ok
}
