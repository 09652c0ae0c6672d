package machine

import (
	"cmp"
	"encoding/xml"
	"net/url"
	"slices"
	"time"

	"labsite/recipes/page"
	"labsite/render/content"
	"labsite/render/work"
	"labsite/render/write"
)

type atomFeed struct {
	XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Language string      `xml:"xml:lang,attr,omitempty"`
	ID       string      `xml:"id"`
	Title    string      `xml:"title"`
	Subtitle string      `xml:"subtitle"`
	Updated  string      `xml:"updated"`
	Author   string      `xml:"author>name"`
	Links    []atomLink  `xml:"link"`
	Entries  []atomEntry `xml:"entry"`
}

type atomLink struct {
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr"`
	Href string `xml:"href,attr"`
}

type atomEntry struct {
	ID         string         `xml:"id"`
	Title      string         `xml:"title"`
	Updated    string         `xml:"updated"`
	Links      []atomLink     `xml:"link"`
	Categories []atomCategory `xml:"category"`
	Summary    string         `xml:"summary,omitempty"`
	Content    string         `xml:"content,omitempty"`
}

type atomCategory struct {
	Term string `xml:"term,attr"`
}

// controlled lists the pages of the feed, the newest first: those in force, with document control
// and a date from which they hold.
func controlled(s *write.Site) []*content.Page {
	var out []*content.Page
	for _, p := range s.Content.Pages {
		if inFeed(s.Audience, p) {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b *content.Page) int {
		return cmp.Or(b.Since().Compare(a.Since()), cmp.Compare(a.Head.Control.Number, b.Head.Control.Number), cmp.Compare(a.Path, b.Path))
	})
	return out
}

func inFeed(a page.Audience, p *content.Page) bool {
	return p.ShownTo(a) && p.Status() == page.Approved && p.Head.Control != nil && !p.Since().IsZero()
}

// Feed writes the Atom feed (RFC 4287) of what changed, nil if it would have no entry: RFC 4287
// requires a date for the feed, and without entries there is none.
func Feed(s *write.Site) []byte {
	pages := controlled(s)
	if len(pages) == 0 {
		return nil
	}
	self := s.Canonical(write.FeedFile)
	v := atomFeed{Language: s.Content.Settings.Language, ID: self, Title: s.Content.Settings.Name + ": what changed", Subtitle: "Guides in force, the newest first", Author: s.Content.Settings.Name,
		Updated: instant(pages[0].Since()),
		Links: []atomLink{
			{"self", "application/atom+xml", self},
			{"alternate", "text/html", s.Canonical("index.html")}}}
	for _, p := range pages {
		v.Entries = append(v.Entries, feedEntry(s, p, self))
	}
	return xmlFile(v)
}

// feedEntry describes a page's present revision. Its id is made of the document's number and
// revision, so that it stays when the page is moved or renamed, and a new revision is news. A text
// in a feed comes without the page's cautions, so if the page has any, quantities typed into the
// text are left out, as in search entries.
func feedEntry(s *write.Site, p *content.Page, self string) atomEntry {
	c := p.Head.Control
	e := atomEntry{ID: self + "#" + url.PathEscape(c.Number) + "-revision-" + write.Revision(c), Title: p.Title(), Updated: instant(p.Since()),
		Links: []atomLink{{"alternate", "text/html", s.Canonical(p.Address())}}, Summary: p.Head.Summary,
		Content: c.Number + ", revision " + write.Revision(c) + "."}
	for _, topic := range p.Head.Topics {
		if topic != "" {
			e.Categories = append(e.Categories, atomCategory{topic})
		}
	}
	for _, change := range c.Changes {
		if change.Revision == c.Revision {
			e.Content += " " + change.Text
		}
	}
	if s.Listed(p).Guarded {
		e.Summary, e.Content = work.WithoutAmounts(e.Summary), work.WithoutAmounts(e.Content)
	}
	return e
}

// instant is the start of a day in the form of RFC 3339.
func instant(day time.Time) string { return day.UTC().Format(time.RFC3339) }

// HasFeed reports whether a site of the content has a feed.
func HasFeed(c *content.Content, a page.Audience) bool {
	return c.Settings.Address != "" && slices.ContainsFunc(c.Pages, func(p *content.Page) bool { return inFeed(a, p) })
}
