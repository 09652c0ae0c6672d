package language

import (
	"fmt"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

// hover explains what is at a place.
func (s *server) hover(p placeParams) (any, error) {
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return nil, nil
	}
	var out any
	s.look(func(l *lookup) {
		f := d.fileOf()
		r := l.reading(d.path)
		if r == nil {
			return
		}
		m, ok := r.markAt(offsetOf(f, p.Position))
		if !ok {
			return
		}
		if text := l.explain(d.path, m); text != "" {
			out = hover{markup{"markdown", text}, rangeOf(f, m.start, m.end)}
		}
	})
	return out, nil
}

// explain says what a mark names, in Markdown; "" if there is nothing to say.
func (l *lookup) explain(at string, m mark) string {
	switch m.sort {
	case keyName:
		return m.entry.Says
	case amount:
		return explainAmount(m.amount)
	case function:
		return l.explainFunction(m.name)
	case value:
		return l.explainValue(at, m)
	case column:
		if file := l.dataOf(at, m.of); file != "" {
			if t, _ := l.content.Table(file); t != nil {
				if c, ok := t.Column(m.name); ok {
					return fmt.Sprintf("%s, %d rows, from %s", c.Kind.Name(), len(c.Cells), code(file))
				}
			}
		}
	case use:
		if p := l.content.Page(l.drawn(at, m.name)); p != nil {
			return p.Title() + " (" + code(p.Path) + ")"
		}
	case dataFile:
		if file := l.dataOf(at, m.name); file != "" {
			return code(file)
		}
	case substance:
		if x, _ := l.content.Substances.Find(m.name); x != nil {
			return strings.TrimSuffix("**"+x.Name+"**, CAS "+x.CAS, ", CAS ")
		}
	case block:
		return l.explainBlock(at, m.name)
	case caution:
		if text := l.explainBlock(at, m.name); text != "" {
			return text
		}
		if c, ok, _ := hazard.StandingCaution(m.name); ok && !l.reading(at).names("cautions", m.name) {
			return "**" + c.Word + "** " + c.Text
		}
	}
	return ""
}

// explainBlock describes a caution, a table or a chart of a page by its name.
func (l *lookup) explainBlock(at, name string) string {
	p := l.content.Page(at)
	if p == nil {
		return ""
	}
	sh := l.desk.Read(p).Sheet
	if sh == nil {
		return ""
	}
	for _, c := range sh.Cautions {
		if c.Name == name {
			return "**" + c.Word + "** " + c.Text.Text
		}
	}
	for _, t := range sh.Grids {
		if t.Name == name {
			return "table: " + t.Caption.Text
		}
	}
	for _, c := range sh.Charts {
		if c.Name == name {
			return "chart: " + c.Caption.Text
		}
	}
	return ""
}

// explainAmount tells the kind of a quantity and the factor of its unit.
func explainAmount(q *quantity.Value) string {
	if q == nil || q.Unit.Text == "" {
		return ""
	}
	text := q.Kind.Name()
	for _, e := range quantity.Entries() {
		if e.Text == q.Unit.Text && e.Kind == q.Unit.Kind {
			return fmt.Sprintf("%s; 1 %s is exactly %s %s (%s)", text, e.Name, e.Exactly, quantity.BaseUnit(e.Kind), e.Source)
		}
	}
	if q.Unit.Zero == 0 {
		text += fmt.Sprintf("; 1 %s is %.12g %s", q.Unit.Text, q.Unit.Factor, quantity.BaseUnit(q.Unit.Kind))
	}
	return text
}

// explainFunction describes a bench formula, or a function of the language.
func (l *lookup) explainFunction(name string) string {
	if e, ok := l.content.Formulas.Find(name); ok {
		var b strings.Builder
		fmt.Fprintf(&b, "%s\n\n%s\n\n", code(e.Call()), e.Sentence)
		for _, p := range e.Params {
			fmt.Fprintf(&b, "- %s: %s, %s", code(p.Name), p.Label, p.Fit.Words())
			if words := p.Range.Words(); words != "" {
				b.WriteString(", " + words)
			}
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "\n%s\n\nSource: %s", code(e.Formula), e.Source.String())
		return b.String()
	}
	for _, o := range formula.Operations() {
		if o.Name == name && name != "" {
			return fmt.Sprintf("%s gives %s. Example: %s is %s.", code(o.Form), o.Gives, code(o.Example.Formula), o.Example.Value)
		}
	}
	return ""
}

// explainValue describes a given value or a figure of this page or one drawn on.
func (l *lookup) explainValue(at string, m mark) string {
	p := l.content.Page(at)
	if m.of != "" {
		p = l.content.Page(l.drawn(at, m.of))
	}
	if p == nil {
		return ""
	}
	full := l.desk.Resolved(p)
	if full.Sheet == nil {
		return ""
	}
	var parts []string
	if g := full.Sheet.GivenNamed(m.name); g != nil {
		parts = append(parts, "**"+g.Labelled()+"**: "+g.Kind.Name())
		if !g.Reading {
			parts = append(parts, "value "+g.Value.Text)
		}
		switch {
		case g.From != nil && g.To != nil:
			parts = append(parts, "from "+g.From.Text+" to "+g.To.Text)
		case len(g.Choices) > 0:
			parts = append(parts, fmt.Sprintf("%d choices", len(g.Choices)))
		}
		if g.Source != "" {
			parts = append(parts, "source: "+g.Source)
		}
		if g.Owner != "" {
			parts = append(parts, "owner: "+g.Owner)
		}
	} else if f := full.Sheet.Figure(m.name); f != nil {
		name := f.Name
		if f.Label != "" {
			name = f.Label
		}
		parts = append(parts, "**"+name+"**: "+f.Kind.Name(), code(strings.Join(strings.Fields(f.Text.Text), " ")))
		if run := own(full.Sheet, full.Resolved); run != nil {
			parts = append(parts, "here "+run.Shown(f).Text)
			if over := spread(full.Sheet, f); over != "" {
				parts = append(parts, over)
			}
		}
	}
	return strings.Join(parts, "  \n")
}

// mostWork bounds the work of explaining a figure: cases times figures.
const mostWork = 200_000

// spread says what a figure comes to over all that can be set; "" if nothing can, or if that would
// take too long.
func spread(sh *page.Sheet, f *page.Figure) string {
	if !slices.ContainsFunc(sh.Given, (*page.Given).Settable) || prove.MostCases*len(sh.Figures) > mostWork {
		return ""
	}
	x := prove.EndsOf(sh, f)
	if x.Cases < 2 {
		return ""
	}
	text := "over the range " + x.Least.Text + " to " + x.Most.Text
	if len(x.Words) > 0 {
		text = "over the range " + strings.Join(x.Words, ", ")
	} else if x.Least.Text == x.Most.Text {
		text = "always " + x.Least.Text + " over the range"
	}
	text += fmt.Sprintf(", in %d settings that were tried", x.Cases)
	if x.Refused > 0 {
		text += fmt.Sprintf("; %d are refused", x.Refused)
	}
	return text
}

// own works a page out at its own values; nil if that is refused or fails.
func own(sh *page.Sheet, resolved bool) *prove.Case {
	if sh == nil || !resolved {
		return nil
	}
	run := prove.OwnCase(sh)
	if run.Refused() || len(run.Failed) > 0 {
		return nil
	}
	return run
}

func code(text string) string { return "`" + text + "`" }
