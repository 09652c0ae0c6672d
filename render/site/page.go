package site

import (
	"fmt"
	"html/template"
	"strconv"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/highlight"
	"labsite/render/markdown"
)

// page fills the view of a page at its own values.
func (r *renderer) page(t *Topic) (Page, source.List) {
	p := r.pager(t)
	var v Page
	r.shell(t.Folder.Path, &v.Shell)
	sh := t.Sheet
	v.Title = sh.Title
	v.Summary = sh.Summary
	v.Description = sh.Summary
	v.Staff = t.Staff()
	v.Topics = sh.Topics
	v.Trail = r.trail(t.Folder, t.Folder.Index == t)
	v.Canonical = r.canonical(t.Address())
	if v.Control = r.control(t); v.Control != nil {
		v.Number, v.Revision = v.Control.Number, v.Control.Revision
		if t.Status() == sheet.Draft {
			v.Preview = "This page is a draft."
		}
	}
	top := p.cautionsAtTop()
	for _, i := range top {
		p.seen[sh.Cautions[i].Name] = true
	}
	if h := p.hazardView(); h != nil {
		v.Hazards = p.keep(r.site.templates.Hazards(*h))
	}
	v.Papers = papers(t)
	v.Cautions = p.cautions(top, sh.AllCautions()...)
	if !p.b.placed["given"] && len(sh.Given) > 0 {
		v.Given = p.given()
	}
	if !p.b.placed["figures"] && p.hasResults() {
		v.Figures = p.figures()
	}
	for _, x := range p.b.supplies {
		v.Supplies = append(v.Supplies, p.fill.html(x, markdown.RenderOptions{}))
	}
	for _, x := range p.b.tools {
		v.Tools = append(v.Tools, p.fill.html(x, markdown.RenderOptions{}))
	}
	v.Body = p.fill.html(p.b.body, markdown.RenderOptions{Anchors: true, RawHTML: r.site.rawHTML(), HighlightCode: highlight.Code, Lines: r.preview})
	if !p.b.placed["arithmetic"] && len(sh.Figures) > 0 {
		v.Arithmetic = p.arithmetic()
	}
	if !p.b.placed["checks"] && len(sh.Checks) > 0 {
		v.Checks = p.checks()
	}
	if headings := t.Body.Headings(); len(headings) >= 4 {
		for _, h := range headings {
			if h.Level <= 3 {
				v.Contents = append(v.Contents, Heading{Anchor: h.ID, Title: escaped(h.Text), Level: h.Level})
			}
		}
	}
	if len(sh.Steps) > 0 && !p.b.placed["steps"] {
		v.Body += p.steps()
	}
	if len(sh.Figures) > 0 || len(sh.Cautions) > 0 || len(sh.Substances) > 0 {
		v.Notice = p.notice()
	}
	v.Straight = p.straight(v.Hazards != "" || v.Cautions != "")
	v.Head = inHead(v.Head, p.howTo(v.Canonical))
	p.handled(&v.Shell)
	return v, p.list
}

// straight are links past what stands above the controls, the results and the steps. There
// are none where the controls are the first thing below the title.
func (p *pager) straight(covered bool) []Link {
	if !covered && !p.b.placed["given"] && !p.b.placed["figures"] && !p.b.placed["steps"] {
		return nil
	}
	var out []Link
	if settable(p.topic.Sheet) {
		out = append(out, Link{"Set these", "#Given"})
	}
	if p.hasResults() {
		out = append(out, Link{"You need", "#Figures"})
	}
	if len(p.topic.Sheet.Steps) > 0 {
		out = append(out, Link{"Step by step", "#Steps"})
	}
	return out
}

// pager makes ready to write a page at its own values.
func (r *renderer) pager(t *Topic) *pager {
	p := &pager{renderer: r, topic: t, b: t.values, seen: map[string]bool{}}
	run := t.Sheet.NewCase()
	if t.Proof != nil {
		run = t.Proof.Own
	}
	p.fill = &filler{topic: t, run: run, block: p.block, caution: p.cautionAt, grid: p.grid, chart: p.chart, href: t.siteHref, size: p.size, mark: p.marks(mark, "")}
	return p
}

// hazardView is what GHS says of the page's substances, nil where it names none.
func (p *pager) hazardView() *Hazards {
	used := uses(p.topic.Sheet)
	if len(used) == 0 {
		return nil
	}
	v := hazardsOf(hazard.BlockFor(used, p.site.Hazards), p.notice())
	return &v
}

// pager makes the parts of one page.
type pager struct {
	*renderer
	topic *Topic
	b     *binder
	fill  *filler
	list  source.List
	seen  map[string]bool // cautions that have stood on the page
}

func (p *pager) keep(h template.HTML, l source.List) template.HTML {
	p.list = append(p.list, l...)
	return h
}

func (p *pager) block(name string) template.HTML {
	switch name {
	case "given":
		return p.given()
	case "figures":
		return p.figures()
	case "arithmetic":
		return p.arithmetic()
	case "checks":
		return p.checks()
	case "steps":
		return p.steps()
	case "cautions":
		var all []int
		for i := range p.topic.Sheet.Cautions {
			all = append(all, i)
		}
		return p.cautions(all)
	}
	return ""
}

func (p *pager) notice() template.HTML {
	if text := p.site.Settings.Notice; text != "" {
		return escaped(text)
	}
	return escaped(hazard.StandingNotice())
}

// cautionsAtTop says which cautions stand above the page's text: those that the text does
// not place, and those that it places only after a number was shown.
func (p *pager) cautionsAtTop() []int {
	sh := p.topic.Sheet
	numberBefore := !p.b.placed["given"] && len(sh.Given) > 0 || !p.b.placed["figures"] && p.hasResults()
	early := map[int]bool{}
	for _, x := range p.b.body.bound {
		if numberBefore {
			break
		}
		switch {
		case x.kind == placesCaution:
			early[x.caution] = true
		case x.kind == placesBlock && x.block == "cautions":
			for i := range sh.Cautions {
				early[i] = true
			}
		}
		numberBefore = numberBefore || x.number()
	}
	var out []int
	for i := range sh.Cautions {
		if !early[i] {
			out = append(out, i)
		}
	}
	return out
}

func (p *pager) cautionAt(i int) template.HTML { return p.cautions([]int{i}) }

func (p *pager) cautions(which []int, used ...sheet.UsedCaution) template.HTML {
	var views []Caution
	for _, i := range which {
		c := p.topic.Sheet.Cautions[i]
		v := Caution{Name: c.Name, Word: c.Word, Text: p.fill.html(p.b.cautions[i], markdown.RenderOptions{})}
		if p.seen["id "+c.Name] {
			v.Name = ""
		}
		p.seen["id "+c.Name] = true
		views = append(views, v)
	}
	if len(views) == 0 && len(used) == 0 {
		return ""
	}
	for _, c := range used {
		views = append(views, p.usedCaution(c))
	}
	sortByWord(views)
	return p.keep(p.site.templates.Cautions(views))
}

func (p *pager) usedCaution(u sheet.UsedCaution) Caution {
	return Caution{Word: u.Caution().Word, Text: p.elsewhere(u.Run(p.fill.run), u.Caution().Text), From: p.linkTo(u.From)}
}

func sortByWord(views []Caution) {
	rank := func(word string) int {
		for i, w := range sheet.SignalWords {
			if w == word {
				return i
			}
		}
		return len(sheet.SignalWords)
	}
	for i := 1; i < len(views); i++ {
		for j := i; j > 0 && rank(views[j].Word) < rank(views[j-1].Word); j-- {
			views[j], views[j-1] = views[j-1], views[j]
		}
	}
}

// hasResults tells whether there is anything to list under "You need".
func (p *pager) hasResults() bool {
	for _, f := range p.topic.Sheet.Figures {
		if f.Label != "" {
			return true
		}
	}
	return len(p.topic.Sheet.Limits) > 0
}

func (p *pager) given() template.HTML { return p.keep(p.site.templates.Given(p.givenView())) }

func (p *pager) givenView() Given {
	var v Given
	for _, g := range p.topic.Sheet.Given {
		row := GivenRow{Name: g.Name, Label: g.Label, Fixed: !g.Settable(), Source: g.Source, Owner: g.Owner, Whole: g.Whole}
		if row.Label == "" {
			row.Label = words(g.Name)
		}
		row.Value = valueOf(p.fill.run.ShownGiven(g), "")
		switch {
		case g.Kind.Sort == 2: // yes or no
			row.Kind = "yes/no"
			for _, base := range []float64{1, 0} {
				row.Choices = append(row.Choices, Choice{valueOf(g.Show.Format(base), ""), p.fill.run.Frame.V[g.Slot] == base})
			}
		case len(g.Choices) > 0:
			row.Kind = "choice"
			for _, c := range g.Choices {
				row.Choices = append(row.Choices, Choice{plainValue(c.Text), c.Base == p.fill.run.Frame.V[g.Slot]})
			}
		case g.Value.Unit.Text == "":
			row.Kind = "number"
		default:
			row.Kind = "quantity"
		}
		if g.From != nil {
			row.From, row.To = plainValue(g.From.Text), plainValue(g.To.Text)
		}
		if g.Step != nil {
			row.Step = plainValue(g.Step.Text)
		}
		if g.Review != nil {
			row.Review = period(g.Review)
			if due, ok := p.site.constantDue(p.topic, g); ok && p.audience == sheet.Staff {
				row.Overdue = p.site.Today.After(due)
			}
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// words is a name as a reader sees it where it has no label.
func words(name string) string {
	out := []byte(name)
	for i, c := range out {
		if c == '_' {
			out[i] = ' '
		}
	}
	if len(out) > 0 && out[0] >= 'a' && out[0] <= 'z' {
		out[0] -= 'a' - 'A'
	}
	return string(out)
}

// period is what stands after "every": month, 12 months.
func period(p *sheet.Period) string {
	if p.Count == 1 {
		return p.Unit
	}
	return strconv.Itoa(p.Count) + " " + p.Unit + "s"
}

// holding lists the limits that hold, those of pages drawn on included; refusals alone
// where the page refuses.
func (p *pager) holding() []Limit {
	var out []Limit
	run := p.fill.run
	for _, h := range run.AllHolding() {
		if run.Refused() && h.Limit.Kind != sheet.Refuse {
			continue
		}
		kind := string(h.Limit.Kind)
		if h.Limit.Kind == sheet.Refuse {
			kind = "refused"
		}
		if h.From != nil {
			out = append(out, Limit{Kind: kind, Text: p.elsewhere(h.Run, h.Limit.Text), From: p.linkTo(h.From)})
			continue
		}
		for i, l := range p.topic.Sheet.Limits {
			if l == h.Limit {
				out = append(out, Limit{Kind: kind, Text: p.fill.html(p.b.limits[i], markdown.RenderOptions{})})
			}
		}
	}
	for _, r := range run.Refusals {
		if r.Limit == nil {
			out = append(out, Limit{Kind: "refused", Text: escaped(r.Text)})
		}
	}
	return out
}

// elsewhere writes a text of a page drawn on at that page's case. It is read anew, since
// the other page may be written at the same time.
func (p *pager) elsewhere(run *sheet.Case, text sheet.Prose) template.HTML {
	other := p.site.byPath[run.Sheet.File.Path]
	if other == nil {
		return escaped(text.Text)
	}
	x := p.site.readText(other, text)
	f := &filler{topic: other, run: run, size: p.size, mark: p.marksElsewhere(run), href: func(d string) string {
		if elsewhere(d) {
			return d
		}
		return p.topic.siteHref(relative(p.topic.Path, rooted(other, d)))
	}}
	return f.html(x, markdown.RenderOptions{})
}

// rooted is a destination of another page as a path of the content folder.
func rooted(t *Topic, destination string) string {
	full, anchor, ok := t.target(destination, source.Span{}, func(source.Problem, source.Span) {})
	if !ok || anchor == "" {
		return full
	}
	return full + "#" + anchor
}

func (p *pager) linkTo(u *sheet.Use) *Link {
	return &Link{Title: u.Sheet.Title, Href: urlPath(p.topic.siteHref(relative(p.topic.Path, u.Path)))}
}

func (p *pager) figures() template.HTML {
	return p.keep(p.site.templates.Figures(p.figuresView()))
}

func (p *pager) figuresView() Figures {
	v := Figures{Limits: p.holding()}
	if !p.fill.run.Refused() {
		for _, f := range p.topic.Sheet.Figures {
			if f.Label != "" {
				v.Rows = append(v.Rows, Figure{Name: f.Name, Label: f.Label, Value: valueOf(p.fill.run.Shown(f), "")})
			}
		}
	}
	return v
}

func (p *pager) arithmetic() template.HTML {
	run := p.fill.run
	sh := p.topic.Sheet
	var v Arithmetic
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
		w := Working{Name: f.Name, Label: f.Label, Formula: template.HTML(highlight.Formula(f.Formula)), Bench: p.benchLinks(f.Formula)}
		if !refused {
			w.Numbers = numbersHTML(f.Formula.With(func(ref formula.Reference) (string, bool) { return exactly(run, ref) }))
			shown := run.Shown(f)
			w.Result = valueOf(shown, "")
			if exact := unrounded(f, run); exact != shown.Text {
				w.Unrounded = quantityHTML(exact, "")
			}
		}
		v.Rows = append(v.Rows, w)
	}
	return p.keep(p.site.templates.Arithmetic(v))
}

// checkCase gathers the verdicts of one check.
func (p *pager) checks() template.HTML {
	var v Checks
	proof := p.topic.Proof
	if proof == nil {
		return ""
	}
	label := func(name string) string {
		if f := p.topic.Sheet.Figure(name); f != nil && f.Label != "" {
			return f.Label
		}
		return words(name)
	}
	var last *sheet.Check
	for _, d := range proof.Verdicts {
		if d.Check.Always != nil {
			v.Always = append(v.Always, CheckAlways{Formula: numbersHTML(d.What), Tried: proof.Cases - proof.Refused, Refused: proof.Refused, Sample: proof.Sample()})
			continue
		}
		if d.Check != last {
			c := CheckCase{Source: d.Source}
			for i, set := range d.Check.At {
				if i > 0 {
					c.Case += ", "
				}
				name := set.Given.Label
				if name == "" {
					name = words(set.Given.Name)
				}
				c.Case += escaped(name+" ") + quantityHTML(set.Given.Shown(set.Base).Text, "")
			}
			v.Cases = append(v.Cases, c)
			last = d.Check
		}
		c := &v.Cases[len(v.Cases)-1]
		if d.Check.Holds != "" {
			word := string(d.Check.Holds)
			if d.Check.Holds == sheet.Refuse {
				word = "refused"
			}
			c.Results = append(c.Results, CheckResult{Expected: escaped(word), Found: escaped(word)})
			continue
		}
		c.Results = append(c.Results, CheckResult{Label: label(d.What), Expected: expectedHTML(d.Expected), Found: expectedHTML(d.Found)})
	}
	return p.keep(p.site.templates.Checks(v))
}

func (p *pager) size(destination string) (int, int) {
	full, _, ok := p.topic.target(destination, source.Span{}, func(source.Problem, source.Span) {})
	if pic := p.site.pictures[full]; ok && pic != nil {
		return pic.width, pic.height
	}
	return 0, 0
}

func revision(c *sheet.Control) string { return strconv.Itoa(c.Revision) }

func (r *renderer) overdue(t *Topic) bool {
	due, ok := t.Sheet.Control.Due()
	return ok && r.audience == sheet.Staff && t.Status() == sheet.Approved && r.site.Today.After(due)
}

// control fills the view of a page's document control, nil where it has none.
func (r *renderer) control(t *Topic) *Control {
	c := t.Sheet.Control
	if c == nil {
		return nil
	}
	v := &Control{Number: c.Number, Revision: revision(c), Status: string(c.Status), Owner: c.Owner, ApprovedBy: c.ApprovedBy,
		Approved: date(c.Approved), Effective: date(c.Effective), Overdue: r.overdue(t)}
	if c.Review != nil {
		v.Review = period(c.Review)
	}
	if due, ok := c.Due(); ok {
		v.ReviewDue = date(due)
	}
	for _, change := range c.Changes {
		v.Changes = append(v.Changes, Change{Revision: strconv.Itoa(change.Revision), Text: escaped(change.Text)})
	}
	sortChanges(v.Changes)
	return v
}

func sortChanges(changes []Change) {
	n := func(c Change) int { v, _ := strconv.Atoi(c.Revision); return v }
	for i := 1; i < len(changes); i++ {
		for j := i; j > 0 && n(changes[j]) > n(changes[j-1]); j-- {
			changes[j], changes[j-1] = changes[j-1], changes[j]
		}
	}
}

func date(t time.Time) Date {
	if t.IsZero() {
		return Date{}
	}
	return Date{ISO: t.Format("2006-01-02"), Shown: fmt.Sprintf("%d %s %d", t.Day(), t.Month(), t.Year())}
}
