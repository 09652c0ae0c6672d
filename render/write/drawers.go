package write

import (
	"fmt"
	"html/template"
	"path"
	"strings"
	"sync"

	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/theme"
)

// surroundings are what the pages of one folder show of other pages. They are found once for all
// pages of the folder: on a large site they are most of the work of writing a page.
type surroundings struct {
	// own is the list of sections on the folder's own page, inside the one on the pages in it.
	// They are made only when a page is written with them: a publish in which nothing changed
	// needs only the sum.
	own, inside func() drawerNames
	// shown are the pages that the audience sees, in their order, and place is their position.
	shown []*content.Page
	place map[*content.Page]int
	// sum is the sum of the lists and of the folders above.
	sum content.Sum
}

// drawerNames is a list of sections as the theme fills it, and what went wrong.
type drawerNames struct {
	html template.HTML
	list source.List
}

// aroundKey is a folder by its path, and as it is in the content; nil for one that is not there.
type aroundKey struct {
	path   string
	folder *content.Folder
}

// surroundings finds those of a folder; f is nil for a folder that is not in the content.
func (s *Site) surroundings(folder string, f *content.Folder) *surroundings {
	s.mu.Lock()
	defer s.mu.Unlock()
	key := aroundKey{folder, f}
	if x, ok := s.around[key]; ok {
		return x
	}
	names := func(current string) func() drawerNames {
		return sync.OnceValue(func() drawerNames {
			html, list := s.makeDrawerNames(folder, content.Up(folder), current)
			return drawerNames{html, list}
		})
	}
	x := &surroundings{place: map[*content.Page]int{}, own: names("page"), inside: names("true")}
	if f != nil {
		for _, p := range f.Pages {
			if p.ShownTo(s.Audience) {
				x.place[p] = len(x.shown)
				x.shown = append(x.shown, p)
			}
		}
		s.topSections()
		// the folder decides how links to the sections begin, and which of them is the current one
		x.sum = content.SumOf(folder, fmt.Sprintf("%x %q %q", s.topSum, s.trail(f, false), s.trail(f, true)))
	}
	if s.around == nil {
		s.around = map[aroundKey]*surroundings{}
	}
	s.around[key] = x
	return x
}

func (s *Site) withDrawerNames(folder string, f *content.Folder, address string, list source.List) (template.HTML, source.List) {
	x := s.surroundings(folder, f)
	names := x.inside
	if path.Base(address) == "index.html" {
		names = x.own
	}
	filled := names()
	return filled.html, append(list, filled.list...)
}

// section is a folder at the top of the site, as every page links to it.
type section struct {
	folder      *content.Folder
	title, href string // href from the site's top
}

func (s *Site) makeDrawerNames(folder, prefix, current string) (template.HTML, source.List) {
	v := theme.DrawerNames{Links: make([]theme.DrawerName, 0, len(s.topSections()))}
	for _, x := range s.topSections() {
		link := theme.DrawerName{Link: theme.Link{Title: x.title, Href: prefix + x.href}}
		switch {
		case x.folder.Path == folder:
			link.Current = current
		case strings.HasPrefix(folder, x.folder.Path+"/"):
			link.Current = "true"
		}
		v.Links = append(v.Links, link)
	}
	return s.Theme.DrawerNames(v)
}

// topSections lists the sections once, and notes their sum.
func (s *Site) topSections() []section {
	s.listTops.Do(func() {
		sum := content.NewSummer()
		for _, f := range s.Content.Top.Folders {
			if f.ShownTo(s.Audience) {
				s.tops = append(s.tops, section{f, s.SectionTitle(f), content.URLPath(path.Join(f.Path, "index.html"))})
				sum.Add(f.Path)
				sum.Add(s.SectionTitle(f))
			}
		}
		s.topSum = sum.Sum()
	})
	return s.tops
}

func placeAmong(at, of int) string { return fmt.Sprintf("%d of %d", at, of) }

// neighbours finds the pages before and after a page in its section.
func (s *Site) neighbours(p *content.Page, v *theme.Instruction) {
	x := s.surroundings(p.Folder.Path, p.Folder)
	at, shown := x.place[p]
	if !shown || len(x.shown) < 2 {
		return
	}
	link := func(o *content.Page) *theme.Link {
		return &theme.Link{Title: o.Title(), Href: content.URLPath(path.Base(o.Address()))}
	}
	if at > 0 {
		v.Before = link(x.shown[at-1])
	}
	if at+1 < len(x.shown) {
		v.After = link(x.shown[at+1])
	}
	v.Place = placeAmong(at+1, len(x.shown))
}

// Around adds to a sum all that the files of a page show of other pages, besides those that it
// draws on or links to: the sections, the folders above it, and its neighbours. If the sum is the
// same in two sites, so are the files.
func (s *Site) Around(p *content.Page, to *content.Summer) {
	to.AddSum(s.surroundings(p.Folder.Path, p.Folder).sum)
	var v theme.Instruction
	s.neighbours(p, &v)
	for _, link := range []*theme.Link{v.Before, v.After} {
		if link != nil {
			to.Add(link.Title)
			to.Add(link.Href)
		}
		to.Add("")
	}
	to.Add(v.Place)
	if p.IsIndex() {
		s.listing(p.Folder, to)
	}
}

// listing adds to a sum what the page of a folder lists: the folders and the pages in it.
func (s *Site) listing(f *content.Folder, to *content.Summer) {
	for _, list := range [][]theme.Entry{s.sections(f, ""), s.pages(f)} {
		for _, e := range list {
			to.Add(fmt.Sprintf("%#v", e))
		}
		to.Add("")
	}
	var v theme.Shell
	to.Add(fmt.Sprintf("%q", s.deskOf(f, &v).Season))
}
