package write

import (
	"fmt"
	"html/template"
	"path"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/search"
	"labsite/render/theme"
	"labsite/render/work"
)

// shell fills what stands around the content of a page in a folder.
func (s *Site) shell(folder string, v *theme.Shell) {
	top := content.Up(folder)
	v.Language = s.Content.Settings.Language
	v.SiteName = s.Content.Settings.Name
	v.Home = top + "index.html"
	v.Icon = top + "sign.svg"
	v.Styles = []string{top + theme.StyleFile}
	v.Policy = theme.PublishedPolicy
	v.StaffSite = s.Audience == page.Staff
	v.Scripts = append(v.Scripts, top+theme.LaterFile)
	if v.StaffSite {
		v.Scripts = append(v.Scripts, top+theme.TodayFile)
	}
	s.findable(top, v)
	v.Scripts = append(v.Scripts, top+OfflineFile)
	if s.Preview {
		s.live(v)
	}
}

// Addresses that every page of a site knows.
const (
	FindBox     = "find.js"     // answers the search box, by the files of package search
	FeedFile    = "changes.xml" // the Atom feed
	OfflineFile = "offline.js"  // lets a reader keep the site
)

// desk makes what a page that lists others shows first: the search box, large instead of in the head,
// and the pages that have a season. top is the way to the site's top, and href gives the address of
// a page.
func (s *Site) desk(top string, v *theme.Shell, pages []*content.Page, href func(*content.Page) string) (d theme.Desk) {
	v.Styles = append(v.Styles, top+theme.DeskStyle)
	d.Asked, _ = s.Theme.Find(theme.Find{Index: top + search.File, Top: top, Large: true})
	v.Find = ""
	for _, p := range pages {
		if !p.ShownTo(s.Audience) || p.Unpublished() || p.Head == nil || len(p.Head.Season) == 0 {
			continue
		}
		d.Season = append(d.Season, theme.InSeason{Link: theme.Link{Title: p.Title(), Href: href(p)},
			Months: strings.Trim(fmt.Sprint(p.Head.Season), "[]"), When: page.SeasonWords(p.Head.Season)})
	}
	if len(d.Season) > 0 {
		v.Scripts = append(v.Scripts, top+theme.SeasonFile)
	}
	return d
}

// deskOf is the desk of a folder's page. At the top of the site it is about all pages, elsewhere
// about those of the folder.
func (s *Site) deskOf(f *content.Folder, v *theme.Shell) theme.Desk {
	if f.Path == "" {
		return s.desk("", v, s.Content.Pages, func(p *content.Page) string { return content.URLPath(p.Address()) })
	}
	return s.desk(content.Up(f.Path), v, f.Pages, func(p *content.Page) string { return content.URLPath(path.Base(p.Address())) })
}

// findable gives a page the search box and its script, and links to the feed. top is the way to the
// site's top.
func (s *Site) findable(top string, v *theme.Shell) {
	box, _ := s.Theme.Find(theme.Find{Index: top + search.File, Top: top}) // its errors were reported when the theme was tried
	v.Find = box
	v.Scripts = append(v.Scripts, top+FindBox)
	if s.Feed {
		v.Head = inHead(v.Head, template.HTML(`<link rel="alternate" type="application/atom+xml" title="What changed" href="`+template.HTMLEscapeString(top+FeedFile)+`">`))
	}
}

// trail lists the folders above a page, from the front page down; self says that the page is the
// folder's own.
func (s *Site) trail(f *content.Folder, self bool) []theme.Link {
	var out []theme.Link
	from := f.Path
	for g := f; g != nil; g = g.Parent {
		if g == f && self {
			continue
		}
		out = append(out, theme.Link{Title: s.SectionTitle(g), Href: content.Up(from) + content.URLPath(path.Join(g.Path, "index.html"))})
	}
	slices.Reverse(out)
	return out
}

func (s *Site) Missing() ([]byte, source.List) {
	v := &theme.Missing{}
	s.shell("", &v.Shell)
	root := "/"
	if address := s.Content.Settings.Address; address != "" {
		if i := strings.Index(address, "://"); i >= 0 {
			if j := strings.IndexByte(address[i+3:], '/'); j >= 0 {
				root = address[i+3+j:]
			}
		}
	}
	v.Title = "Nothing here"
	v.Home, v.Icon = root+"index.html", root+"sign.svg"
	v.Styles = []string{root + theme.StyleFile}
	v.Scripts, v.Head = nil, ""
	s.findable(root, &v.Shell)
	v.Desk = s.desk(root, &v.Shell, nil, nil)
	v.Cabinet = s.sections(s.Content.Top, root)
	nav, list := s.makeDrawerNames("", root, "")
	v.DrawerNames = nav
	b, l := s.Theme.Missing(v)
	return b, append(list, l...)
}

// sections lists the folders in a folder.
func (s *Site) sections(f *content.Folder, prefix string) []theme.Entry {
	var out []theme.Entry
	for _, sub := range f.Folders {
		if !sub.ShownTo(s.Audience) {
			continue
		}
		e := theme.Entry{Title: s.SectionTitle(sub), Count: sub.Count(s.Audience), Staff: sub.Staff,
			Href: prefix + content.URLPath(path.Join(strings.TrimPrefix(strings.TrimPrefix(sub.Path, f.Path), "/"), "index.html"))}
		if sub.Index != nil && sub.Index.ShownTo(s.Audience) {
			e.Summary = sub.Index.Head.Summary
			e.Count--
		}
		for _, t := range sub.Pages {
			if t.ShownTo(s.Audience) && len(e.OnTop) < 4 {
				e.OnTop = append(e.OnTop, theme.Link{Title: t.Title(), Href: prefix + content.URLPath(strings.TrimPrefix(strings.TrimPrefix(t.Address(), f.Path), "/"))})
			}
		}
		out = append(out, e)
	}
	return out
}

// pages lists the pages in a folder.
func (s *Site) pages(f *content.Folder) []theme.Entry {
	var out []theme.Entry
	for _, t := range f.Pages {
		if !t.ShownTo(s.Audience) {
			continue
		}
		e := theme.Entry{Title: t.Title(), Href: content.URLPath(path.Base(t.Address())), Summary: t.Head.Summary, Staff: t.Staff() && s.Audience == page.Staff, Topics: t.Head.Topics}
		if c := t.Head.Control; c != nil {
			e.Number, e.Revision = c.Number, Revision(c)
			if c.Status != page.Approved {
				e.Status = string(c.Status)
			}
			e.Overdue = s.overdue(t)
		}
		out = append(out, e)
	}
	return out
}

func (w *Writer) Drawer(f *content.Folder) ([]byte, source.List) {
	var filled theme.Instruction
	var list source.List
	var index *work.Page
	if f.Index != nil && f.Index.ShownTo(w.Audience) {
		index = w.Full(f.Index)
	}
	if index != nil && index.Status() != page.Withdrawn {
		filled, list = w.page(index)
	} else {
		w.shell(f.Path, &filled.Shell)
		filled.Title = w.SectionTitle(f)
		filled.Trail = w.trail(f, true)
	}
	filled.DrawerNames, list = w.withDrawerNames(f.Path, f, path.Join(f.Path, "index.html"), list)
	filled.Canonical = w.Canonical(path.Join(f.Path, "index.html"))
	w.linkPreview(&filled.Shell, index)
	desk := w.deskOf(f, &filled.Shell)
	if f.Path == "" {
		v := &theme.Front{Instruction: filled, Desk: desk, Cabinet: w.sections(f, ""), Filed: append(w.pages(f), w.staffEntries()...)}
		if f.Index == nil {
			v.Title = w.Content.Settings.Name
		}
		b, l := w.Theme.Front(v)
		return b, append(list, l...)
	}
	v := &theme.Drawer{Instruction: filled, Desk: desk, Cabinet: w.sections(f, ""), Filed: w.pages(f)}
	b, l := w.Theme.Drawer(v)
	return b, append(list, l...)
}

// staffEntries lists the pages that the program itself makes for staff.
func (s *Site) staffEntries() []theme.Entry {
	if s.Audience != page.Staff {
		return nil
	}
	return []theme.Entry{
		{Title: "Document register", Href: RegisterFile, Summary: "Every controlled page and every owned constant, what is overdue first.", Staff: true},
		{Title: "Bench formulas", Href: BenchFolder + "/index.html", Summary: "The trade's own formulas, with ranges, sources, checks, and where they are used.", Staff: true},
	}
}

func (s *Site) Canonical(address string) string {
	if s.Content.Settings.Address == "" {
		return ""
	}
	return s.Content.Settings.Address + content.URLPath(address)
}

func (w *Writer) Page(p *work.Page) ([]byte, source.List) {
	if p.Status() == page.Withdrawn {
		return w.withdrawn(p)
	}
	page, list := w.page(p)
	page.DrawerNames, list = w.withDrawerNames(p.Folder.Path, p.Folder, p.Address(), list)
	w.linkPreview(&page.Shell, p)
	w.neighbours(p.Page, &page)
	b, l := w.Theme.Instruction(&page)
	return b, append(list, l...)
}

// withdrawn makes the page that stands at the address of a withdrawn page and says whom to ask.
func (s *Site) withdrawn(p *work.Page) ([]byte, source.List) {
	v := &theme.Withdrawn{Control: s.control(p.Page), Ask: p.Sheet.Control.Owner}
	s.shell(p.Folder.Path, &v.Shell)
	v.Title = p.Title()
	v.Trail = s.trail(p.Folder, false)
	v.Canonical = s.Canonical(p.Address())
	var list source.List
	v.DrawerNames, list = s.withDrawerNames(p.Folder.Path, p.Folder, p.Address(), nil)
	if v.Ask == "" {
		v.Ask = "the lab"
	}
	b, l := s.Theme.Withdrawn(v)
	return b, append(list, l...)
}
