package work

import (
	"maps"
	"regexp"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// BoundKind is what a placement turned out to place.
type BoundKind uint8

const (
	PlacesNothing BoundKind = iota // reported
	PlacesGiven
	PlacesFigure
	PlacesFormula
	PlacesLiteral
	PlacesCaution
	PlacesBlock
	PlacesGrid
	PlacesChart
)

// Bound is a placement and what it places.
type Bound struct {
	At      *markdown.Placement
	Kind    BoundKind
	Given   *page.Given
	Figure  *page.Figure
	Caution int
	Grid    *page.Grid
	Chart   *page.Chart
	Block   page.Block
	Node    *formula.Node
	Show    quantity.Show
	HasShow bool // it says how
	Literal string
	// InRefusal says that it is a formula of given values in the text of a limit that refuses, and
	// so stays when the page's numbers are withdrawn.
	InRefusal bool
	// Placed is its number among the page's placed formulas, from 1; 0 if it has none.
	Placed int
}

// Number reports whether the placement shows a computed or given number.
func (b Bound) Number() bool {
	switch b.Kind {
	case PlacesGiven, PlacesFigure, PlacesFormula, PlacesGrid, PlacesChart:
		return true
	case PlacesBlock:
		return b.Block.Numbers
	}
	return false
}

// Text is a body or a text of the front matter with its placements bound. Its Document is nil if the
// page has no such text.
type Text struct {
	Document *markdown.Document
	Bound    []Bound
}

// Number reports whether the text shows a number that the page gives or works out.
func (t Text) Number() bool { return slices.ContainsFunc(t.Bound, Bound.Number) }

// StepTexts are the texts of one step.
type StepTexts struct {
	Do, Aim, Note, Agitate, Caution Text
}

// handling lists the texts of the front matter that say what to take and what to do. Cautions and
// limits are not among them, since they also name substances to keep away.
func (b *Texts) handling() []Text {
	out := append(append([]Text{}, b.Supplies...), b.Tools...)
	for _, s := range b.Steps {
		out = append(out, s.Do, s.Aim, s.Note, s.Agitate)
	}
	return out
}

// Texts holds all texts of a page.
type Texts struct {
	Body            Text
	Limits          []Text
	Cautions        []Text
	Supplies, Tools []Text
	Steps           []StepTexts
	Captions        map[string]Text // of tables and charts, by name
	Placed          map[string]bool // blocks and cautions that the body places

	plain []markdown.Text // the body's, kept until they have been searched for substances
}

// All lists the texts of a page, always in the same order.
func (b *Texts) All() []Text {
	out := slices.Concat([]Text{b.Body}, b.Limits, b.Cautions, b.handling())
	for _, s := range b.Steps {
		out = append(out, s.Caution)
	}
	for _, name := range slices.Sorted(maps.Keys(b.Captions)) {
		out = append(out, b.Captions[name])
	}
	return out
}

// bind finds what every placement of a page means, checks its links, and looks for
// quantities typed by hand.
func (d *Desk) bind(p *Page) {
	b := &Texts{Placed: map[string]bool{}, Captions: map[string]Text{}}
	p.Texts = b
	sh := p.Sheet
	x := &binding{desk: d, page: p, kinds: p.Resolved || p.scoped}
	for _, l := range sh.Limits {
		b.Limits = append(b.Limits, x.prose(l.Text, l.Kind == page.Refuse))
	}
	for _, c := range sh.Cautions {
		b.Cautions = append(b.Cautions, x.prose(c.Text, false))
	}
	for _, supply := range sh.Supplies {
		b.Supplies = append(b.Supplies, x.prose(supply, false))
	}
	for _, tool := range sh.Tools {
		b.Tools = append(b.Tools, x.prose(tool, false))
	}
	for _, st := range sh.Steps {
		b.Steps = append(b.Steps, x.step(st))
	}
	for _, g := range sh.Grids {
		b.Captions[g.Name] = x.prose(g.Caption, false)
	}
	for _, c := range sh.Charts {
		b.Captions[c.Name] = x.prose(c.Caption, false)
	}
	for _, g := range sh.Given {
		x.label(g.LabelText)
	}
	for _, f := range sh.Figures {
		x.label(f.LabelText)
	}
	for _, m := range sh.Makes {
		x.label(m.Label)
		x.label(m.Store)
	}
	x.body()
	if p.List.Errors() == 0 {
		p.unplaced()
		if p.Resolved && p.Proof != nil {
			p.List = append(p.List, p.Proof.Placed(d.ctx, sh, b.formulas(sh.Limits))...)
		}
	}
	p.Script = d.script(p)
}

// formulas lists the formulas that the texts place.
func (b *Texts) formulas(limits []*page.Limit) (out []prove.Placed) {
	of := map[*markdown.Document]*page.Limit{}
	for i, l := range limits {
		of[b.Limits[i].Document] = l
	}
	for _, x := range b.All() {
		for _, placed := range x.Bound {
			if placed.Kind == PlacesFormula {
				out = append(out, prove.Placed{Text: placed.At.Formula, Node: placed.Node, Span: placed.At.FormulaSpan, Limit: of[x.Document]})
			}
		}
	}
	return out
}

// binding binds the texts of one page.
type binding struct {
	desk *Desk
	page *Page
	// kinds says that the page's kinds are known. If they are not, formulas are parsed and not
	// inferred.
	kinds bool
}

// report says what is wrong. If a bench formula that cannot be read may be the cause, nothing is
// reported, and the page merely has no numbers.
func (x *binding) report(d source.Diagnostic) {
	if x.desk.hidden(d) {
		x.page.Resolved = false
		return
	}
	x.page.report(d)
}

// bound binds one text of the front matter.
func (x *binding) bound(p page.Prose, refusal, inline bool) Text {
	doc, list := markdown.ParseText(p.Text, p.Place, inline)
	x.page.List = append(x.page.List, list...)
	out := Text{Document: doc}
	for _, at := range doc.Placements() {
		out.Bound = append(out.Bound, placement{page: x.page, at: at, kinds: x.kinds, report: x.report, inText: true, refusal: refusal}.bind())
	}
	x.desk.checkLinks(x.page, doc)
	return out
}

// written binds a text and looks for quantities typed by hand in it.
func (x *binding) written(p page.Prose, refusal, inline bool) Text {
	out := x.bound(p, refusal, inline)
	reportHandTyped(out.Document.Texts(), x.report)
	return out
}

func (x *binding) prose(p page.Prose, refusal bool) Text { return x.written(p, refusal, true) }

func (x *binding) optional(p *page.Prose, inline bool) Text {
	if p == nil {
		return Text{}
	}
	return x.written(*p, false, inline)
}

func (x *binding) step(st *page.Step) StepTexts {
	out := StepTexts{Do: x.prose(st.Do, false), Note: x.optional(st.Note, false)}
	if st.AimText != nil { // its tolerance is typed by hand on purpose
		out.Aim = x.bound(*st.AimText, false, true)
	}
	if st.Agitate != nil {
		out.Agitate = x.optional(st.Agitate.Text, true)
	}
	if st.Own != nil {
		out.Caution = x.prose(st.Own.Text, false)
	}
	return out
}

// body binds the page's text.
func (x *binding) body() {
	p, b := x.page, x.page.Texts
	b.Body.Document = p.Body
	for _, at := range p.Body.Placements() {
		found := placement{page: p, at: at, kinds: x.kinds, report: x.report}.bind()
		switch found.Kind {
		case PlacesBlock:
			b.Placed[found.Block.Name] = true
		case PlacesCaution:
			b.Placed[p.Sheet.Cautions[found.Caution].Name] = true
		case PlacesGrid:
			b.Placed[found.Grid.Name] = true
		case PlacesChart:
			b.Placed[found.Chart.Name] = true
		}
		b.Body.Bound = append(b.Body.Bound, found)
	}
	x.desk.checkLinks(p, p.Body)
	b.plain = p.Body.Texts()
	reportHandTyped(b.plain, x.report)
}

// unplaced reports tables and charts that the page's text does not place.
func (p *Page) unplaced() {
	placed := p.Texts.Placed
	for _, g := range p.Sheet.Grids {
		if !placed[g.Name] {
			p.report(source.Unplaced("table", g.Name).At(g.Span))
		}
	}
	for _, c := range p.Sheet.Charts {
		if !placed[c.Name] {
			p.report(source.Unplaced("chart", c.Name).At(c.Span))
		}
	}
}

// ReadText reads and binds one text of a page without reporting anything.
func (p *Page) ReadText(prose page.Prose) Text {
	doc, _ := markdown.ParseText(prose.Text, prose.Place, true)
	out := Text{Document: doc}
	refusal := slices.ContainsFunc(p.Sheet.Limits, func(l *page.Limit) bool { return l.Kind == page.Refuse && l.Text.Text == prose.Text })
	for _, at := range doc.Placements() {
		out.Bound = append(out.Bound, placement{page: p, at: at, kinds: p.Resolved, report: func(source.Diagnostic) {}, inText: true, refusal: refusal}.bind())
	}
	return out
}

// braced finds braces that would be a placement if the text took any.
var braced = regexp.MustCompile(`\{[a-z0-9(][^{}]*\}`)

// label looks for quantities typed by hand in a label, and for braces, which readers would see.
func (x *binding) label(p page.Prose) {
	for _, at := range braced.FindAllStringIndex(p.Text, -1) {
		x.report(source.BracesInLabel(p.Text[at[0]:at[1]]).At(p.Place(at[0], at[1])))
	}
	for _, f := range quantity.Typed(p.Text) {
		x.report(source.HandTypedLabel(f.Text).At(p.Place(f.Start, f.End)))
	}
}

func reportHandTyped(texts []markdown.Text, report func(source.Diagnostic)) {
	for _, x := range texts {
		find := quantity.Typed
		if x.Heading { // a heading names things: "After 3 minutes"
			find = quantity.Find
		}
		for _, f := range find(x.Text) {
			report(source.HandTyped(f.Text, f.Written).At(x.At(f.Start, f.End)))
		}
	}
}
