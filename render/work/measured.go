package work

import (
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// approved reports whether the page counts as approved.
func (p *Page) approved() bool {
	return p.Sheet != nil && p.Sheet.Control != nil && p.Sheet.Control.Status == page.Approved
}

// reportUnmeasured refuses an approved page that contains, itself or through pages that it draws on, a
// value that the lab never measured or that nobody answers for. Drafts get advice instead, and
// no published page can draw on them.
func (p *Page) reportUnmeasured() {
	if !p.approved() {
		return
	}
	for _, w := range p.Sheet.Wanting() {
		said := source.ApprovedUnmeasured(w.What)
		if w.Owner {
			said = source.ApprovedUnowned(w.What)
		}
		p.report(said.At(w.Span))
	}
	for _, u := range p.Sheet.Uses {
		p.reportUnmeasuredBelow(u.Sheet, u.Span, map[*page.Sheet]bool{})
	}
}

// reportUnmeasuredBelow reports, at the place where a page is drawn on, what is not yet measured on that page
// and on those that it draws on in turn. A page with document control is left out, since it reports
// this itself.
func (p *Page) reportUnmeasuredBelow(sh *page.Sheet, at source.Span, seen map[*page.Sheet]bool) {
	if sh == nil || sh.Control != nil || seen[sh] {
		return
	}
	seen[sh] = true
	for _, w := range sh.Wanting() {
		if !w.Owner {
			p.report(source.ApprovedOnUnmeasured(sh.File.Path, w.What).At(at))
		}
	}
	for _, u := range sh.Uses {
		p.reportUnmeasuredBelow(u.Sheet, at, seen)
	}
}
