package site

import (
	"cmp"
	"encoding/xml"
	"html/template"
	"net/url"
	"slices"
	"time"

	"labsite/recipes/sheet"
)

// feedFile is the Atom feed (RFC 4287) of what changed.
const feedFile = "changes.xml"

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

// controlled lists the pages that the feed tells of, the newest first: those in force, with
// document control and a date from which they hold.
func (r *renderer) controlled() []*Topic {
	var out []*Topic
	for _, t := range r.site.Topics {
		if r.inFeed(t) {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b *Topic) int {
		return cmp.Or(since(b).Compare(since(a)), cmp.Compare(a.Sheet.Control.Number, b.Sheet.Control.Number), cmp.Compare(a.Path, b.Path))
	})
	return out
}

func (r *renderer) inFeed(t *Topic) bool {
	return t.shownTo(r.audience) && t.Status() == sheet.Approved && t.Sheet.Control != nil && !since(t).IsZero()
}

// since is the day from which a page's revision holds; where the page does not say, the
// day on which it was approved.
func since(t *Topic) time.Time {
	c := t.Sheet.Control
	if c.Effective.IsZero() {
		return c.Approved
	}
	return c.Effective
}

// feed writes the feed, nil where it would have no entry: RFC 4287 wants a date of the
// feed, and there is none then.
func (r *renderer) feed() []byte {
	topics := r.controlled()
	if len(topics) == 0 {
		return nil
	}
	s := r.site.Settings
	self := r.canonical(feedFile)
	v := atomFeed{Language: s.Language, ID: self, Title: s.Name + ": what changed", Subtitle: "Guides in force, the newest first", Author: s.Name,
		Updated: instant(since(topics[0])),
		Links: []atomLink{
			{"self", "application/atom+xml", self},
			{"alternate", "text/html", r.canonical("index.html")}}}
	for _, t := range topics {
		v.Entries = append(v.Entries, r.feedEntry(t, self))
	}
	return xmlFile(v)
}

// feedEntry tells of a page's present revision. Its id is made of the document's number
// and revision, so that it stays when the page is moved or named otherwise, and a new
// revision is news. A text in a feed stands without the page's cautions, so quantities
// typed into it are left out where the page has any, as in the search entries.
func (r *renderer) feedEntry(t *Topic, self string) atomEntry {
	c := t.Sheet.Control
	e := atomEntry{ID: self + "#" + url.PathEscape(c.Number) + "-revision-" + revision(c), Title: t.Title(), Updated: instant(since(t)),
		Links: []atomLink{{"alternate", "text/html", r.canonical(t.Address())}}, Summary: t.Sheet.Summary,
		Content: c.Number + ", revision " + revision(c) + "."}
	for _, topic := range t.Sheet.Topics {
		if topic != "" {
			e.Categories = append(e.Categories, atomCategory{topic})
		}
	}
	for _, change := range c.Changes {
		if change.Revision == c.Revision {
			e.Content += " " + change.Text
		}
	}
	if guarded(t) {
		e.Summary, e.Content = withoutAmounts(e.Summary), withoutAmounts(e.Content)
	}
	return e
}

// guarded tells whether a page handles something that can hurt: no amount of it is given
// anywhere without its cautions.
func guarded(t *Topic) bool {
	if d := t.state.digest; d != nil {
		return d.guarded // the page may not be held in full
	}
	sh := t.Sheet
	if len(sh.Cautions) > 0 || len(sh.AllCautions()) > 0 || len(sh.AllSubstances()) > 0 {
		return true
	}
	return slices.ContainsFunc(sh.Steps, func(st *sheet.Step) bool { return st.Own != nil || st.Caution >= 0 })
}

// instant is the start of a day as RFC 3339 writes it.
func instant(day time.Time) string { return day.UTC().Format(time.RFC3339) }

// feedLink tells of the feed in a page's head.
func (r *renderer) feedLink(top string) template.HTML {
	if r.site.Settings.Address == "" || !slices.ContainsFunc(r.site.Topics, r.inFeed) {
		return ""
	}
	return template.HTML(`<link rel="alternate" type="application/atom+xml" title="What changed" href="` + template.HTMLEscapeString(top+feedFile) + `">`)
}
