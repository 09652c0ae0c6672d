package routes

import (
	"path"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/page"
	"labsite/recipes/script"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/search"
	"labsite/render/theme"
	"labsite/render/write"
)

// Site is what is needed to make all addresses of an audience's site.
type Site struct {
	*write.Site
	// Entry returns the search entry of a page.
	Entry func(p *content.Page) search.Entry
}

// Route is an address, or a folder of addresses, that belongs to no page, and what makes it.
type Route struct {
	// Addresses are made together; one that ends in "*" is the beginning of several.
	Addresses []string
	// OfAll says that it is about all pages, so that making it can take a while on a large site.
	OfAll bool
	// For reports whether a site has it; nil if every site does.
	For  func(s *write.Site) bool
	Make func(s *Site, put write.Put)
}

// Covers reports whether an address is the route's.
func (r Route) Covers(address string) bool {
	return slices.ContainsFunc(r.Addresses, func(own string) bool {
		begin, many := strings.CutSuffix(own, "*")
		return many && strings.HasPrefix(address, begin) || address == own
	})
}

// shared lists the addresses of a site that belong to no page and to no folder of the content.
var shared = []Route{
	{Addresses: []string{theme.RuntimeFile, theme.FurtherFile}, Make: func(_ *Site, put write.Put) { Runtime(put) }},
	{Addresses: []string{"missing.html"}, Make: func(s *Site, put write.Put) {
		b, list := s.Missing()
		put("missing.html", b, list)
	}},
	{Addresses: []string{write.RegisterFile}, OfAll: true, For: ofStaff, Make: func(s *Site, put write.Put) {
		b, list := s.Register()
		put(write.RegisterFile, b, list)
	}},
	{Addresses: []string{write.BenchFolder + "/*"}, OfAll: true, Make: func(s *Site, put write.Put) { s.BenchPages(put) }},
	{Addresses: []string{search.File, search.Folder + "*"}, OfAll: true, Make: func(s *Site, put write.Put) {
		x := machine.NewSearch(s.Content.Settings.Language, machine.Alike(&s.Content.Settings), func(name string, b []byte) { put(name, b, nil) })
		machine.Found(s.Site, s.Entry, x.Add)
		x.Close()
	}},
	{Addresses: []string{machine.RobotsFile}, Make: func(s *Site, put write.Put) { put(machine.RobotsFile, machine.Robots(s.Site), nil) }},
	{Addresses: []string{write.FeedFile}, OfAll: true, For: hasAddress, Make: func(s *Site, put write.Put) {
		put(write.FeedFile, machine.Feed(s.Site), nil)
	}},
	{Addresses: []string{"sitemap*"}, OfAll: true, For: forSearchEngines, Make: func(s *Site, put write.Put) {
		for name, b := range machine.SiteMaps(s.Site) {
			put(name, b, nil)
		}
	}},
}

func ofStaff(s *write.Site) bool    { return s.Audience == page.Staff }
func hasAddress(s *write.Site) bool { return s.Content.Settings.Address != "" }
func forSearchEngines(s *write.Site) bool {
	return hasAddress(s) && s.Audience == page.Customers
}

// Shared lists the addresses that belong to no page and to no folder of the content.
func Shared(s *write.Site) []Route {
	var out []Route
	for _, r := range shared {
		if r.For == nil || r.For(s) {
			out = append(out, r)
		}
	}
	return out
}

// OfAll reports whether what is at an address is about all pages.
func OfAll(address string) bool {
	for _, r := range shared {
		if r.OfAll && r.Covers(address) {
			return true
		}
	}
	return false
}

// Page makes a page and the files that accompany it: its tables as CSV, its card, labels and
// script. A withdrawn page has none of those.
func Page(w *write.Writer, p *content.Page, put write.Put) {
	if p.IsIndex() {
		Folder(w, p.Folder, put)
	} else {
		b, list := w.Page(w.Full(p))
		put(p.Address(), b, list)
	}
	Beside(w, p, put)
}

// Beside makes only the files that accompany a page.
func Beside(w *write.Writer, p *content.Page, put write.Put) {
	if p.Status() == page.Withdrawn {
		return
	}
	full := w.Full(p)
	w.Beside(full, put)
	w.Scripts(full, put)
}

// Folder makes the page of a folder.
func Folder(w *write.Writer, f *content.Folder, put write.Put) {
	b, list := w.Drawer(f)
	put(f.Address(), b, list)
}

// PagesBeside lists the pages that a paper, table or script at an address may accompany: their
// names are its own up to one of its dots.
func PagesBeside(c *content.Content, address string) []*content.Page {
	dir, base := path.Split(address)
	var out []*content.Page
	for i, r := range base {
		if r == '.' {
			if p := c.Page(path.Join(dir, base[:i]+".md")); p != nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// PageAt is the page at an address, nil for none.
func PageAt(c *content.Content, address string) *content.Page {
	stem, is := strings.CutSuffix(address, ".html")
	if !is {
		return nil
	}
	return c.Page(stem + ".md")
}

// FolderAt is the folder whose page is at an address, nil for none.
func FolderAt(s *write.Site, address string) *content.Folder {
	if path.Base(address) != "index.html" {
		return nil
	}
	for _, f := range s.Content.Folders() {
		if f.Address() == address && f.ShownTo(s.Audience) {
			return f
		}
	}
	return nil
}

// Core is the first of the runtime's scripts, as published.
var Core = sync.OnceValue(func() []byte { return theme.Slim(theme.RuntimeFile, script.Core()) })

var further = sync.OnceValue(func() []byte { return theme.Slim(theme.FurtherFile, script.Further()) })

// Runtime puts the scripts that work formulas out, as published.
func Runtime(put write.Put) {
	put(theme.RuntimeFile, Core(), nil)
	put(theme.FurtherFile, further(), nil)
}

// IsSearch reports whether an address is a file of the search.
func IsSearch(address string) bool {
	return address == search.File || strings.HasPrefix(address, search.Folder)
}
