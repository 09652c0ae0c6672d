package write

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/highlight"
	"labsite/render/markdown"
	"labsite/render/theme"
	"labsite/render/work"
)

// page fills the view of a page at its own values.
func (w *Writer) page(of *work.Page) (theme.Instruction, source.List) {
	p := w.pager(of)
	var v theme.Instruction
	w.shell(of.Folder.Path, &v.Shell)
	sh := of.Sheet
	v.Title = sh.Title
	v.Summary = sh.Summary
	v.Description = sh.Summary
	v.Staff = of.Staff()
	v.Topics = sh.Topics
	v.Trail = w.trail(of.Folder, of.IsIndex())
	v.Canonical = w.Canonical(of.Address())
	if v.Control = w.control(of.Page); v.Control != nil {
		p.changed(v.Control)
		v.Number, v.Revision = v.Control.Number, v.Control.Revision
		if of.Status() == page.Draft {
			v.Preview = "This page is a draft."
		}
	}
	for _, row := range p.givenView().Settable() {
		v.SetTo = append(v.SetTo, theme.Setting{Name: row.Name, Label: row.Label, Value: row.Value})
	}
	top := p.cautionsAtTop()
	if h := p.hazardView(); h != nil {
		v.Hazards = p.collect(w.Theme.Hazards(*h))
		v.Aftercare = p.collect(w.Theme.Aftercare(*h))
	}
	v.Papers = papers(of)
	if len(sh.Steps) > 0 {
		v.Onward = append(v.Onward, theme.Link{Title: "Step by step", Href: "#Steps"})
	}
	v.Onward = append(v.Onward, v.Papers...)
	v.Cautions = p.cautions(top, sh.AllCautions()...)
	v.Panel = p.unplaced(page.AtNumbers)
	v.Process = p.unplaced(page.AfterNumbers)
	for _, x := range p.texts.Supplies {
		v.Supplies = append(v.Supplies, p.filler.html(x, markdown.RenderOptions{}))
	}
	for _, x := range p.texts.Tools {
		v.Tools = append(v.Tools, p.filler.html(x, markdown.RenderOptions{}))
	}
	v.Body = p.filler.html(p.texts.Body, markdown.RenderOptions{Anchors: true, RawHTML: w.rawHTML(), HighlightCode: highlight.Code, Lines: w.Preview})
	v.Basis = p.unplaced(page.AfterText)
	v.Contents = contents(of)
	if len(sh.Figures) > 0 || len(sh.Cautions) > 0 || len(sh.Substances) > 0 {
		v.Notice = p.notice()
	}
	v.Straight = p.skipLinks(v.Hazards != "" || v.Cautions != "")
	v.Head = inHead(v.Head, p.howTo(v.Canonical))
	v.Recall = p.recall()
	p.linkScripts(&v.Shell)
	if p.texts.Placed["report"] {
		v.Scripts = append(v.Scripts, content.Up(of.Folder.Path)+theme.ReportFile)
	}
	if v.Record = p.record(); v.Record != nil && v.Record.Keeps {
		v.Scripts = append(v.Scripts, content.Up(of.Folder.Path)+theme.AskFile)
	}
	return v, p.list
}

// record is what records made on this page say about it; nil if the page makes none.
func (p *pager) record() *theme.Record {
	sh := p.page.Sheet
	if p.page.Proof == nil || len(sh.Steps) == 0 && sh.Keeps == nil {
		return nil
	}
	r := &theme.Record{Lab: p.Content.Settings.Name, Page: strings.TrimSuffix(content.Outside(p.page.Path), ".md"), Keeps: sh.Keeps != nil}
	if c := sh.Control; c != nil {
		r.Number, r.Revision = c.Number, c.Revision
	}
	return r
}

// fewestHeadings is how many headings a page must have to get a list of its contents, and
// deepestListed the lowest level of heading in that list.
const (
	fewestHeadings = 4
	deepestListed  = 3
)

// contents lists a page's headings; nil if there are few.
func contents(page *work.Page) (out []theme.Heading) {
	headings := page.Body.Headings()
	if len(headings) < fewestHeadings {
		return nil
	}
	for _, h := range headings {
		if h.Level <= deepestListed {
			out = append(out, theme.Heading{Anchor: h.ID, Title: escaped(h.Text), Level: h.Level})
		}
	}
	return out
}

// skipLinks lead past the hazards and cautions to the controls, the results and the steps. There are
// none if nothing stands above these.
func (p *pager) skipLinks(covered bool) []theme.Link {
	var out []theme.Link
	for _, b := range page.Blocks() {
		if !b.Main || !b.Has(p.page.Sheet) || b.Name == "given" && !p.page.Settable() {
			continue
		}
		covered = covered || p.texts.Placed[b.Name]
		out = append(out, theme.Link{Title: b.Title, Href: "#" + b.Anchor})
	}
	if !covered {
		return nil
	}
	return out
}

// pager makes the pager that writes a page at its own values.
func (w *Writer) pager(of *work.Page) *pager {
	p := &pager{Writer: w, page: of, texts: of.Texts, seen: map[string]bool{}}
	run := prove.NewCase(of.Sheet)
	if of.Proof != nil {
		run = of.Proof.Own
	}
	p.filler = &filler{page: of, run: run, block: p.block, caution: p.cautionAt, grid: p.grid, chart: p.chart, href: content.SiteHref, size: p.size, mark: p.marks(mark, ""), asOf: p.asOf}
	return p
}

// hazardView is what GHS says of the page's substances, nil if it names none.
func (p *pager) hazardView() *theme.Hazards {
	used := uses(p.page.Sheet)
	if len(used) == 0 {
		return nil
	}
	v := hazardsOf(hazard.BlockFor(used, p.Content.Substances), p.notice(), p.sees("reviewer"))
	return &v
}

// pager writes the parts of one page.
type pager struct {
	*Writer
	page   *work.Page
	texts  *work.Texts
	filler *filler
	list   source.List
	seen   map[string]bool // cautions that already stand on the page
	rows   *theme.Given    // what givenView made
}

func (p *pager) collect(h template.HTML, l source.List) template.HTML {
	p.list = append(p.list, l...)
	return h
}

// noticeText is the standing notice, the lab's own or the built-in one.
func (s *Site) noticeText() string { return cmp.Or(s.Content.Settings.Notice, hazard.StandingNotice()) }

// cautionsAtTop lists the cautions that stand above the page's text: those that the text does not
// place, and those that it places only after a number.
func (p *pager) cautionsAtTop() []int {
	sh := p.page.Sheet
	numberBefore := p.numbersFirst()
	early := map[int]bool{}
	for _, x := range p.texts.Body.Bound {
		if numberBefore {
			break
		}
		switch {
		case x.Kind == work.PlacesCaution:
			early[x.Caution] = true
		case x.Kind == work.PlacesBlock && x.Block.Name == "cautions":
			for i := range sh.Cautions {
				early[i] = true
			}
		}
		numberBefore = numberBefore || x.Number()
	}
	var out []int
	for i := range sh.Cautions {
		if !early[i] {
			out = append(out, i)
		}
	}
	return out
}

// allCautions makes all of the page's own cautions.
func (p *pager) allCautions() template.HTML {
	var all []int
	for i := range p.page.Sheet.Cautions {
		all = append(all, i)
	}
	return p.cautions(all)
}

func (p *pager) cautionAt(i int) template.HTML { return p.cautions([]int{i}) }

// cautions makes cautions of the page, and those of pages drawn on. One that already stands on the
// page is recalled by its first words, unless it places an amount.
func (p *pager) cautions(which []int, used ...page.UsedCaution) template.HTML {
	var views []theme.Caution
	for _, i := range which {
		c := p.page.Sheet.Cautions[i]
		v := theme.Caution{Name: c.Name, Word: c.Word, Text: p.filler.html(p.texts.Cautions[i], markdown.RenderOptions{})}
		if p.seen[c.Name] {
			v.Name = ""
			if !p.texts.Cautions[i].Number() {
				v.Above, v.Text = "#Caution-"+c.Name, firstWords(v.Text)
			}
		}
		p.seen[c.Name] = true
		views = append(views, v)
	}
	if len(views) == 0 && len(used) == 0 {
		return ""
	}
	for _, c := range used {
		views = append(views, p.usedCaution(c))
	}
	return p.collect(p.Theme.Cautions(inOrder(views)))
}

func (p *pager) usedCaution(u page.UsedCaution) theme.Caution {
	return theme.Caution{Word: u.Caution().Word, Text: p.elsewhere(prove.CautionCase(u, p.filler.run), u.Caution().Text), From: p.linkTo(u.From)}
}

// inOrder puts the gravest signal words first, and otherwise keeps the order. A caution of a page
// drawn on is left out if the same words already stand there.
func inOrder(views []theme.Caution) []theme.Caution {
	said := map[[2]string]bool{}
	views = slices.DeleteFunc(views, func(c theme.Caution) bool {
		key := [2]string{c.Word, string(c.Text)}
		again := said[key] && c.From != nil
		said[key] = true
		return again
	})
	rank := func(c theme.Caution) int {
		if i := slices.Index(page.SignalWords, c.Word); i >= 0 {
			return i
		}
		return len(page.SignalWords)
	}
	slices.SortStableFunc(views, func(a, b theme.Caution) int { return cmp.Compare(rank(a), rank(b)) })
	return views
}

func (p *pager) given() template.HTML { return p.collect(p.Theme.Given(p.givenView())) }

// givenView is made once for a page, which needs it in several places.
func (p *pager) givenView() theme.Given {
	if p.rows == nil {
		v := p.makeGivenView()
		p.rows = &v
	}
	return *p.rows
}

func (p *pager) makeGivenView() theme.Given {
	v := theme.Given{Rows: make([]theme.GivenRow, 0, len(p.page.Sheet.Given))}
	for _, g := range p.page.Sheet.Given {
		row := theme.GivenRow{Name: g.Name, Label: g.Label, Fixed: !g.Settable(), Reading: g.Reading, Source: g.Source, Owner: g.Owner, Whole: g.Whole}
		if !p.sees("owner") {
			row.Owner = ""
		}
		if row.Label == "" {
			row.Label = work.Words(g.Name)
		}
		row.Value = valueOf(p.filler.run.ShownGiven(g), "")
		switch {
		case g.Kind.Sort == quantity.YesNo:
			row.Kind = "yes/no"
			for _, base := range []float64{1, 0} {
				row.Choices = append(row.Choices, theme.Choice{Value: valueOf(g.Show.Format(base), ""), Chosen: p.filler.run.Frame.V[g.Slot] == base})
			}
		case len(g.Choices) > 0:
			row.Kind = "choice"
			for _, c := range g.Choices {
				row.Choices = append(row.Choices, theme.Choice{Value: valueAsWritten(c), Chosen: c.Base == p.filler.run.Frame.V[g.Slot]})
			}
		case g.Kind == quantity.Date:
			row.Kind = "date"
		case g.Value.Unit.Text == "":
			row.Kind = "number"
		default:
			row.Kind = "quantity"
			row.Lengthy = g.Settable() && !g.Reading && utf8.RuneCountInString(row.Value.Plain) > 7 // as hand.js has it
			row.Broad = g.Settable() && !g.Reading && (utf8.RuneCountInString(g.Value.Unit.Text) > 6 || utf8.RuneCountInString(row.Value.Plain) > 9)
		}
		if g.From != nil {
			row.From, row.To = valueAsWritten(*g.From), valueAsWritten(*g.To)
		}
		if g.Step != nil {
			row.Step = plainValue(g.Step.Text)
		}
		if g.Review != nil {
			row.Review = period(g.Review)
			if due, ok := p.page.ConstantDue(g); ok && p.Audience == page.Staff {
				row.Overdue = p.overdueFrom(due)
			}
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// period is what follows "every": month, 12 months.
func period(p *page.Period) string {
	if p.Count == 1 {
		return p.Unit
	}
	return strconv.Itoa(p.Count) + " " + p.Unit + "s"
}

// holding lists the limits that hold, those of pages drawn on included; if the page refuses, only
// the refusals.
func (p *pager) holding() []theme.Limit {
	var out []theme.Limit
	run := p.filler.run
	for _, h := range run.AllHolding() {
		if run.Refused() && h.Limit.Kind != page.Refuse {
			continue
		}
		kind := string(h.Limit.Kind)
		if h.Limit.Kind == page.Refuse {
			kind = "refused"
		}
		if h.From != nil {
			out = append(out, theme.Limit{Kind: kind, Text: p.elsewhere(h.Run, h.Limit.Text), From: p.linkTo(h.From)})
			continue
		}
		for i, l := range p.page.Sheet.Limits {
			if l == h.Limit {
				out = append(out, theme.Limit{Kind: kind, Text: p.filler.html(p.texts.Limits[i], markdown.RenderOptions{})})
			}
		}
	}
	for _, r := range run.Refusals {
		if r.Limit == nil {
			out = append(out, theme.Limit{Kind: "refused", Text: escaped(r.Text)})
		}
	}
	return out
}

// elsewhere writes a text of a page drawn on with the values of its case. The text is read afresh,
// since that page may be written at the same time.
func (p *pager) elsewhere(run *prove.Case, text page.Prose) template.HTML {
	from := p.Content.Page(run.Sheet.File.Path)
	if from == nil {
		return escaped(text.Text)
	}
	other := p.desk.Resolved(from)
	x := other.ReadText(text)
	f := &filler{page: other, run: run, size: p.size, mark: p.marksElsewhere(run), href: func(d string) string {
		if content.Elsewhere(d) {
			return d
		}
		return content.SiteHref(content.Relative(p.page.Path, rooted(other, d)))
	}}
	return f.html(x, markdown.RenderOptions{})
}

// rooted is a destination on another page as a path in the content folder.
func rooted(p *work.Page, destination string) string {
	full, anchor, ok := p.Find(destination)
	full = content.Outside(full)
	if !ok || anchor == "" {
		return full
	}
	return full + "#" + anchor
}

func (p *pager) linkTo(u *page.Use) *theme.Link {
	return &theme.Link{Title: u.Sheet.Title, Href: content.URLPath(content.SiteHref(content.Relative(p.page.Path, content.Outside(u.Path))))}
}

func (p *pager) figures() template.HTML {
	return p.collect(p.Theme.Figures(p.figuresView()))
}

func (p *pager) figuresView() theme.Figures {
	v := theme.Figures{Limits: p.holding()}
	if !p.filler.run.Refused() {
		for _, f := range p.page.Sheet.Figures {
			if f.Label != "" {
				shown := p.filler.run.Shown(f)
				value := valueOf(shown, ` data-whole="`+strconv.Itoa(wholeDigits(shown))+`"`)
				value.HTML += template.HTML(p.asOf(f.Node))
				v.Rows = append(v.Rows, theme.Figure{Name: f.Name, Label: f.Label, Value: value})
			}
		}
	}
	return v
}

func (p *pager) arithmetic() template.HTML {
	run := p.filler.run
	sh := p.page.Sheet
	var v theme.Arithmetic
	refused := run.Refused()
	if refused {
		for _, l := range p.holding() {
			if l.Kind == "refused" {
				v.Limits = append(v.Limits, l)
			}
		}
	}
	for _, f := range sh.Sorted {
		if f.Formula == nil {
			continue
		}
		w := theme.Working{Name: f.Name, Label: f.Label, Formula: template.HTML(highlight.Formula(f.Formula)), Bench: p.benchLinks(f.Formula)}
		if !refused {
			w.Numbers = numbersHTML(run.WithNumbers(f.Formula))
			shown := run.Shown(f)
			w.Result = valueOf(shown, "")
			if exact := run.Unrounded(f); exact != shown.Text && !shown.Missing {
				w.Unrounded = quantityHTML(exact, "")
			}
		}
		v.Rows = append(v.Rows, w)
	}
	return p.collect(p.Theme.Arithmetic(v))
}

// checks lists the checks of the page with what each found.
func (p *pager) checks() template.HTML {
	var v theme.Checks
	proof := p.page.Proof
	if proof == nil {
		return ""
	}
	label := func(name string) string {
		if f := p.page.Sheet.Figure(name); f != nil && f.Label != "" {
			return f.Label
		}
		return work.Words(name)
	}
	var last *page.Check
	for _, d := range proof.Verdicts {
		if d.Check.Always != nil {
			v.Always = append(v.Always, theme.CheckAlways{Formula: numbersHTML(d.What), Tried: proof.Cases - proof.Refused, Refused: proof.Refused, Sample: proof.Sample(), Proved: d.Proved})
			continue
		}
		if d.Check != last {
			c := theme.CheckCase{Source: d.Source}
			for i, set := range d.Check.At {
				if i > 0 {
					c.Case += ", "
				}
				name := set.Given.Label
				if name == "" {
					name = work.Words(set.Given.Name)
				}
				c.Case += escaped(name+" ") + quantityHTML(set.Given.Shown(set.Base).Text, "")
			}
			v.Cases = append(v.Cases, c)
			last = d.Check
		}
		c := &v.Cases[len(v.Cases)-1]
		if d.Check.Holds != "" {
			word := d.Check.Wanted()
			if d.Check.Holds == page.Refuse {
				word = "refused"
			}
			c.Results = append(c.Results, theme.CheckResult{Expected: escaped(word), Found: escaped(word)})
			continue
		}
		c.Results = append(c.Results, theme.CheckResult{Label: label(d.What), Expected: expectedHTML(d.Expected), Found: expectedHTML(d.Found)})
	}
	return p.collect(p.Theme.Checks(v))
}

func (p *pager) size(destination string) (int, int) {
	full, _, ok := p.page.Find(destination)
	if !ok || !p.Content.HasFile(full) {
		return 0, 0
	}
	pic := p.Content.Placed(full)
	return pic.Width, pic.Height
}

// sees reports whether the audience is shown one of page.BehindPages.
func (s *Site) sees(what string) bool { return s.Content.Settings.Sees(s.Audience, what) }

func Revision(c *page.Control) string { return strconv.Itoa(c.Revision) }

// overdue is the mark of a page with a day on which its review is due; customers see none.
func (s *Site) overdue(p *content.Page) theme.Overdue {
	due, ok := p.Head.Control.Due()
	if !ok || s.Audience != page.Staff || p.Status() != page.Approved {
		return theme.Overdue{}
	}
	return s.overdueFrom(due)
}

// overdueFrom is the mark of something that is overdue once a day has passed. The preview knows which
// day it is; a published page asks the reader's device.
func (s *Site) overdueFrom(due time.Time) theme.Overdue {
	if s.Preview && !s.Content.Past(due) {
		return theme.Overdue{}
	}
	return theme.Overdue{Due: Day(due).ISO, Past: s.Preview}
}

// control fills the view of a page's document control, nil if it has none.
func (s *Site) control(p *content.Page) *theme.Control {
	c := p.Head.Control
	if c == nil {
		return nil
	}
	v := &theme.Control{Number: c.Number, Revision: Revision(c), Status: string(c.Status), Effective: Day(c.Effective), Overdue: s.overdue(p)}
	if s.sees("owner") {
		v.Owner = c.Owner
	}
	if s.sees("approval") {
		v.ApprovedBy, v.Approved = c.ApprovedBy, Day(c.Approved)
	}
	if due, ok := c.Due(); ok && s.sees("review") {
		v.ReviewDue = Day(due)
	}
	if c.Review != nil && s.sees("review") {
		v.Review = period(c.Review)
	}
	changes := slices.Clone(c.Changes)
	slices.SortStableFunc(changes, func(a, b page.Change) int { return cmp.Compare(b.Revision, a.Revision) })
	if len(changes) > 1 && !s.sees("changes") {
		changes = changes[:1]
	}
	for _, change := range changes {
		v.Changes = append(v.Changes, theme.Change{Revision: strconv.Itoa(change.Revision), Text: escaped(change.Text)})
	}
	return v
}

func Day(t time.Time) theme.Date {
	if t.IsZero() {
		return theme.Date{}
	}
	return theme.Date{ISO: t.Format("2006-01-02"), Shown: fmt.Sprintf("%d %s %d", t.Day(), t.Month(), t.Year())}
}
