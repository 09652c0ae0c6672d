package site

import (
	"cmp"
	"path"
	"runtime"
	"slices"
	"strings"
	"time"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

var workers = max(1, runtime.GOMAXPROCS(0))

// arrange builds the tree of folders and settles audiences, numbers and addresses.
func (s *Site) arrange() {
	folders := map[string]*Folder{}
	var folder func(p string) *Folder
	folder = func(p string) *Folder {
		if p == "." {
			p = ""
		}
		if f, ok := folders[p]; ok {
			return f
		}
		f := &Folder{Path: p}
		folders[p] = f
		if p != "" {
			f.Parent = folder(path.Dir(p))
			f.Parent.Folders = append(f.Parent.Folders, f)
		}
		return f
	}
	s.Top = folder("")
	addresses := map[string]*Topic{}
	numbers := map[string]*Topic{}
	for _, t := range s.Topics {
		t.clash = nil
		t.sorted = strings.ToLower(t.Title())
		t.Folder = folder(path.Dir(t.Path))
		if path.Base(t.Path) == "index.md" {
			t.Folder.Index = t
		} else {
			t.Folder.Topics = append(t.Folder.Topics, t)
		}
		key := strings.ToLower(t.Address())
		if other, taken := addresses[key]; taken {
			t.clash = append(t.clash, source.SameAddress(other.Path).AtFile(t.Path))
		} else {
			addresses[key] = t
		}
		if t.Sheet == nil || t.Sheet.Control == nil || t.Sheet.Control.Number == "" {
			continue
		}
		c := t.Sheet.Control
		if other, taken := numbers[c.Number]; taken {
			t.clash = append(t.clash, source.SameNumber(c.Number, other.Path).At(c.Span))
		} else {
			numbers[c.Number] = t
		}
	}
	s.Top.settle(false)
}

// settle hands the staff's audience down and sorts what is in a folder.
func (f *Folder) settle(staff bool) {
	f.Staff = staff || f.Index != nil && f.Index.Sheet != nil && f.Index.Sheet.Audience == sheet.Staff
	slices.SortStableFunc(f.Topics, func(a, b *Topic) int { return compareOrder(a, b) })
	slices.SortStableFunc(f.Folders, func(a, b *Folder) int {
		return cmp.Or(compareOrder(a.Index, b.Index), strings.Compare(a.Path, b.Path))
	})
	for _, sub := range f.Folders {
		sub.settle(f.Staff)
	}
}

// compareOrder sorts by order, smaller first, then by title; pages without an order come
// after those with one.
func compareOrder(a, b *Topic) int {
	hasA, hasB := a != nil && a.Sheet != nil && a.Sheet.HasOrder, b != nil && b.Sheet != nil && b.Sheet.HasOrder
	switch {
	case hasA && !hasB:
		return -1
	case hasB && !hasA:
		return 1
	case hasA && hasB && a.Sheet.Order != b.Sheet.Order:
		return cmp.Compare(a.Sheet.Order, b.Sheet.Order)
	}
	return strings.Compare(a.sorting(), b.sorting())
}

// sorting is the title as lists are sorted by it.
func (t *Topic) sorting() string {
	if t == nil {
		return ""
	}
	return t.sorted
}

// Title is the page's title, or its path where it has none.
func (t *Topic) Title() string {
	if t == nil {
		return ""
	}
	if t.Sheet == nil || t.Sheet.Title == "" {
		return t.Path
	}
	return t.Sheet.Title
}

// Address is the page's place on the site: its path with html for md.
func (t *Topic) Address() string { return strings.TrimSuffix(t.Path, ".md") + ".html" }

// Staff tells whether the page is for staff, by itself or by its folder.
func (t *Topic) Staff() bool {
	return t.Folder != nil && t.Folder.Staff || t.Sheet == nil || t.Sheet.Audience != sheet.Customers
}

// saidStaff tells whether the page says itself, or its folder, that it is for staff: a page
// that cannot be read says nothing, and nobody is told to take a link to it away.
func (t *Topic) saidStaff() bool {
	return t.Folder != nil && t.Folder.Staff || t.Sheet != nil && t.Sheet.Audience == sheet.Staff
}

// Status is the page's state in document control; approved where it has none.
func (t *Topic) Status() sheet.Status {
	if t.Sheet == nil || t.Sheet.Control == nil {
		return sheet.Approved
	}
	return t.Sheet.Control.Status
}

// unpublished tells whether the page says that it is a draft or withdrawn; one whose status
// cannot be read says neither.
func (t *Topic) unpublished() bool { return t.Status() == sheet.Draft || t.Status() == sheet.Withdrawn }

// shownTo tells whether an audience's site has the page, perhaps withdrawn; a draft is in
// the preview alone.
func (t *Topic) shownTo(a sheet.Audience) bool {
	return t.Sheet != nil && (t.Status() != sheet.Draft || t.drafts) && (a == sheet.Staff || !t.Staff())
}

// reviews reports what is overdue.
func (s *Site) reviews(t *Topic) {
	if t.Sheet == nil {
		return
	}
	if c := t.Sheet.Control; c != nil && c.Status == sheet.Approved {
		if due, ok := c.Due(); ok && s.past(t, due) {
			t.list = append(t.list, source.ReviewOverdue(c.Number, due.Format("2006-01-02")).At(c.Span))
		}
		if d := c.Approved; !d.IsZero() {
			begins := time.Date(d.Year(), d.Month(), d.Day(), 0, 0, 0, 0, s.Today.Location())
			if !s.past(t, begins.Add(-1)) { // by the calendar on the wall
				t.list = append(t.list, source.ApprovedLater(d.Format(time.DateOnly)).At(c.ApprovedAt))
			}
		}
	}
	for _, g := range t.Sheet.Given {
		if due, ok := s.constantDue(t, g); ok && s.past(t, due) {
			t.list = append(t.list, source.ConstantOverdue(g.Name, due.Format("2006-01-02")).At(g.Span))
		}
	}
}
