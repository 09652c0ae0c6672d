package machine_test

import (
	"encoding/xml"
	"fmt"
	"net/url"
	"strings"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
	"labsite/render/machine"
	"labsite/render/write"
)

// readFeed is what RFC 4287 allows in a feed, and nothing else: an element or attribute
// that is not here is an error.
type readFeed struct {
	XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Language string      `xml:"http://www.w3.org/XML/1998/namespace lang,attr"`
	ID       []string    `xml:"http://www.w3.org/2005/Atom id"`
	Title    []string    `xml:"http://www.w3.org/2005/Atom title"`
	Subtitle []string    `xml:"http://www.w3.org/2005/Atom subtitle"`
	Updated  []string    `xml:"http://www.w3.org/2005/Atom updated"`
	Authors  []readName  `xml:"http://www.w3.org/2005/Atom author"`
	Links    []readLink  `xml:"http://www.w3.org/2005/Atom link"`
	Entries  []readEntry `xml:"http://www.w3.org/2005/Atom entry"`
	Else     []anything  `xml:",any"`
	ElseAttr []xml.Attr  `xml:",any,attr"`
}

type readName struct {
	Name []string `xml:"http://www.w3.org/2005/Atom name"`
}

type readLink struct {
	Rel      string     `xml:"rel,attr"`
	Type     string     `xml:"type,attr"`
	Href     string     `xml:"href,attr"`
	ElseAttr []xml.Attr `xml:",any,attr"`
}

type readEntry struct {
	ID         []string   `xml:"http://www.w3.org/2005/Atom id"`
	Title      []string   `xml:"http://www.w3.org/2005/Atom title"`
	Updated    []string   `xml:"http://www.w3.org/2005/Atom updated"`
	Summary    []string   `xml:"http://www.w3.org/2005/Atom summary"`
	Content    []string   `xml:"http://www.w3.org/2005/Atom content"`
	Links      []readLink `xml:"http://www.w3.org/2005/Atom link"`
	Categories []struct {
		Term string `xml:"term,attr"`
	} `xml:"http://www.w3.org/2005/Atom category"`
	Else []anything `xml:",any"`
}

type anything struct {
	XMLName xml.Name
}

// checkFeed checks a feed by the rules of RFC 4287 that a reader depends on, each with its section.
func checkFeed(t *testing.T, raw []byte) readFeed {
	t.Helper()
	var f readFeed
	if err := xml.Unmarshal(raw, &f); err != nil {
		t.Fatalf("%v\n%s", err, raw)
	}
	one := func(what string, all []string) string {
		t.Helper()
		if len(all) != 1 || strings.TrimSpace(all[0]) == "" {
			t.Errorf("%s: %q, want exactly one", what, all)
			return ""
		}
		return all[0]
	}
	absolute := func(what, address string) {
		t.Helper()
		if u, err := url.Parse(address); err != nil || !u.IsAbs() || u.Host == "" {
			t.Errorf("%s is not an absolute IRI: %q", what, address)
		}
	}
	instant := func(what string, all []string) time.Time {
		t.Helper()
		at, err := time.Parse(time.RFC3339, one(what, all)) // 3.3
		if err != nil {
			t.Error(what, err)
		}
		return at
	}
	for _, x := range f.Else {
		t.Errorf("the feed has an element %v", x.XMLName)
	}
	for _, a := range f.ElseAttr {
		if a.Name.Local != "xmlns" {
			t.Errorf("the feed has an attribute %v", a.Name)
		}
	}
	absolute("the feed's id", one("the feed's id", f.ID)) // 4.1.1, 4.2.6
	one("the feed's title", f.Title)                      // 4.1.1
	newest := instant("the feed's updated", f.Updated)    // 4.1.1
	if len(f.Authors) != 1 {
		t.Errorf("%d authors; a feed must have one where not every entry has", len(f.Authors)) // 4.1.1
	} else {
		one("the author's name", f.Authors[0].Name) // 3.2.1
	}
	self := 0
	for _, l := range f.Links { // 4.2.7
		absolute("a link of the feed", l.Href)
		if l.Rel == "self" {
			self++
		}
	}
	if self != 1 {
		t.Errorf("%d links to the feed itself; there should be one", self) // 4.1.1
	}
	ids := map[string]bool{}
	for i, e := range f.Entries {
		id := one("an entry's id", e.ID) // 4.1.2
		absolute("an entry's id", id)
		if ids[id] {
			t.Errorf("two entries have the id %s", id) // 4.2.6
		}
		ids[id] = true
		one("an entry's title", e.Title) // 4.1.2
		at := instant("an entry's updated", e.Updated)
		if at.After(newest) {
			t.Errorf("an entry of %v is newer than the feed", at)
		}
		if i > 0 {
			before, _ := time.Parse(time.RFC3339, f.Entries[i-1].Updated[0])
			if at.After(before) {
				t.Errorf("entry %d is newer than the one before it", i+1)
			}
		}
		if len(e.Summary) > 1 || len(e.Content) > 1 { // 4.1.2
			t.Errorf("%s has %d summaries and %d contents", id, len(e.Summary), len(e.Content))
		}
		alternates := 0
		for _, l := range e.Links {
			absolute("an entry's link", l.Href)
			if l.Rel == "alternate" {
				alternates++
			}
		}
		if alternates != 1 { // 4.1.2: one of a type and language
			t.Errorf("%s has %d links to its page", id, alternates)
		}
		for _, c := range e.Categories {
			if c.Term == "" { // 4.2.2
				t.Errorf("%s has a category without a term", id)
			}
		}
		for _, x := range e.Else {
			t.Errorf("%s has an element %v", id, x.XMLName)
		}
	}
	return f
}

const controlledPage = `---
title: %TITLE%
audience: customers
summary: "Fill 500 ml & wait <five minutes>."
topics: [film]
control:
  number: %NUMBER%
  revision: 2
  status: approved
  approved_by: owner
  approved: 2026-01-02
  effective: %DATE%
  changes:
    1: The first.
    2: "Now 6 ml, not 5 ml: \"measured\" again."
%MORE%
---

Text.
`

func controlled(title, number, date, more string) string {
	return strings.NewReplacer("%TITLE%", title, "%NUMBER%", number, "%DATE%", date, "%MORE%", more).Replace(controlledPage)
}

func TestFeed(t *testing.T) {
	files := map[string]string{
		"labsite.yaml": "name: A & B\naddress: https://lab.example/kept\nlanguage: en-GB\n",
		"index.md":     "---\ntitle: Lab\naudience: customers\n---\n\nText.\n",
		"old.md":       controlled("Old <one>", "G-001", "2026-02-03", ""),
		"a b/new é.md": controlled("New", "G/Ü2", "2026-09-01", "substances: [pyrogallol]"),
		"plain.md":     "---\ntitle: Plain\naudience: customers\n---\n\nText.\n",
		"undated.md":   strings.Replace(controlled("Undated", "G-003", "X", ""), "  effective: X\n", "", 1),
	}
	f := checkFeed(t, buildtest.Sited(t, files, page.Customers)[write.FeedFile])
	var got []string
	for _, e := range f.Entries {
		got = append(got, e.Title[0]+" | "+e.Updated[0]+" | "+e.ID[0]+" | "+e.Links[0].Href+" | "+e.Summary[0]+" | "+e.Content[0])
	}
	want := []string{
		"New | 2026-09-01T00:00:00Z | https://lab.example/kept/changes.xml#G%2F%C3%9C2-revision-2 | https://lab.example/kept/a%20b/new%20%C3%A9.html | Fill … & wait <five minutes>. | G/Ü2, revision 2. Now …, not …: \"measured\" again.",
		"Old <one> | 2026-02-03T00:00:00Z | https://lab.example/kept/changes.xml#G-001-revision-2 | https://lab.example/kept/old.html | Fill 500 ml & wait <five minutes>. | G-001, revision 2. Now 6 ml, not 5 ml: \"measured\" again.",
		"Undated | 2026-01-02T00:00:00Z | https://lab.example/kept/changes.xml#G-003-revision-2 | https://lab.example/kept/undated.html | Fill 500 ml & wait <five minutes>. | G-003, revision 2. Now 6 ml, not 5 ml: \"measured\" again.",
	}
	for i := range max(len(got), len(want)) {
		g, w := "", ""
		if i < len(got) {
			g = got[i]
		}
		if i < len(want) {
			w = want[i]
		}
		if g != w {
			t.Errorf("entry %d is\n%s\nwant\n%s", i+1, g, w)
		}
	}
	if f.Language != "en-GB" || f.Updated[0] != "2026-09-01T00:00:00Z" {
		t.Errorf("language %q, updated %q", f.Language, f.Updated[0])
	}

	// A moved and renamed page keeps its id; a new revision has another.
	files["elsewhere.md"] = strings.Replace(files["old.md"], "Old", "Renamed", 1)
	delete(files, "old.md")
	files["undated.md"] = strings.Replace(files["undated.md"], "revision: 2", "revision: 3", 1)
	again := checkFeed(t, buildtest.Sited(t, files, page.Customers)[write.FeedFile])
	if again.Entries[1].ID[0] != f.Entries[1].ID[0] || again.Entries[1].Title[0] != "Renamed <one>" {
		t.Errorf("a page that was moved has the id %s", again.Entries[1].ID[0])
	}
	if again.Entries[2].ID[0] == f.Entries[2].ID[0] {
		t.Error("a new revision has the old id")
	}
}

func TestNoFeed(t *testing.T) {
	for name, files := range map[string]map[string]string{
		"no address":    {"index.md": controlled("A", "G-001", "2026-02-03", "")},
		"nothing in it": {"index.md": "---\ntitle: Lab\naudience: customers\n---\n\nText.\n", "labsite.yaml": "address: https://lab.example\n"},
	} {
		out := buildtest.Sited(t, files, page.Customers)
		if _, ok := out[write.FeedFile]; ok || strings.Contains(string(out["index.html"]), "atom+xml") {
			t.Errorf("%s: there is a feed, or a page tells of one", name)
		}
	}
}

// readMap is a site map by the protocol of sitemaps.org 0.9, from memory.
type readMap struct {
	XMLName   xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	Addresses []struct {
		Loc     []string   `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 loc"`
		LastMod []string   `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 lastmod"`
		Else    []anything `xml:",any"`
	} `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 url"`
	Else []anything `xml:",any"`
}

// checkMap checks a site map and returns its addresses with their days.
func checkMap(t *testing.T, raw []byte, address string) map[string]string {
	t.Helper()
	var m readMap
	if err := xml.Unmarshal(raw, &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Else) > 0 || len(m.Addresses) == 0 {
		t.Errorf("%d addresses, and %v", len(m.Addresses), m.Else)
	}
	out := map[string]string{}
	for _, a := range m.Addresses {
		if len(a.Loc) != 1 || len(a.LastMod) > 1 || len(a.Else) > 0 || !strings.HasPrefix(a.Loc[0], address) || len(a.Loc[0]) >= 2048 {
			t.Errorf("an address is %+v", a)
			continue
		}
		if _, again := out[a.Loc[0]]; again {
			t.Errorf("%s twice", a.Loc[0])
		}
		out[a.Loc[0]] = ""
		if len(a.LastMod) == 1 {
			if _, err := time.Parse(time.DateOnly, a.LastMod[0]); err != nil { // a W3C date
				t.Error(err)
			}
			out[a.Loc[0]] = a.LastMod[0]
		}
	}
	return out
}

// inForce is a page with document control that holds from a day.
func inForce(title, audience, status string, number int) string {
	return fmt.Sprintf("---\ntitle: %s\naudience: %s\ncontrol: {number: G-00%d, revision: 1, status: %s, owner: lead, approved_by: owner, approved: 2026-09-30, effective: 2026-10-01}\n---\n\nText.\n", title, audience, number, status)
}

func TestSiteMapAndRobots(t *testing.T) {
	texts := map[string]string{
		"labsite.yaml":    "name: Lab\naddress: https://lab.example/\n",
		"index.md":        "---\ntitle: Lab\naudience: customers\n---\n\nWelcome.\n",
		"open.md":         inForce("Open page", "customers", "approved", 1),
		"guides/a.md":     inForce("Guide", "customers", "approved", 2),
		"guides/own.md":   inForce("Our own", "staff", "approved", 3),
		"guides/draft.md": inForce("Draft", "customers", "draft", 4),
		"guides/gone.md":  inForce("Gone", "customers", "withdrawn", 5),
		"ours/index.md":   "---\ntitle: Ours\naudience: staff\n---\n\nText.\n",
		"ours/a.md":       inForce("In our folder", "customers", "approved", 6),
	}
	out := buildtest.Sited(t, texts, page.Customers)
	got := checkMap(t, out[machine.SiteMapFile], "https://lab.example/")
	want := map[string]string{"https://lab.example/index.html": "", "https://lab.example/open.html": "2026-10-01",
		"https://lab.example/guides/index.html": "", "https://lab.example/guides/a.html": "2026-10-01"}
	if len(got) != len(want) {
		t.Errorf("got %v", got)
	}
	for address, day := range want {
		if d, ok := got[address]; !ok || d != day {
			t.Errorf("%s: %q", address, d)
		}
		if file := strings.TrimPrefix(address, "https://lab.example/"); out[file] == nil {
			t.Errorf("%s is not a file of the site", file)
		} else if !strings.Contains(string(out[file]), `<link rel="canonical" href="`+address+`"`) {
			t.Errorf("%s does not call itself %s", file, address)
		}
	}
	if got := string(out[machine.RobotsFile]); got != "User-agent: *\nAllow: /\n\nSitemap: https://lab.example/sitemap.xml\n" {
		t.Errorf("robots.txt is %q", got)
	}
	staff := buildtest.Sited(t, texts, page.Staff)
	if string(staff[machine.RobotsFile]) != "User-agent: *\nDisallow: /\n" || staff[machine.SiteMapFile] != nil {
		t.Errorf("the staff's robots.txt is %q, its site map %q", staff[machine.RobotsFile], staff[machine.SiteMapFile])
	}
}

// TestDemoFeed checks the demo's feeds and site map by the same rules.
func TestDemoFeed(t *testing.T) {
	const top = "https://brindleweir.example/"
	for _, a := range []page.Audience{page.Customers, page.Staff} {
		out := buildtest.Demo(t, a)
		if f := checkFeed(t, out[write.FeedFile]); len(f.Entries) < 5 {
			t.Errorf("%s: %d entries", a, len(f.Entries))
		}
		if a == page.Customers {
			for address := range checkMap(t, out[machine.SiteMapFile], top) {
				if name, _ := url.PathUnescape(strings.TrimPrefix(address, top)); out[name] == nil {
					t.Errorf("%s is not a page", address)
				}
			}
		}
	}
}
