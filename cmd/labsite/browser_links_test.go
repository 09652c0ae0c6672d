//go:build browser

package main

import (
	"fmt"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// outline is what the check of links needs to know about a page.
type outline struct {
	IDs   []string
	Links []link
}

type link struct {
	Element string // "a", "img"
	Rel     string // of a link element
	Address string // as written
}

// readOutline reads it from the open page, so that what scripts have made is checked too.
func readOutline(t *testing.T, tab *tab) outline {
	return ask[outline](t, tab, `(() => {
		const links = [];
		for (const e of document.querySelectorAll('*'))
			for (const a of ['href', 'src', 'data', 'action', 'poster', 'srcset', 'xlink:href']) {
				if (!e.hasAttribute(a)) continue;
				const values = a === 'srcset' ? e.getAttribute(a).split(',').map(v => v.trim().split(/\s/)[0]) : [e.getAttribute(a)];
				for (const v of values) links.push({Element: e.localName, Rel: e.getAttribute('rel') || '', Address: v});
			}
		const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
		return {IDs: ids, Links: links};
	})()`)
}

// faultsOfLinks follows every link on disk. A link to a folder is a fault, since without a server
// nothing adds index.html. So is a page that no chain of links from the front page reaches, except
// the one for missing pages.
func faultsOfLinks(dir string, names []string, outlines []outline) (faults []fault) {
	reached := map[string]bool{"index.html": true}
	leads := map[string][]string{}
	for i, s := range outlines {
		for _, l := range s.Links {
			add := func(format string, args ...any) {
				faults = append(faults, fault{page: names[i], text: fmt.Sprintf("<%s> %s: ", l.Element, l.Address) + fmt.Sprintf(format, args...)})
			}
			u, err := url.Parse(l.Address)
			switch {
			case err != nil:
				add("%v", err)
				continue
			case u.Scheme == "data":
				continue
			case u.Scheme != "" || u.Host != "":
				if !leadsOut(l, u) {
					add("points outside the site")
				}
				continue
			}
			to := names[i]
			if u.Path != "" {
				top := strings.HasPrefix(u.Path, "/")
				if top && names[i] != missingPage {
					add("starts at the top of the server, which a disk does not have")
					continue
				}
				to = path.Join(path.Dir(names[i]), u.Path)
				if top {
					to = strings.TrimPrefix(path.Clean(u.Path), "/")
				} else if names[i] == missingPage {
					add("goes from where the page stands, but it is shown at any address")
				}
			}
			if !filepath.IsLocal(filepath.FromSlash(to)) {
				add("leads out of the folder")
				continue
			}
			info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(to)))
			switch {
			case err != nil:
				add("there is no such file")
				continue
			case info.IsDir():
				add("is a folder; from a disk it opens no page")
				continue
			}
			leads[names[i]] = append(leads[names[i]], to)
			if u.Fragment == "" || u.Fragment == "top" {
				continue
			}
			if at := slices.Index(names, to); at >= 0 && !slices.Contains(outlines[at].IDs, u.Fragment) {
				add("there is no place %q in %s", u.Fragment, to)
			}
		}
	}
	for queue := []string{"index.html"}; len(queue) > 0; queue = queue[1:] {
		for _, to := range leads[queue[0]] {
			if !reached[to] {
				reached[to] = true
				queue = append(queue, to)
			}
		}
	}
	for _, n := range names {
		if !reached[n] && n != missingPage {
			faults = append(faults, fault{page: n, text: "no link leads here from index.html"})
		}
	}
	return faults
}

// missingPage is the page that servers show for an address that does not exist. So only its links
// begin at the top of the server, and all of them do.
const missingPage = "missing.html"

// leadsOut reports whether a link may point outside: it is for a person to follow, or only names an
// address, and nothing is loaded from there.
func leadsOut(l link, u *url.URL) bool {
	switch u.Scheme {
	case "http", "https":
		return u.Host != "" && (l.Element == "a" || l.Element == "area" || l.Element == "link" && (l.Rel == "canonical" || l.Rel == "license"))
	case "mailto", "tel":
		return l.Element == "a" || l.Element == "area"
	}
	return false
}
