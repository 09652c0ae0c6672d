package record

import (
	"context"
	"path"
	"slices"
	"strings"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/record"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
	"labsite/render/work"
	"labsite/render/write"
)

// Entry is a record that agrees with its page.
type Entry struct {
	// Page is the page's path, File the one that it keeps its records in.
	Page string `json:"page"`
	File string `json:"file"`
	Made string `json:"made"`
	// Open lists what is missing for the record to be finished.
	Open []string `json:"unfinished"`
	// Line is where it was put; Finished says that it replaced the unfinished row of the same run.
	Line     int  `json:"line"`
	Finished bool `json:"finished"`

	heads, cells []string
	at           source.Span
	made         time.Time
}

// Open reads a content folder to record something done by one of its pages.
func Open(ctx context.Context, dir string, day time.Time) (*build.Site, source.List) {
	return build.Open(ctx, dir, build.Options{Day: day, Unwritten: true})
}

// Verifier works records out again with the pages of one folder.
type Verifier struct {
	site *build.Site
	desk *work.Desk
}

// NewVerifier returns a verifier for one run of the program.
func NewVerifier(site *build.Site) *Verifier { return &Verifier{site, site.Desk()} }

// Verify compares a record with its page. typed says that somebody is typing it now, so that
// settings and figures that it leaves out are the page's own. The entry is nil if the list has an
// error.
func (v *Verifier) Verify(r *record.Record, typed bool) (*Entry, source.List) {
	x := &verifying{Verifier: v, record: r, typed: typed}
	if !x.findPage() || !x.make() {
		return nil, x.list
	}
	x.set()
	if x.list.Errors() > 0 {
		return nil, x.list
	}
	x.run.Work()
	if why, refused := x.refusal(); refused {
		x.report(source.RecordRefused(x.name, why), r.At)
		return nil, x.list
	}
	shown := x.figures()
	x.steps()
	if x.list.Errors() > 0 {
		return nil, x.list
	}
	return x.entry(shown), x.list
}

// verifying is the work on one record.
type verifying struct {
	*Verifier
	record *record.Record
	typed  bool
	list   source.List

	page *content.Page
	name string // of the page in the content folder
	full *work.Page
	run  *prove.Case
}

func (x *verifying) report(p source.Problem, at source.Span) { x.list = append(x.list, p.At(at)) }

// findPage finds the page as it was in the record's revision.
func (x *verifying) findPage() bool {
	r, c := x.record, x.site.Content
	if lab := c.Settings.Name; r.Lab.Value != "" && r.Lab.Value != lab {
		x.report(source.RecordOtherLab(r.Lab.Value, lab), r.Lab.Span)
		return false
	}
	p := c.Page(path.Clean(r.Page.Value) + ".md")
	if p == nil || p.Head == nil {
		var all []string
		for _, p := range c.Pages {
			all = append(all, strings.TrimSuffix(p.Path, ".md"))
		}
		x.report(source.RecordNoPage(r.Page.Value, source.Nearest(r.Page.Value, all)), r.Page.Span)
		return false
	}
	x.page, x.name = p, p.Path
	number, revision := "", 0
	if k := p.Head.Control; k != nil {
		number, revision = k.Number, k.Revision
	}
	switch {
	case number != r.Number.Value:
		x.report(source.RecordOtherNumber(p.Path, number, r.Number.Value), r.Number.Span)
		return false
	case revision == r.Revision:
		return true
	}
	if kept, _ := c.Record(number, r.Revision); kept != nil {
		if old := c.Printed(number, r.Revision); old != nil {
			x.page = old
			return true
		}
	}
	x.report(source.RecordOtherRevision(p.Path, r.Revision, revision), r.At)
	return false
}

// make works the page out, and reports its errors as a check would.
func (x *verifying) make() bool {
	x.full = x.desk.Make(x.page)
	if !x.full.Trusted() || x.full.Proof == nil {
		for _, d := range x.site.PageList(x.desk, x.page) {
			if d.Severity == source.Error {
				x.list = append(x.list, d)
			}
		}
		if x.list.Errors() == 0 && !x.desk.Ended() {
			x.report(source.RecordRefused(x.name, "it, or something that it depends on, has errors"), x.record.At)
		}
		return false
	}
	if x.full.Sheet.Keeps == nil {
		x.report(source.RecordKeepsNone(x.name), x.record.At)
		return false
	}
	return true
}

// set sets the page to the record's values.
func (x *verifying) set() {
	sheet := x.full.Sheet
	x.run = prove.NewBlank(sheet)
	for _, g := range sheet.Given {
		if g.Today && !g.Settable() {
			y, m, d := x.record.Made.Date()
			x.run.Set(g, float64(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()))
		}
	}
	named := map[string]bool{}
	x.take(x.record.Settings, false, named)
	x.take(x.record.Readings, true, named)
	for _, g := range sheet.Given {
		switch {
		case !g.Settable() || named[g.Name]:
		case g.Reading:
			x.report(source.RecordWants("reading", g.Name), x.record.At)
		case !x.typed:
			x.report(source.RecordWants("setting", g.Name), x.record.At)
		}
	}
}

func (x *verifying) take(values []record.Named, readings bool, named map[string]bool) {
	kind := "setting"
	if readings {
		kind = "reading"
	}
	for _, n := range values {
		g := x.full.Sheet.GivenNamed(n.Name)
		if g == nil || !g.Settable() || g.Reading != readings && !x.typed {
			var all []string
			for _, g := range x.full.Sheet.Given {
				if g.Settable() && (g.Reading == readings || x.typed) {
					all = append(all, g.Name)
				}
			}
			x.report(source.RecordUnknown(kind, n.Name, x.name, source.Nearest(n.Name, all)), n.Span)
			continue
		}
		named[n.Name] = true
		base, trouble := g.Set(n.Value)
		if trouble != nil {
			x.report(source.RecordValue(n.Name, trouble.Message, trouble.Hint), n.Span)
			continue
		}
		x.run.Set(g, base)
	}
}

// refusal says why the page has no numbers at the record's values.
func (x *verifying) refusal() (string, bool) {
	for _, l := range write.LimitTexts(x.desk, x.run) {
		if l.Kind == "refused" {
			return l.Text, true
		}
	}
	for _, f := range x.run.Failed {
		if f.Figure != nil {
			return f.Figure.Name + " is not a finite number", true
		}
	}
	for _, f := range x.full.Sheet.Figures {
		if f.Label != "" && x.run.Missing(f.Slot) {
			return f.Name + ": " + x.run.Shown(f).Text, true
		}
	}
	return "", x.run.Refused()
}

// figures compares the labelled figures with the record, and returns them as they are shown.
func (x *verifying) figures() map[string]string {
	sheet := x.full.Sheet
	shown, said := map[string]string{}, map[string]record.Named{}
	for _, n := range x.record.Figures {
		said[n.Name] = n
		if f := sheet.Figure(n.Name); f == nil || f.Label == "" {
			x.report(source.RecordUnknown("figure", n.Name, x.name, ""), n.Span)
		}
	}
	settable := slices.ContainsFunc(sheet.Given, (*page.Given).Settable)
	for _, f := range sheet.Figures {
		if f.Label == "" {
			continue
		}
		written := x.run.Shown(f)
		now := written.Machine()
		n, is := said[f.Name]
		is = is && n.Value != written.Text // a date as the page writes it
		if _, named := said[f.Name]; named && !is {
			shown[f.Name] = now
			continue
		}
		switch {
		case !is && !x.typed && settable:
			x.report(source.RecordFigure(f.Name, "", now, x.record.Revision), x.record.At)
		case is && !same(n.Value, now) && x.moving(f) && sameKind(n.Value, now):
			now = n.Value // as the page was on that day, with the records kept by then
		case is && !same(n.Value, now):
			x.report(source.RecordFigure(f.Name, n.Value, now, x.record.Revision), n.Span)
		}
		shown[f.Name] = now
	}
	return shown
}

// moving reports whether a figure depends on the records kept so far, or on the day through a page
// drawn on: the reader's page may have had other ones.
func (x *verifying) moving(f *page.Figure) bool {
	sheet := x.full.Sheet
	daySlot, _, _ := sheet.Day()
	own := slices.ContainsFunc(sheet.Given, func(g *page.Given) bool { return g.Today && g.Slot == daySlot })
	return sheet.DependsOnKept(f.Node) || !own && sheet.DependsOnToday(f.Node)
}

// same reports whether two texts are the same value.
func same(a, b string) bool {
	if a == b {
		return true
	}
	x, ta := quantity.Parse(a)
	y, tb := quantity.Parse(b)
	return ta == nil && tb == nil && x.Kind == y.Kind && quantity.Equal(x.Base, y.Base)
}

func sameKind(a, b string) bool {
	x, ta := quantity.Parse(a)
	y, tb := quantity.Parse(b)
	return ta == nil && tb == nil && x.Kind == y.Kind
}

// steps compares the steps of a record with the page's. A record without steps was made without a
// run sheet, from the page's readings alone.
func (x *verifying) steps() {
	done, wants := x.record.Steps, x.full.Sheet.Steps
	if len(done) == 0 {
		return
	}
	if len(done) != len(wants) {
		x.report(source.RecordSteps(wrongCount(len(done), len(wants))), x.record.At)
		return
	}
	rows, _, fine := x.run.Process()
	for i, s := range done {
		want := wants[i]
		plain := !strings.ContainsAny(want.Do.Text, "{*_`[\\<&~")
		length := -1.0
		if fine && rows[i].HasTime {
			length = rows[i].Length
		}
		switch {
		case plain && s.Do.Value != strings.Join(strings.Fields(want.Do.Text), " "):
			x.report(source.RecordSteps("the record has the step "+s.Do.Value+" where the page has "+want.Do.Text), s.Do.Span)
		case s.Hold != want.Hold:
			x.report(source.RecordSteps(s.Do.Value+" is held by "+orNobody(s.Hold)+" in the record, and by "+orNobody(want.Hold)+" on the page"), s.At)
		case s.Planned-length > 0.5 || length-s.Planned > 0.5:
			x.report(source.RecordSteps(s.Do.Value+" has a different time in the record than on the page"), s.At)
		}
	}
}
