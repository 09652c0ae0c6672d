package site

import (
	"cmp"
	"slices"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// registerFile is where the staff's site has the document register.
const registerFile = "register.html"

// register makes the document register.
func (r *renderer) register() ([]byte, source.List) {
	v := &Register{Day: date(r.site.Today)}
	r.shell("", &v.Shell)
	v.Title = "Document register"
	v.Trail = []Link{{r.site.Top.title(r.site, r.audience), "index.html"}}
	v.Canonical = r.canonical(registerFile)
	var list source.List
	v.Nav, list = r.withNav("", registerFile, nil)
	for _, t := range r.site.Topics {
		if t.Sheet == nil {
			continue
		}
		if c := t.Sheet.Control; c != nil && (r.preview || c.Status != sheet.Draft) { // drafts are in no published site
			d := RegisterDocument{Number: c.Number, Title: t.Title(), Revision: revision(c), Status: string(c.Status), Owner: c.Owner,
				Effective: date(c.Effective), Staff: t.Staff(), Overdue: r.overdue(t)}
			if t.shownTo(r.audience) {
				d.Href = urlPath(t.Address())
			}
			if due, ok := c.Due(); ok {
				d.ReviewDue = date(due)
			}
			if view := r.control(t); view != nil {
				d.Changes = view.Changes
			}
			v.Documents = append(v.Documents, d)
		}
		if !t.shownTo(r.audience) {
			continue
		}
		for _, x := range r.site.digestOf(t).constants {
			c := RegisterConstant{Label: x.label, Value: valueOf(x.shown, ""), Source: x.source, Owner: x.owner, Page: Link{t.Title(), urlPath(t.Address())}}
			if !x.due.IsZero() {
				c.ReviewDue, c.Overdue = date(x.due), r.site.Today.After(x.due)
			}
			v.Constants = append(v.Constants, c)
		}
	}
	first := func(a, b bool) int {
		switch {
		case a && !b:
			return -1
		case b && !a:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(v.Documents, func(a, b RegisterDocument) int {
		return cmp.Or(first(a.Overdue, b.Overdue), cmp.Compare(a.Number, b.Number))
	})
	slices.SortStableFunc(v.Constants, func(a, b RegisterConstant) int {
		return cmp.Or(first(a.Overdue, b.Overdue), cmp.Compare(a.ReviewDue.ISO, b.ReviewDue.ISO))
	})
	b, l := r.site.templates.Register(v)
	return b, append(list, l...)
}
