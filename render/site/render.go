package site

import (
	"context"
	"path"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// Render makes the published site of an audience: paths relative to the site's top, with
// their bytes. It is called for a site without errors; what goes wrong here is a theme's.
func (s *Site) Render(ctx context.Context, a sheet.Audience) (map[string][]byte, source.List) {
	r := &renderer{site: s, audience: a, navs: map[string]*nav{}}
	out := map[string][]byte{}
	taken := map[string]bool{} // in small letters, since some disks do not tell them apart
	for name, b := range s.templates.Assets() {
		out[name], taken[strings.ToLower(name)] = b, true
	}
	out[runtimeFile], taken[runtimeFile] = formulaRuntime(), true
	var mu sync.Mutex
	var list source.List
	put := func(name string, b []byte, l source.List) {
		mu.Lock()
		defer mu.Unlock()
		list = append(list, l...)
		if b == nil {
			return
		}
		if key := strings.ToLower(name); taken[key] {
			list = append(list, source.OwnFile(name).AtFile(s.fileAt(name)))
		} else {
			out[name], taken[key] = b, true
		}
	}
	jobs := r.machineFiles(put) // first, since the search entries take the longest
	for _, t := range s.Topics {
		if t.shownTo(a) && t.Folder.Index != t {
			jobs = append(jobs, func() {
				b, l := r.topic(t)
				put(t.Address(), b, l)
				if t.Status() == sheet.Approved {
					r.beside(t, put)
					r.scripts(t, put)
				}
			})
		}
	}
	for _, f := range s.folders() {
		if s.holds(f, a) {
			jobs = append(jobs, func() {
				b, l := r.folder(f)
				put(path.Join(f.Path, "index.html"), b, l)
				if f.Index != nil && f.Index.shownTo(a) {
					if f.Index.Status() == sheet.Approved {
						r.beside(f.Index, put)
					}
					r.scripts(f.Index, put)
				}
			})
		}
	}
	jobs = append(jobs, func() {
		b, l := r.missing()
		put("missing.html", b, l)
	})
	jobs = append(jobs, func() { r.benchPages(put) })
	r.nav(benchFolder)
	if a == sheet.Staff {
		jobs = append(jobs, func() {
			b, l := r.register()
			put(registerFile, b, l)
		})
	}
	for _, f := range s.folders() {
		r.nav(f.Path) // made before the workers share them
	}
	each(ctx, len(jobs), func(i int) { jobs[i]() })
	for full, p := range s.pictures {
		for _, u := range p.uses {
			if u.topic.shownTo(a) && u.topic.Status() == sheet.Approved {
				put(full, p.bytes, nil)
				break
			}
		}
	}
	return out, list.Sorted()
}

// fileAt is the file of the content that is published at an address, or the address where
// there is none.
func (s *Site) fileAt(address string) string {
	for _, t := range s.Topics {
		if strings.EqualFold(t.Address(), address) {
			return t.Path
		}
	}
	return address
}

// beside makes what stands beside a page: its tables as CSV, its card, its labels.
func (r *renderer) beside(t *Topic, put func(name string, b []byte, l source.List)) {
	dir := path.Dir(t.Address())
	if t.Proof == nil {
		return
	}
	for _, g := range t.Sheet.Grids {
		if g.Rows != nil || g.List != nil {
			put(path.Join(dir, csvFile(t, g)), csvOf(g, t.Proof.Own), nil)
		}
	}
	if hasCard(t) {
		b, l := r.card(t)
		put(path.Join(dir, cardAddress(t)), b, l)
	}
	if hasLabels(t) {
		b, l := r.labels(t)
		put(path.Join(dir, labelAddress(t)), b, l)
	}
}

type renderer struct {
	site     *Site
	audience sheet.Audience
	navs     map[string]*nav
	preview  bool
	scripted sync.Map // *Topic to written
}

// folders lists all folders, the top first.
func (s *Site) folders() []*Folder {
	var out []*Folder
	var walk func(f *Folder)
	walk = func(f *Folder) {
		out = append(out, f)
		for _, sub := range f.Folders {
			walk(sub)
		}
	}
	walk(s.Top)
	return out
}

// holds tells whether a folder has a page for the audience, and so a page of its own; the
// top always has.
func (s *Site) holds(f *Folder, a sheet.Audience) bool { return f.Path == "" || f.count(a) > 0 }

// count is how many pages of the audience the folder holds, those of its folders included.
func (f *Folder) count(a sheet.Audience) int {
	n := 0
	if f.Index != nil && f.Index.shownTo(a) {
		n++
	}
	for _, t := range f.Topics {
		if t.shownTo(a) {
			n++
		}
	}
	for _, sub := range f.Folders {
		n += sub.count(a)
	}
	return n
}

// title is a section's name: its index page's title, or the folder's name in words.
func (f *Folder) title(s *Site, a sheet.Audience) string {
	if f.Index != nil && f.Index.shownTo(a) {
		return f.Index.Title()
	}
	if f.Path == "" {
		return s.Settings.Name
	}
	name := strings.NewReplacer("-", " ", "_", " ").Replace(path.Base(f.Path))
	return strings.ToUpper(name[:1]) + name[1:]
}

// up is the way from a folder to the site's top: "", "../", "../../" …
func up(folder string) string {
	if folder == "" || folder == "." {
		return ""
	}
	return strings.Repeat("../", strings.Count(folder, "/")+1)
}

// shell fills what stands around the content of a page that lies in a folder.
func (r *renderer) shell(folder string, v *Shell) {
	top := up(folder)
	v.Language = r.site.Settings.Language
	v.SiteName = r.site.Settings.Name
	v.Home = top + "index.html"
	v.Icon = top + "sign.svg"
	v.Styles = []string{top + styleFile}
	v.Policy = PublishedPolicy
	v.StaffSite = r.audience == sheet.Staff
	r.findable(top, v)
	v.Scripts = append(v.Scripts, top+offlineFile)
	if r.preview {
		r.live(v)
	}
}

// trail lists the folders above a page, from the front page down.
func (r *renderer) trail(f *Folder, self bool) []Link {
	var out []Link
	from := f.Path
	for g := f; g != nil; g = g.Parent {
		if g == f && self {
			continue
		}
		out = append(out, Link{Title: g.title(r.site, r.audience), Href: up(from) + urlPath(path.Join(g.Path, "index.html"))})
	}
	slices.Reverse(out)
	return out
}

func (r *renderer) missing() ([]byte, source.List) {
	v := &Missing{}
	r.shell("", &v.Shell)
	root := "/"
	if address := r.site.Settings.Address; address != "" {
		if i := strings.Index(address, "://"); i >= 0 {
			if j := strings.IndexByte(address[i+3:], '/'); j >= 0 {
				root = address[i+3+j:]
			}
		}
	}
	v.Title = "Nothing here"
	v.Home, v.Icon = root+"index.html", root+"sign.svg"
	v.Styles = []string{root + styleFile}
	v.Scripts, v.Head = nil, ""
	r.findable(root, &v.Shell)
	v.Sections = r.sections(r.site.Top, root)
	nav, list := r.makeNav("", root, "")
	v.Nav = nav
	b, l := r.site.templates.Missing(v)
	return b, append(list, l...)
}

// sections lists the folders in a folder.
func (r *renderer) sections(f *Folder, prefix string) []Entry {
	var out []Entry
	for _, sub := range f.Folders {
		if !r.site.holds(sub, r.audience) {
			continue
		}
		e := Entry{Title: sub.title(r.site, r.audience), Count: sub.count(r.audience), Staff: sub.Staff,
			Href: prefix + urlPath(path.Join(strings.TrimPrefix(strings.TrimPrefix(sub.Path, f.Path), "/"), "index.html"))}
		if sub.Index != nil && sub.Index.shownTo(r.audience) {
			e.Summary = sub.Index.Sheet.Summary
			e.Count--
		}
		for _, t := range sub.Topics {
			if t.shownTo(r.audience) && len(e.Pages) < 4 {
				e.Pages = append(e.Pages, Link{Title: t.Title(), Href: prefix + urlPath(strings.TrimPrefix(strings.TrimPrefix(t.Address(), f.Path), "/"))})
			}
		}
		out = append(out, e)
	}
	return out
}

// pages lists the pages in a folder.
func (r *renderer) pages(f *Folder) []Entry {
	var out []Entry
	for _, t := range f.Topics {
		if !t.shownTo(r.audience) {
			continue
		}
		e := Entry{Title: t.Title(), Href: urlPath(path.Base(t.Address())), Summary: t.Sheet.Summary, Staff: t.Staff() && r.audience == sheet.Staff, Topics: t.Sheet.Topics}
		if c := t.Sheet.Control; c != nil {
			e.Number, e.Revision = c.Number, revision(c)
			if c.Status != sheet.Approved {
				e.Status = string(c.Status)
			}
			e.Overdue = r.overdue(t)
		}
		out = append(out, e)
	}
	return out
}

func (r *renderer) folder(f *Folder) ([]byte, source.List) {
	var page Page
	var list source.List
	if f.Index != nil && f.Index.shownTo(r.audience) && f.Index.Status() != sheet.Withdrawn {
		page, list = r.page(f.Index)
	} else {
		r.shell(f.Path, &page.Shell)
		page.Title = f.title(r.site, r.audience)
		page.Trail = r.trail(f, true)
	}
	page.Nav, list = r.withNav(f.Path, path.Join(f.Path, "index.html"), list)
	page.Canonical = r.canonical(path.Join(f.Path, "index.html"))
	r.linkPreview(&page.Shell, f.Index)
	if f.Path == "" {
		v := &Front{Page: page, Sections: r.sections(f, ""), Pages: append(r.pages(f), r.staffEntries()...)}
		if f.Index == nil {
			v.Title = r.site.Settings.Name
		}
		b, l := r.site.templates.Front(v)
		return b, append(list, l...)
	}
	v := &Section{Page: page, Sections: r.sections(f, ""), Pages: r.pages(f)}
	b, l := r.site.templates.Section(v)
	return b, append(list, l...)
}

// staffEntries are the pages that the program itself makes for staff.
func (r *renderer) staffEntries() []Entry {
	if r.audience != sheet.Staff {
		return nil
	}
	return []Entry{
		{Title: "Document register", Href: registerFile, Summary: "Every controlled page and every owned constant, what is overdue first.", Staff: true},
		{Title: "Bench formulas", Href: benchFolder + "/index.html", Summary: "The trade's own formulas, with ranges, sources, checks, and where they are used.", Staff: true},
	}
}

func (r *renderer) canonical(address string) string {
	if r.site.Settings.Address == "" {
		return ""
	}
	return r.site.Settings.Address + urlPath(address)
}

func (r *renderer) topic(t *Topic) ([]byte, source.List) {
	if t.Status() == sheet.Withdrawn {
		return r.withdrawn(t)
	}
	page, list := r.page(t)
	page.Nav, list = r.withNav(t.Folder.Path, t.Address(), list)
	r.linkPreview(&page.Shell, t)
	r.neighbours(t, &page)
	b, l := r.site.templates.Page(&page)
	return b, append(list, l...)
}

// withdrawn keeps a page's address and says whom to ask.
func (r *renderer) withdrawn(t *Topic) ([]byte, source.List) {
	v := &Withdrawn{Control: r.control(t), Ask: t.Sheet.Control.Owner}
	r.shell(t.Folder.Path, &v.Shell)
	v.Title = t.Title()
	v.Trail = r.trail(t.Folder, false)
	v.Canonical = r.canonical(t.Address())
	var list source.List
	v.Nav, list = r.withNav(t.Folder.Path, t.Address(), nil)
	if v.Ask == "" {
		v.Ask = "the lab"
	}
	b, l := r.site.templates.Withdrawn(v)
	return b, append(list, l...)
}

// neighbours finds the pages before and after a page in its section.
func (r *renderer) neighbours(t *Topic, v *Page) {
	var shown []*Topic
	at := -1
	for _, o := range t.Folder.Topics {
		if !o.shownTo(r.audience) {
			continue
		}
		if o == t {
			at = len(shown)
		}
		shown = append(shown, o)
	}
	if at < 0 || len(shown) < 2 {
		return
	}
	link := func(o *Topic) *Link { return &Link{Title: o.Title(), Href: urlPath(path.Base(o.Address()))} }
	if at > 0 {
		v.Previous = link(shown[at-1])
	}
	if at+1 < len(shown) {
		v.Next = link(shown[at+1])
	}
	v.Place = placeAmong(at+1, len(shown))
}
