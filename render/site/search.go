package site

import (
	"path"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/formulary"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/render/search"
)

// Files of the search: what answers the box, and the entries, which the box loads when a
// reader first comes to it.
const (
	searchBox     = "search.js"
	searchEntries = "search-index.js"
)

// findable gives a page the search box and its script, and tells where the feed is. top is
// the way to the site's top.
func (r *renderer) findable(top string, v *Shell) {
	box, _ := r.site.templates.Search(Search{Index: top + searchEntries, Top: top}) // what is wrong with it was told when the theme was tried
	v.Search = box
	v.Scripts = append(v.Scripts, top+searchBox)
	v.Head = inHead(v.Head, r.feedLink(top))
}

// entries makes the search entries of the audience's pages.
func (r *renderer) entries() []byte {
	return search.Script(r.found(r.entry), r.site.Settings.Language)
}

// found lists what can be found: the audience's pages as entry gives them, then what the
// program itself makes.
func (r *renderer) found(entry func(*Topic) search.Page) (pages []search.Page) {
	for _, t := range r.site.Topics {
		if t.shownTo(r.audience) {
			pages = append(pages, entry(t))
		}
	}
	for _, e := range r.benchShown() {
		pages = append(pages, benchEntry(e))
	}
	if r.audience == sheet.Staff {
		pages = append(pages, search.Page{Address: registerFile, Title: "Document register"})
	}
	return pages
}

// where is the section that a page is found in, as readers know it.
func (r *renderer) where(t *Topic) string {
	if f := t.Folder; f.Index != t && f.Path != "" {
		return f.title(r.site, r.audience)
	} else if f.Parent != nil && f.Parent.Path != "" {
		return f.Parent.title(r.site, r.audience)
	}
	return ""
}

// benchShown lists the bench formulas that have a page on the audience's site.
func (r *renderer) benchShown() []*formulary.Entry {
	uses := r.benchUses()
	return slices.DeleteFunc(slices.Clone(r.site.Formulary.All()), func(e *formulary.Entry) bool {
		return r.audience != sheet.Staff && len(uses[e]) == 0
	})
}

// benchEntry is what the page of a bench formula is found by.
func benchEntry(e *formulary.Entry) search.Page {
	out := search.Page{Address: urlPath(path.Join(benchFolder, e.Name+".html")), Title: titleOf(e.Name), Where: "Bench formulas"}
	out.Passages = append(out.Passages, search.Passage{Field: search.Summary, Text: withoutAmounts(e.Sentence)})
	var labels []string
	for _, p := range e.Params {
		labels = append(labels, p.Label)
	}
	if len(labels) > 0 {
		out.Passages = append(out.Passages, search.Passage{Field: search.Label, Text: withoutAmounts("What goes in: " + strings.Join(labels, ", "))})
	}
	for _, text := range e.NotWhen {
		out.Passages = append(out.Passages, search.Passage{Field: search.Text, Text: withoutAmounts(text)})
	}
	return out
}

// entry is what one page is found by. No number of the page is in it, whether worked out
// or typed by hand: a search shows a passage without the cautions that belong to it. It
// reads nothing that rendering the page writes, since both happen at the same time.
func (r *renderer) entry(t *Topic) search.Page {
	sh := t.Sheet
	out := search.Page{Address: urlPath(t.Address()), Title: t.Title(), Where: r.where(t)}
	add := func(field search.Field, anchor, text string) {
		if text = strings.TrimSpace(withoutAmounts(text)); text != "" {
			out.Passages = append(out.Passages, search.Passage{Field: field, Anchor: anchor, Text: text})
		}
	}
	if t.Status() == sheet.Withdrawn {
		add(search.Summary, "", "This page has been withdrawn.")
		add(search.Label, "", sh.Control.Number)
		return out
	}
	add(search.Summary, "", sh.Summary)
	add(search.Label, "", strings.Join(sh.Topics, ", "))
	if sh.Control != nil {
		add(search.Label, "", "Document "+sh.Control.Number)
	}
	var given, figures []string
	for _, g := range sh.Given {
		if g.Label != "" && g.Settable() {
			given = append(given, g.Label)
		}
	}
	for _, f := range sh.Figures {
		if f.Label != "" {
			figures = append(figures, f.Label)
		}
	}
	list := func(head, anchor string, labels []string) {
		if len(labels) > 0 {
			add(search.Label, anchor, head+strings.Join(labels, ", "))
		}
	}
	list("Set these: ", "Given", given)
	list("You need: ", "Figures", figures)
	said := func(field search.Field, anchor, head string, x text) {
		if x.document == nil {
			return
		}
		for _, p := range x.document.Passages() {
			add(field, anchor, head+p.Text)
		}
	}
	b := t.values
	for i, c := range sh.Cautions {
		said(search.Text, "Caution-"+c.Name, c.Word+": ", b.cautions[i])
	}
	for _, x := range append(b.supplies[:len(b.supplies):len(b.supplies)], b.tools...) {
		said(search.Text, "Have-ready", "", x)
	}
	for _, p := range t.Body.Passages() {
		field := search.Text
		if p.Heading {
			field = search.Heading
		}
		add(field, p.Anchor, p.Text)
	}
	for i, st := range sh.Steps {
		anchor := "Step-" + strconv.Itoa(i+1)
		said(search.Text, anchor, "", b.steps[i].do)
		said(search.Text, anchor, "", b.steps[i].note)
		said(search.Text, anchor, "", b.steps[i].agitate)
		if st.Own != nil {
			said(search.Text, anchor, st.Own.Word+": ", b.steps[i].caution)
		}
	}
	for _, g := range sh.Grids {
		if b.placed[g.Name] {
			said(search.Label, "Table-"+g.Name, "", b.captions[g.Name])
		}
	}
	for _, c := range sh.Charts {
		if b.placed[c.Name] {
			said(search.Label, "Chart-"+c.Name, "", b.captions[c.Name])
		}
	}
	return out
}

// withoutAmounts puts an ellipsis for each quantity of a text.
func withoutAmounts(text string) string {
	var b strings.Builder
	at := 0
	for _, f := range quantity.Typed(text) {
		b.WriteString(text[at:f.Start])
		b.WriteString("…")
		at = f.End
	}
	b.WriteString(text[at:])
	return b.String()
}
