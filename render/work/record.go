package work

import (
	"cmp"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/approval"
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/content"
)

// Record is the record of a page as it would be approved. The page must be made, trusted and have
// document control; by is the role that approves, and day the day on which it is recorded. It is nil
// if the work was cut short.
func (d *Desk) Record(p *Page, by string, day time.Time) *approval.Record {
	k := p.Sheet.Control
	r := &approval.Record{Number: k.Number, Revision: k.Revision, Page: content.Outside(p.Path), Title: p.Sheet.Title, By: by, Owner: k.Owner,
		Approved: isoDay(k.Approved), Effective: isoDay(k.Effective), Recorded: isoDay(day)}
	x := &recorder{desk: d, page: p, record: r}
	x.numbers()
	x.over()
	x.words()
	x.origins()
	if d.Ended() {
		return nil
	}
	return r
}

func isoDay(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// recorder writes one page into a record.
type recorder struct {
	desk   *Desk
	page   *Page
	record *approval.Record
	bench  map[string]bool
}

// number adds a number; of one that changes by itself only the name is recorded.
func (x *recorder) number(n approval.Number, follows bool) {
	if follows {
		n.Shown, n.Moves = "", "with the day, or with what is recorded"
	}
	x.record.Numbers = append(x.record.Numbers, n)
}

// numbers records what the page prints at its own values and in its tables.
func (x *recorder) numbers() {
	p, own := x.page, x.page.Proof.Own
	for _, g := range p.Sheet.Given {
		x.number(approval.Number{Name: g.Name, Label: g.Label, Shown: own.ShownGiven(g).Text}, g.Today)
	}
	for _, n := range p.Numbers() {
		if n.moves {
			continue // it may change which rows there are
		}
		out := approval.Number{Name: n.Name, Label: n.Label, Shown: n.Shown}
		if n.Cell != nil {
			out.Table, out.Of = n.Cell.Table, cmp.Or(n.from, n.Cell.of)
		}
		f := p.Sheet.Figure(n.Of())
		x.number(out, f != nil && p.Sheet.Moves(f.Node))
	}
	x.times()
	for _, m := range p.Sheet.Makes {
		for _, v := range m.Values() {
			shown, _ := own.Product(v)
			x.number(approval.Number{Name: ProductNumber(m, v), Label: ProductName(m) + ", " + v.Key, Shown: cmp.Or(shown.Text, Withheld), Of: v.Formula.Normal()}, p.Sheet.DependsOnToday(v.Node))
		}
	}
	seen := map[string]bool{}
	for _, text := range p.Texts.inOrder(p.Sheet) {
		for _, b := range text.Bound {
			if b.Kind != PlacesFormula && !b.HasShow || b.At == nil {
				continue
			}
			name := "{" + strings.Join(strings.Fields(b.At.Text), " ") + "}"
			if shown, ok := p.placed(b); ok && !seen[name] {
				seen[name] = true
				x.number(approval.Number{Name: name, Shown: shown, Of: b.At.Formula}, p.follows(b))
			}
		}
	}
}

// Time is how long a step takes, as it is printed.
type Time struct {
	Name, Shown string
	Step        *page.Step
}

// Times lists how long the steps of a page take in a case; steps with the same text are numbered.
func Times(run *prove.Case) []Time {
	rows, _, fine := run.Process()
	count := map[string]int{}
	var out []Time
	for _, row := range rows {
		if !row.HasTime || !fine {
			continue
		}
		name := "time of " + collapseSpaces(row.Step.Do.Text)
		if count[name]++; count[name] > 1 {
			name += " " + strconv.Itoa(count[name])
		}
		out = append(out, Time{name, row.Shown.Text, row.Step})
	}
	return out
}

// times records how long the steps take.
func (x *recorder) times() {
	for _, t := range Times(x.page.Proof.Own) {
		x.number(approval.Number{Name: t.Name, Shown: t.Shown, Of: t.Step.For.Normal()}, x.page.Sheet.Moves(t.Step.Node))
	}
}

// follows reports whether what a placement shows changes by itself.
func (p *Page) follows(b Bound) bool {
	switch b.Kind {
	case PlacesGiven:
		return b.Given.Today
	case PlacesFigure:
		return p.Sheet.Moves(b.Figure.Node)
	}
	return p.Sheet.Moves(b.Node)
}

// placed is what a placement of the page's own texts shows at its own values.
func (p *Page) placed(b Bound) (string, bool) {
	run := p.Proof.Own
	switch b.Kind {
	case PlacesGiven:
		return recordedText(run.Write(b.Given.Slot, b.Show.Format)), true
	case PlacesFigure:
		if run.Refused() {
			return "", false
		}
		return recordedText(run.Write(b.Figure.Slot, b.Show.Format)), true
	case PlacesFormula:
		if run.Refused() || b.Node == nil {
			return "", false
		}
		run.Frame.Reset()
		run.Room()
		v := b.Node.Eval(&run.Frame)
		if run.Frame.Fault != formula.None {
			return "", false
		}
		return b.Show.Format(v).Text, true
	}
	return "", false
}

// recordedText is a value as it is recorded; an ellipsis if it waits for a reading.
func recordedText(s quantity.Shown) string {
	if s.Missing && s.Text == "" {
		return "…"
	}
	return s.Text
}

// over records the labelled figures over the page's cases.
func (x *recorder) over() {
	spreads := x.page.Proof.Spreads
	if spreads == nil { // the page was not proved with its spreads
		spreads = prove.Spreads(x.desk.ctx, x.page.Sheet)
	}
	for _, s := range spreads {
		if x.page.Sheet.Moves(s.Figure.Node) {
			continue
		}
		x.record.Over = append(x.record.Over, approval.Over{Name: s.Figure.Name, Label: s.Figure.Label, Cases: s.Cases, Refused: s.Refused, Least: s.Least, Most: s.Most, Sum: s.Sum})
	}
}

// words records what the page says besides its numbers, with even spacing.
func (x *recorder) words() {
	p, r := x.page, x.record
	sh, b := p.Sheet, p.Texts
	for i, l := range sh.Limits {
		r.Limits = append(r.Limits, string(l.Kind)+" when "+collapseSpaces(l.When.Normal())+": "+wordsOf(b.Limits[i]))
	}
	for i, c := range sh.Cautions {
		r.Cautions = append(r.Cautions, c.Word+": "+wordsOf(b.Cautions[i]))
	}
	for _, s := range sh.Substances {
		r.Cautions = append(r.Cautions, strings.TrimSpace("handles "+s.Name+" "+s.StrengthText))
	}
	for i, st := range sh.Steps {
		r.Steps = append(r.Steps, stepWords(sh, st, b.Steps[i]))
	}
	say := func(text string) {
		for line := range strings.SplitSeq(text, "\n") {
			if line = collapseSpaces(line); line != "" {
				r.Text = append(r.Text, line)
			}
		}
	}
	say(sh.Title)
	say(sh.Summary)
	for _, g := range sh.Given {
		if g.Label+g.Source+g.Owner != "" {
			say(strings.Trim(LabelOf(g.Label, g.Name)+"; "+g.Source+"; "+g.Owner, "; "))
		}
	}
	for _, f := range sh.Figures {
		say(f.Label)
		if f.Else != "" {
			say(f.Name + ", or else: " + f.Else)
		}
	}
	for _, t := range append(append([]Text{}, b.Supplies...), b.Tools...) {
		say(wordsOf(t))
	}
	for _, m := range sh.Makes {
		say(productWords(m))
	}
	say(linesOf(b.Body))
	for _, g := range sh.Grids {
		say(wordsOf(b.Captions[g.Name]))
		if g.Of != nil && g.Of.Where != nil {
			say(g.Name + ", the rows where " + g.Of.Where.Normal())
		}
	}
	for _, c := range sh.Charts {
		say(wordsOf(b.Captions[c.Name]))
	}
	for _, c := range sh.Checks {
		r.Checks = append(r.Checks, checkWords(c))
	}
}

// stepWords is a step in one line.
func stepWords(sh *page.Sheet, st *page.Step, t StepTexts) string {
	out := []string{wordsOf(t.Do)}
	add := func(key, text string) {
		if text != "" {
			out = append(out, key+" "+text)
		}
	}
	if st.For != nil {
		add("for", collapseSpaces(st.For.Normal()))
	}
	if a := st.Agitate; a != nil {
		add("agitate", wordsOf(t.Agitate))
		add("first", valueText(a.First))
		add("every", valueText(a.Every))
		add("turning", valueText(a.Turning))
		if a.Inversions > 0 {
			add("inversions", strconv.Itoa(a.Inversions))
		}
	}
	add("drain", valueText(st.Drain))
	add("aim", wordsOf(t.Aim))
	if st.Aim != nil && st.AimText == nil {
		text := st.Aim.Text
		if st.Aim.HasTolerance {
			text += " ± " + st.Aim.ToleranceText
		}
		add("aim", text)
	}
	add("hold", st.Hold)
	if st.Dark {
		out = append(out, "dark")
	}
	add("note", wordsOf(t.Note))
	if st.Caution >= 0 && st.Caution < len(sh.Cautions) {
		add("caution", sh.Cautions[st.Caution].Name)
	}
	if st.Own != nil {
		add("caution", st.Own.Word+": "+wordsOf(t.Caution))
	}
	return strings.Join(out, "; ")
}

func valueText(v *quantity.Value) string {
	if v == nil {
		return ""
	}
	return v.Text
}

// checkWords is a check in one line.
func checkWords(c *page.Check) string {
	if c.Always != nil {
		return "always " + collapseSpaces(c.Text)
	}
	var at, expect []string
	for _, s := range c.At {
		at = append(at, s.Text)
	}
	for _, e := range c.Expect {
		name := ""
		switch {
		case e.Figure != nil:
			name = e.Figure.Name
		case e.Given != nil:
			name = e.Given.Name
		}
		text := name + " is " + e.Want.Text
		if e.Want.HasTolerance {
			text += " ± " + e.Want.ToleranceText
		}
		expect = append(expect, text)
	}
	if c.Holds != "" {
		expect = append(expect, "expect "+c.Wanted())
	}
	out := strings.Join(expect, ", ")
	if len(at) > 0 {
		out += " at " + strings.Join(at, ", ")
	}
	return out + " (" + c.Source + ")"
}

func collapseSpaces(text string) string { return strings.Join(strings.Fields(text), " ") }

// wordsOf is a text in one line, with its placements as written.
func wordsOf(t Text) string { return collapseSpaces(linesOf(t)) }

// linesOf is a text as plain lines, with its placements as written, since numbers are compared
// separately.
func linesOf(t Text) string {
	if t.Document == nil {
		return ""
	}
	places := t.Document.Placements()
	was := make([]string, len(places))
	for i, at := range places {
		was[i], at.Plain = at.Plain, "{"+collapseSpaces(at.Text)+"}"
	}
	text := t.Document.Plain()
	for i, at := range places {
		at.Plain = was[i]
	}
	return text
}

// inOrder lists the texts of a page in the order in which it is read.
func (b *Texts) inOrder(sh *page.Sheet) []Text {
	out := append([]Text{b.Body}, b.Limits...)
	out = append(out, b.Cautions...)
	out = append(out, b.handling()...)
	for _, s := range b.Steps {
		out = append(out, s.Caution)
	}
	for _, g := range sh.Grids {
		out = append(out, b.Captions[g.Name])
	}
	for _, c := range sh.Charts {
		out = append(out, b.Captions[c.Name])
	}
	return out
}
