package write

import (
	"cmp"
	"slices"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/theme"
)

// RegisterFile is where the document register stands on the staff's site.
const RegisterFile = "register.html"

// Register makes the document register.
func (s *Site) Register() ([]byte, source.List) {
	v := &theme.Register{}
	s.shell("", &v.Shell)
	v.Styles = append(v.Styles, "register.css")
	v.Title = "Document register"
	v.Trail = []theme.Link{{Title: s.SectionTitle(s.Content.Top), Href: "index.html"}}
	v.Canonical = s.Canonical(RegisterFile)
	var list source.List
	v.DrawerNames, list = s.withDrawerNames("", s.Content.Top, RegisterFile, nil)
	for _, t := range s.Content.Pages {
		if t.Head != nil {
			s.registered(t, v)
		}
	}
	sortRegister(v)
	b, l := s.Theme.Register(v)
	return b, append(list, l...)
}

// registered adds a page to the register: its document, its approval and, if the audience is shown
// the page, its measured values and constants.
func (s *Site) registered(t *content.Page, v *theme.Register) {
	if c := t.Head.Control; c != nil && (s.Preview || c.Status != page.Draft) { // drafts are in no published site
		d := s.document(t, c)
		v.Guards = v.Guards || d.Guarded != ""
		if a, ok := s.approval(t); ok {
			d.Record = &a
			v.Approvals = append(v.Approvals, a)
		}
		v.Documents = append(v.Documents, d)
	}
	if !t.ShownTo(s.Audience) {
		return
	}
	to := theme.Link{Title: t.Title(), Href: content.URLPath(t.Address())}
	for _, x := range s.Listed(t).Measured {
		v.Measured = append(v.Measured, theme.RegisterMeasured{Page: to, File: x.File, Line: x.Line, Said: x.Said})
	}
	for _, x := range s.Listed(t).Constants {
		c := theme.RegisterConstant{Label: x.Label, Value: valueOf(x.Shown, ""), Source: x.Source, Owner: x.Owner, Page: to}
		if !x.Due.IsZero() {
			c.ReviewDue, c.Overdue = Day(x.Due), s.overdueFrom(x.Due)
		}
		v.Constants = append(v.Constants, c)
	}
}

// document is the row of a page with document control.
func (s *Site) document(t *content.Page, c *page.Control) theme.RegisterDocument {
	d := theme.RegisterDocument{Number: c.Number, Title: t.Title(), Revision: Revision(c), Status: string(c.Status), Owner: c.Owner,
		Effective: Day(c.Effective), Staff: t.Staff(), Overdue: s.overdue(t)}
	if t.ShownTo(s.Audience) {
		d.Href = content.URLPath(t.Address())
	}
	if due, ok := c.Due(); ok {
		d.ReviewDue = Day(due)
	}
	if view := s.control(t); view != nil {
		d.Changes = view.Changes
	}
	if s.Content.Settings.Guarded > 0 && t.ShownTo(s.Audience) {
		d.Guarded = s.Listed(t).Mutations.String()
	}
	return d
}

// sortRegister puts first what needs somebody to act.
func sortRegister(v *theme.Register) {
	first := func(a, b bool) int {
		switch {
		case a && !b:
			return -1
		case b && !a:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(v.Documents, func(a, b theme.RegisterDocument) int {
		return cmp.Or(first(a.Overdue.Past, b.Overdue.Past), first(a.Unrecorded(), b.Unrecorded()), first(a.Waits(), b.Waits()), cmp.Compare(a.Number, b.Number))
	})
	slices.SortStableFunc(v.Approvals, func(a, b theme.RegisterApproval) int {
		return cmp.Or(first(a.By == "", b.By == ""), first(a.Waiting != "", b.Waiting != ""), cmp.Compare(a.Number, b.Number))
	})
	slices.SortStableFunc(v.Constants, func(a, b theme.RegisterConstant) int {
		return cmp.Or(first(a.Overdue.Past, b.Overdue.Past), cmp.Compare(a.ReviewDue.ISO, b.ReviewDue.ISO))
	})
}

// approval is the row about a page's record; ok is false for a page that needs none.
func (s *Site) approval(t *content.Page) (theme.RegisterApproval, bool) {
	c := t.Head.Control
	if c == nil || c.Status != page.Approved {
		return theme.RegisterApproval{}, false
	}
	a := theme.RegisterApproval{Number: c.Number, Title: t.Title(), Revision: Revision(c)}
	if t.ShownTo(s.Audience) {
		a.Href = content.URLPath(t.Address())
	}
	if r, _ := s.Content.Record(c.Number, c.Revision); r != nil {
		a.By, a.On, a.Recorded = r.By, isoDate(r.Approved), isoDate(r.Recorded)
	}
	waits := t.Waiting
	if waits == nil && s.Content.Waits(t) {
		waits = t
	}
	if waits != nil {
		a.Waiting, a.From = Revision(waits.Head.Control), Day(waits.Head.Control.Effective)
	}
	return a, true
}

func isoDate(text string) theme.Date {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return theme.Date{}
	}
	return Day(t)
}
