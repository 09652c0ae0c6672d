package site

import (
	"fmt"
	"html/template"
	"path"
	"strings"

	"labsite/recipes/source"
)

// nav is the list of sections as the pages of one folder show it: on the section's own
// page, on the pages in it, and where the folder's page is asked for.
type nav struct {
	own, inside template.HTML
	list        source.List
}

// nav makes the lists of a folder once. It is called for every folder before pages are
// rendered side by side.
func (r *renderer) nav(folder string) *nav {
	if n, ok := r.navs[folder]; ok {
		return n
	}
	n := &nav{}
	n.own, n.list = r.makeNav(folder, up(folder), "page")
	n.inside, _ = r.makeNav(folder, up(folder), "true")
	r.navs[folder] = n
	return n
}

func (r *renderer) withNav(folder, address string, list source.List) (template.HTML, source.List) {
	n := r.nav(folder)
	if path.Base(address) == "index.html" {
		return n.own, append(list, n.list...)
	}
	return n.inside, append(list, n.list...)
}

func (r *renderer) makeNav(folder, prefix, current string) (template.HTML, source.List) {
	var v Nav
	for _, sub := range r.site.Top.Folders {
		if !r.site.holds(sub, r.audience) {
			continue
		}
		link := NavLink{Link: Link{Title: sub.title(r.site, r.audience), Href: prefix + urlPath(path.Join(sub.Path, "index.html"))}}
		switch {
		case sub.Path == folder:
			link.Current = current
		case strings.HasPrefix(folder, sub.Path+"/"):
			link.Current = "true"
		}
		v.Links = append(v.Links, link)
	}
	return r.site.templates.Nav(v)
}

func placeAmong(at, of int) string { return fmt.Sprintf("%d of %d", at, of) }
