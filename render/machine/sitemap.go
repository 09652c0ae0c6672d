package machine

import (
	"cmp"
	"encoding/xml"
	"path"
	"slices"
	"strconv"
	"time"

	"labsite/recipes/page"
	"labsite/render/write"
)

// What search engines ask for: sitemap.xml (the protocol of sitemaps.org, version 0.9) and
// robots.txt (RFC 9309).
const (
	SiteMapFile = "sitemap.xml"
	RobotsFile  = "robots.txt"
)

// mostAddresses is how many addresses the protocol allows in a site map.
const mostAddresses = 50000

type siteMap struct {
	XMLName   xml.Name      `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	Addresses []siteAddress `xml:"url"`
}

type siteAddress struct {
	Address string `xml:"loc"`
	Changed string `xml:"lastmod,omitempty"`
}

// siteMapIndex lists the maps of a site that needs more than one.
type siteMapIndex struct {
	XMLName xml.Name      `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 sitemapindex"`
	Maps    []siteAddress `xml:"sitemap"`
}

// SiteMaps lists the pages in force with the days from which they hold. The staff's site
// has none: it is not for search engines.
func SiteMaps(s *write.Site) map[string][]byte {
	all := map[string]time.Time{}
	for _, f := range s.Content.Folders() {
		if f.ShownTo(s.Audience) {
			all[path.Join(f.Path, "index.html")] = time.Time{}
		}
	}
	for _, t := range s.Content.Pages {
		if t.ShownTo(s.Audience) && t.Status() == page.Approved {
			var day time.Time
			if t.Head.Control != nil {
				day = t.Since()
			}
			all[t.Address()] = day
		}
	}
	for i, e := range s.BenchShown() {
		all[path.Join(write.BenchFolder, e.Name+".html")] = time.Time{}
		if i == 0 {
			all[path.Join(write.BenchFolder, "index.html")] = time.Time{}
		}
	}
	var addresses []siteAddress
	for name, day := range all {
		a := siteAddress{Address: s.Canonical(name)}
		if !day.IsZero() {
			a.Changed = day.Format(time.DateOnly)
		}
		addresses = append(addresses, a)
	}
	slices.SortFunc(addresses, func(a, b siteAddress) int { return cmp.Compare(a.Address, b.Address) })
	if len(addresses) <= mostAddresses {
		return map[string][]byte{SiteMapFile: xmlFile(siteMap{Addresses: addresses})}
	}
	out := map[string][]byte{}
	var index siteMapIndex
	for part := range slices.Chunk(addresses, mostAddresses) {
		name := "sitemap-" + strconv.Itoa(len(index.Maps)+1) + ".xml"
		out[name] = xmlFile(siteMap{Addresses: part})
		index.Maps = append(index.Maps, siteAddress{Address: s.Canonical(name)})
	}
	out[SiteMapFile] = xmlFile(index)
	return out
}

// xmlFile writes a value made of strings alone, which cannot fail.
func xmlFile(v any) []byte {
	b, _ := xml.MarshalIndent(v, "", " ")
	return append([]byte(xml.Header), append(b, '\n')...)
}

// Robots lets everybody read the customers' site, and asks search engines to leave the staff's
// alone. It is a request and protects nothing. Search engines look for it only at the top of a
// host, so on a site in a folder it has no effect.
func Robots(s *write.Site) []byte {
	if s.Audience == page.Staff {
		return []byte("User-agent: *\nDisallow: /\n")
	}
	out := "User-agent: *\nAllow: /\n"
	if s.Content.Settings.Address != "" {
		out += "\nSitemap: " + s.Canonical(SiteMapFile) + "\n"
	}
	return []byte(out)
}
