package work

import (
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Resolved returns a page with its kinds inferred, after those of the pages that it draws on.
func (d *Desk) Resolved(p *content.Page) *Page {
	full := d.Read(p)
	if full.phase >= resolved || full.Sheet == nil {
		return full
	}
	full.phase = resolved
	full.guarded(func() { d.resolve(full) })
	return full
}

// resolve infers the kinds of a page. A circle of pages that draw on each other is reported once,
// where it comes back to the first of its pages by path, so that it does not matter which page
// is resolved first. A chain of pages that is too long is reported where it passes the bound; the
// pages above fail without a report.
func (d *Desk) resolve(p *Page) {
	allBound := true
	p.List = append(p.List, p.Clash...)
	world := page.World{Page: func(full string) (*page.Sheet, source.Problem, bool) { return d.drawn(p, full) }, Trades: library{d, p}}
	for _, x := range p.Sheet.ResolveIn(world) {
		if d.hidden(x) {
			allBound = false
			continue
		}
		p.report(x)
	}
	for _, x := range p.Sheet.Data {
		if x.Path != "" && !p.Staff() && d.Content.IsStaffFile(content.Outside(x.Path)) {
			p.report(source.DataOfStaff(x.Path).At(x.Span))
		}
	}
	p.scoped = allBound && !p.callsBroken && !p.failing && !p.Standing.Deep
	p.Resolved = p.List.Errors() == 0 && p.scoped
	p.inferred = p.Resolved
}

// drawn finds a page that another draws on. If it cannot, it says why; the Problem is empty if
// that is reported elsewhere.
func (d *Desk) drawn(p *Page, full string) (*page.Sheet, source.Problem, bool) {
	to := d.Content.Page(full)
	if to == nil {
		d.ask(p, Names, "")
		var all []string
		for _, x := range d.Content.Pages {
			all = append(all, x.Path)
		}
		return nil, source.LinkNowhere(full, content.Relative(p.Path, source.Nearest(full, all))), false
	}
	if ring := p.Standing.Ring; (ring == 0 || ring != to.Standing.Ring) && !to.Standing.Deep {
		d.ask(p, Drawn, full) // even if nothing is taken from it while it is broken
	}
	if d.Read(to).Sheet == nil {
		return nil, source.UseBroken(full), false
	}
	if way := d.Content.Circle(to, p.Page, to); way != nil {
		return nil, source.PageCycle(append(way, to.Path)), false
	}
	d.ask(p, Target, full)
	switch {
	case !p.Staff() && to.SaidStaff():
		return nil, source.UseOfStaff(full), false
	case p.Status() == page.Approved && to.Unpublished():
		return nil, source.UseUnpublished(full, string(to.Status())), false
	}
	at := p.Standing
	switch {
	case at.Ring != 0 && at.Ring == to.Standing.Ring:
		// a circle is reported once, at the page that closes it, but this page fails as well
		p.failing = true
		return nil, source.Problem{}, false
	case at.Deep:
		if at.ReportedAt == p.Page && !p.failing && to.Standing.Level == page.MostLevels {
			p.failing = true
			return nil, source.DrawnTooDeep(at.Way, page.MostLevels), false
		}
		return nil, source.Problem{}, false // nothing is worked out along a chain that is too long
	}
	if x := d.Resolved(to); x.inferred {
		return x.Sheet, source.Problem{}, true
	}
	return nil, source.UseBroken(full), false
}

// hidden reports whether an unknown bench formula must not be reported, because it may be one of the
// lab's own, which cannot be read at present.
func (d *Desk) hidden(x source.Diagnostic) bool {
	return d.Content.FormulasBroken && x.Code == unknownFunction
}

var unknownFunction = source.UnknownFunction("", "").Code
