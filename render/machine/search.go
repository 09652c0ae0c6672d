package machine

import (
	"bytes"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"labsite/recipes/formulary"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/render/content"
	"labsite/render/search"
	"labsite/render/theme"
	"labsite/render/work"
	"labsite/render/write"
)

// NewSearch begins the search of a site as search.NewIndex does, with its script minified.
func NewSearch(language string, alike [][]string, put func(name string, b []byte)) *search.Index {
	x := search.NewIndex(language, alike, put)
	x.UseCode(searchCode())
	return x
}

// searchCode is the script of the search as published. It is an expression, so it is minified as the
// value of an assignment: alone, it would come out as a statement that cannot be called.
var searchCode = sync.OnceValue(func() string {
	const statement = "globalThis." + search.Name + "="
	code, ok := bytes.CutPrefix(theme.Slim("find.js", []byte(statement+search.Code())), []byte(statement))
	if !ok {
		return search.Code()
	}
	return "(" + string(bytes.TrimRight(code, ";\n")) + ")"
})

// Found lists what a search can find on a site: its pages, with the entries that entry returns,
// then what the program itself makes.
func Found(s *write.Site, entry func(p *content.Page) search.Entry, add func(search.Page)) {
	for _, p := range s.Content.Pages {
		if p.ShownTo(s.Audience) {
			add(search.Page{Address: content.URLPath(p.Address()), Title: p.Title(), Where: where(s, p), Use: useOf(p), Entry: entry(p)})
		}
	}
	for _, e := range s.BenchShown() {
		add(benchEntry(e))
	}
	if s.Audience == page.Staff {
		add(search.Page{Address: write.RegisterFile, Title: "Document register", Use: search.LookedUp})
	}
}

func useOf(p *content.Page) search.Use {
	if p.IsIndex() || p.Status() == page.Withdrawn {
		return search.Leads
	}
	return search.Read
}

// where is the title of the section that a page is in, or that its folder is in.
func where(s *write.Site, p *content.Page) string {
	if f := p.Folder; f.Index != p && f.Path != "" {
		return s.SectionTitle(f)
	} else if f.Parent != nil && f.Parent.Path != "" {
		return s.SectionTitle(f.Parent)
	}
	return ""
}

// benchEntry is the page of a bench formula, for the search.
func benchEntry(e *formulary.Entry) search.Page {
	out := search.Page{Address: content.URLPath(path.Join(write.BenchFolder, e.Name+".html")), Title: work.Words(e.Name), Where: "Bench formulas", Use: search.LookedUp}
	out.Passages = append(out.Passages, search.Passage{Field: search.Summary, Text: work.WithoutAmounts(e.Sentence)})
	var labels []string
	for _, p := range e.Params {
		labels = append(labels, p.Label)
	}
	if len(labels) > 0 {
		out.Passages = append(out.Passages, search.Passage{Field: search.Label, Text: work.WithoutAmounts("What goes in: " + strings.Join(labels, ", "))})
	}
	for _, text := range e.NotWhen {
		out.Passages = append(out.Passages, search.Passage{Field: search.Text, Text: work.WithoutAmounts(text)})
	}
	return out
}

// Passages are the texts that a page is found by. They hold none of its numbers, worked out or
// typed: a search shows a passage without the cautions that belong to it.
func Passages(full *work.Page) []search.Passage {
	if full.Sheet == nil || full.Texts == nil {
		return nil
	}
	f := &finder{page: full}
	if full.Status() == page.Withdrawn {
		f.add(search.Summary, "", "This page has been withdrawn.")
		f.add(search.Label, "", full.Sheet.Control.Number)
		return f.out
	}
	f.head()
	f.body()
	f.steps()
	f.captions()
	return f.out
}

// finder gathers the passages of a page.
type finder struct {
	page *work.Page
	out  []search.Passage
}

func (f *finder) add(field search.Field, anchor, text string) {
	if without := strings.TrimSpace(work.WithoutAmounts(text)); without != "" {
		f.out = append(f.out, search.Passage{Field: field, Anchor: anchor, Text: without, Ratios: ratiosIn(text)})
	}
}

// text adds the passages of a text, each after a lead-in.
func (f *finder) text(field search.Field, anchor, before string, x work.Text) {
	if x.Document == nil {
		return
	}
	for _, p := range x.Document.Passages() {
		f.add(field, anchor, before+p.Text)
	}
}

func (f *finder) labels(before, anchor string, labels []string) {
	if len(labels) > 0 {
		f.add(search.Label, anchor, before+strings.Join(labels, ", "))
	}
}

// head adds what stands above the text: summary, topics, the labels of values and results.
func (f *finder) head() {
	sh := f.page.Sheet
	f.add(search.Summary, "", sh.Summary)
	f.add(search.Label, "", strings.Join(sh.Topics, ", "))
	if sh.Control != nil {
		f.add(search.Label, "", "Document "+sh.Control.Number)
	}
	for _, b := range page.Blocks() {
		if b.Told != nil {
			f.labels(b.Title+": ", b.Anchor, b.Told(sh))
		}
	}
	if len(f.out) > 0 {
		// with the first passage, so that whoever searches for a dilution is led to the top, where
		// the hazards stand
		f.out[0].Ratios = append(f.out[0].Ratios, ratiosGiven(sh)...)
	}
	f.substances()
}

// substances adds what the page handles, for its hazards and for what to do after an accident.
func (f *finder) substances() {
	var names []string
	for _, x := range f.page.Sheet.Substances {
		if !hazard.IsCAS(x.Name) { // nobody searches for that
			names = append(names, x.Name)
		}
	}
	f.labels("Hazards: ", "Hazards", names)
	f.labels("First aid, spills, waste: ", "Aftercare", names)
}

// body adds the cautions, what to have ready, and the page's text.
func (f *finder) body() {
	texts := f.page.Texts
	for i, c := range f.page.Sheet.Cautions {
		f.text(search.Text, "Caution-"+c.Name, c.Word+": ", texts.Cautions[i])
	}
	for _, x := range slices.Concat(texts.Supplies, texts.Tools) {
		f.text(search.Text, "Have-ready", "", x)
	}
	for _, p := range f.page.Body.Passages() {
		field := search.Text
		if p.Heading {
			field = search.Heading
		}
		f.add(field, p.Anchor, p.Text)
	}
}

func (f *finder) steps() {
	for i, st := range f.page.Sheet.Steps {
		anchor, texts := "Step-"+strconv.Itoa(i+1), f.page.Texts.Steps[i]
		f.text(search.Text, anchor, "", texts.Do)
		f.text(search.Text, anchor, "", texts.Note)
		f.text(search.Text, anchor, "Agitate: ", texts.Agitate)
		if st.Own != nil {
			f.text(search.Text, anchor, st.Own.Word+": ", texts.Caution)
		}
	}
}

// captions adds the captions of tables and charts that the text places.
func (f *finder) captions() {
	sh, texts := f.page.Sheet, f.page.Texts
	for _, g := range sh.Grids {
		if texts.Placed[g.Name] {
			f.text(search.Label, "Table-"+g.Name, "", texts.Captions[g.Name])
		}
	}
	for _, c := range sh.Charts {
		if texts.Placed[c.Name] {
			f.text(search.Label, "Chart-"+c.Name, "", texts.Captions[c.Name])
		}
	}
}
