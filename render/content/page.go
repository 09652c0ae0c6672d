package content

import (
	"net/url"
	"path"
	"strings"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Page is one page of the folder as it was read: its text, and what lists show of it. A page
// whose text changes becomes another Page.
type Page struct {
	Path string // relative to the content folder
	// File is nil if the text was dropped; see Content.PageText.
	File *source.File
	// Said lists the errors of the file's bytes.
	Said source.List
	// Head is what lists of pages show: title, summary, audience, topics, order and document
	// control. It is nil if the front matter cannot be read.
	Head *page.Sheet
	// Sum identifies its bytes.
	Sum    Sum
	Folder *Folder
	// Draws are the paths of the pages that it draws on, whether these exist or not.
	Draws    []string
	Standing Standing
	// Clash lists the errors that come from other pages: an address or number in use twice.
	Clash source.List

	// Waiting is the page as it is in the folder, if that is a revision not yet in effect and this
	// is the one before it; otherwise nil.
	Waiting *Page

	drafts bool   // drafts are shown
	letGo  string // the file whose text was dropped
	linked bool   // a symbolic link into a folder for staff
	sorted string // what lists are sorted by
}

// Title is the page's title, or its path if it has none.
func (p *Page) Title() string {
	if p == nil {
		return ""
	}
	if p.Head == nil || p.Head.Title == "" {
		return p.Path
	}
	return p.Head.Title
}

// Address is the page's address on the site: its path with html for md.
func (p *Page) Address() string { return strings.TrimSuffix(p.Path, ".md") + ".html" }

// IsIndex reports whether the page is the index page of its folder.
func (p *Page) IsIndex() bool { return p.Folder != nil && p.Folder.Index == p }

// Staff reports whether the page is for staff, by itself or by its folder.
func (p *Page) Staff() bool {
	return p.linked || p.Folder != nil && p.Folder.Staff || p.Head == nil || p.Head.Audience != page.Customers
}

// SaidStaff reports whether the page or its folder says that it is for staff. A page that cannot be read
// does not say so, so that links to it are not reported.
func (p *Page) SaidStaff() bool {
	return p.linked || p.Folder != nil && p.Folder.Staff || p.Head != nil && p.Head.Audience == page.Staff
}

// Status is the page's status in document control; approved if it has no document control.
func (p *Page) Status() page.Status {
	if p.Head == nil || p.Head.Control == nil {
		return page.Approved
	}
	return p.Head.Control.Status
}

// Unpublished reports whether the page says that it is a draft or withdrawn; one whose status
// cannot be read says neither.
func (p *Page) Unpublished() bool {
	return p.Status() == page.Draft || p.Status() == page.Withdrawn
}

// ShownTo reports whether an audience's site has the page, perhaps as withdrawn; a draft is only in the
// preview.
func (p *Page) ShownTo(a page.Audience) bool {
	return p.Head != nil && (p.Status() != page.Draft || p.drafts) && (a == page.Staff || !p.Staff())
}

// Target turns a destination written on the page into a path in the content folder and an anchor; ok is
// false, after a report, if it leads out of the folder.
func (p *Page) Target(destination string, at source.Span, report func(source.Problem, source.Span)) (file, anchor string, ok bool) {
	file, anchor, _ = strings.Cut(destination, "#")
	if clean, err := url.PathUnescape(file); err == nil {
		file = clean
	}
	if strings.HasPrefix(file, "/") {
		report(source.LinkAbsolute(file), at)
		return "", "", false
	}
	if file == "" {
		return p.Path, anchor, true
	}
	full := path.Join(path.Dir(p.Path), file)
	if full == ".." || strings.HasPrefix(full, "../") {
		report(source.PathOutside(file), at)
		return "", "", false
	}
	return full, anchor, true
}

// Find is Target without reports.
func (p *Page) Find(destination string) (full, anchor string, ok bool) {
	return p.Target(destination, source.Span{}, func(source.Problem, source.Span) {})
}

// Since is the day from which the page's revision is in effect or, if the page does not say, the day on
// which it was approved. It is zero for a page without document control.
func (p *Page) Since() time.Time {
	if p.Head == nil || p.Head.Control == nil {
		return time.Time{}
	}
	if c := p.Head.Control; !c.Effective.IsZero() {
		return c.Effective
	}
	return p.Head.Control.Approved
}
