package work

import (
	"net/url"
	"path"
	"slices"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/asset"
	"labsite/render/content"
	"labsite/render/markdown"
)

// Placing is a picture or other file that a page shows or links to.
type Placing struct {
	Path string
	At   source.Span
}

// checkLinks checks where the links and pictures of a text lead. It skips pages that are read from a
// record: they are not published, and the record does not have the pages that they link to.
func (d *Desk) checkLinks(p *Page, doc *markdown.Document) {
	if content.Outside(p.Path) != p.Path {
		return
	}
	report := func(x source.Problem, at source.Span) { p.report(x.At(at)) }
	for _, l := range doc.Links() {
		d.checkLink(p, l, report)
	}
	for _, x := range doc.Pictures() {
		d.checkPicture(p, x, report)
	}
}

func (d *Desk) checkLink(p *Page, l *markdown.Link, report func(source.Problem, source.Span)) {
	if content.Elsewhere(l.Destination) {
		return
	}
	full, anchor, ok := p.Target(l.Destination, l.Span, report)
	if !ok {
		return
	}
	d.ask(p, Target, full)
	if to := d.Content.Page(full); to != nil {
		switch {
		case !p.Staff() && to.SaidStaff():
			report(source.LinkToStaff(full), l.Span)
		case p.Status() == page.Approved && to.Unpublished():
			report(source.LinkToUnpublished(full, string(to.Status())), l.Span)
		case anchor != "":
			d.checkAnchor(p, to, anchor, l.Span)
		}
		return
	}
	if !d.checkFile(p, full, l.Span, report) {
		return
	}
	if _, ok := asset.Bound(full); !ok {
		report(source.LinkKind(full, asset.Listed()), l.Span)
		return
	}
	p.placings = append(p.placings, Placing{full, l.Span})
}

// checkAnchor reports a link to a heading that the target page does not have.
func (d *Desk) checkAnchor(p *Page, to *content.Page, anchor string, at source.Span) {
	d.ask(p, Anchors, to.Path)
	body := d.Read(to).Body
	if to == p.Page {
		body = p.Body
	}
	if body == nil {
		return
	}
	unescaped, err := url.PathUnescape(anchor)
	if slices.ContainsFunc(body.Headings(), func(h markdown.Heading) bool { return h.ID == anchor || err == nil && h.ID == unescaped }) {
		return
	}
	near := ""
	if p.dead++; p.dead <= source.MostInFile { // an error beyond these is not shown, so it needs no hint
		var ids []string
		for _, h := range body.Headings() {
			ids = append(ids, h.ID)
		}
		near = source.Nearest(anchor, ids)
	}
	p.report(source.AnchorNowhere(anchor, to.Path, near).At(at))
}

func (d *Desk) checkPicture(p *Page, x *markdown.Picture, report func(source.Problem, source.Span)) {
	if content.Elsewhere(x.Destination) {
		report(source.PictureElsewhere(), x.Span)
		return
	}
	full, _, ok := p.Target(x.Destination, x.Span, report)
	if !ok {
		return
	}
	d.ask(p, Target, full)
	switch {
	case !d.checkFile(p, full, x.Span, report):
	case !asset.Shows(full):
		report(source.PictureKind(full), x.Span)
	default:
		p.placings = append(p.placings, Placing{full, x.Span})
	}
}

// checkFile reports a file that is missing, has an unusable name, or is for staff only.
func (d *Desk) checkFile(p *Page, full string, at source.Span, report func(source.Problem, source.Span)) bool {
	c := d.Content
	if !c.HasFile(full) {
		d.ask(p, Names, "")
		near := ""
		if p.dead++; p.dead <= source.MostInFile { // an error beyond these is not shown, so it needs no hint
			near = d.nearest(full)
		}
		report(source.LinkNowhere(full, content.Relative(p.Path, near)), at)
		return false
	}
	if x, ok := content.NameProblem(full); !ok {
		report(x, at)
		return false
	}
	if !p.Staff() && c.IsStaffFile(full) {
		report(source.LinkToStaff(full), at)
		return false
	}
	return true
}

// nearest is the file whose path is most like one that is missing, or else a file of the same name in
// another folder.
func (d *Desk) nearest(full string) string {
	if d.allNames == nil {
		d.allNames = d.Content.Names()
	}
	if near := source.Nearest(full, d.allNames); near != "" {
		return near
	}
	base := path.Base(full)
	if i := slices.IndexFunc(d.allNames, func(x string) bool { return path.Base(x) == base }); i >= 0 {
		return d.allNames[i]
	}
	return ""
}

// places reads the files that the page shows or links to, and reports what is wrong with them.
func (d *Desk) places(p *Page) {
	for _, x := range p.placings {
		found := d.Content.Placed(x.Path)
		switch {
		case found.Unread != nil:
			p.report(found.Unread.At(x.At))
		case found.Unfit != nil:
			p.report(found.Unfit.At(x.At))
		}
	}
}

// Placings lists the files that the page shows or links to.
func (p *Page) Placings() []Placing { return p.placings }
