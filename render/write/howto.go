package write

import (
	"encoding/json"
	"html/template"
	"strconv"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/work"
)

// The types of schema.org in which machines are told a process. They have only properties that the
// vocabulary has on the type; howto_test.go lists these.
type howTo struct {
	Context     string    `json:"@context"`
	Type        string    `json:"@type"`
	Name        string    `json:"name"`
	Description string    `json:"description,omitempty"`
	Language    string    `json:"inLanguage,omitempty"`
	Address     string    `json:"url,omitempty"`
	Version     string    `json:"version,omitempty"`
	Changed     string    `json:"dateModified,omitempty"`
	TotalTime   string    `json:"totalTime,omitempty"`
	Supplies    []item    `json:"supply,omitempty"`
	Tools       []item    `json:"tool,omitempty"`
	Steps       []howStep `json:"step"`
}

type item struct {
	Type string `json:"@type"`
	Name string `json:"name"`
}

type howStep struct {
	Type     string `json:"@type"`
	Position int    `json:"position"`
	Name     string `json:"name"`
	Address  string `json:"url,omitempty"`
	Parts    []any  `json:"itemListElement"`
}

type howDirection struct {
	Type     string `json:"@type"`
	Position int    `json:"position"`
	Text     string `json:"text"`
	Time     string `json:"performTime,omitempty"`
}

type howTip struct {
	Type     string `json:"@type"`
	Position int    `json:"position"`
	Text     string `json:"text"`
}

// howTo tells the process of a page to machines, as a data block for the page's head; "" if it has
// no steps, or no numbers at its own values.
//
// A machine may show a step without what stands around it on the page. So the cautions come first in
// the description, and if the page handles anything that can hurt, no volume, mass or strength is
// given: the label of the value stands in its place.
func (p *pager) howTo(canonical string) template.HTML {
	sh, run := p.page.Sheet, p.filler.run
	if len(sh.Steps) == 0 {
		return ""
	}
	steps, total, ok := run.Process()
	if !ok {
		return ""
	}
	v := howTo{Context: "https://schema.org", Type: "HowTo", Name: oneLine(sh.Title), Language: p.Content.Settings.Language, Address: canonical,
		Description: p.safeDescription()}
	if c := sh.Control; c != nil {
		v.Version = Revision(c)
		if day := p.page.Since(); !day.IsZero() {
			v.Changed = Day(day).ISO
		}
	}
	if total > 0 {
		v.TotalTime = isoDuration(total)
	}
	for _, x := range p.texts.Supplies {
		v.Supplies = append(v.Supplies, item{"HowToSupply", p.forMachines(x)})
	}
	for _, x := range p.texts.Tools {
		v.Tools = append(v.Tools, item{"HowToTool", p.forMachines(x)})
	}
	for i := range steps {
		v.Steps = append(v.Steps, p.howToStep(i, steps[i], canonical))
	}
	b, err := json.Marshal(v) // it escapes <, > and &, so that nothing in a text can end the element
	if err != nil {
		return ""
	}
	return template.HTML(`<script type="application/ld+json">` + string(b) + `</script>`)
}

// howToStep tells the i-th step of the process, from 0.
func (p *pager) howToStep(i int, t prove.Timed, canonical string) howStep {
	texts := p.texts.Steps[i]
	step := howStep{Type: "HowToStep", Position: i + 1, Name: p.forMachines(texts.Do)}
	if canonical != "" {
		step.Address = canonical + "#Step-" + strconv.Itoa(i+1)
	}
	next := func() int { return len(step.Parts) + 1 }
	if text := p.stepWarning(t.Step, texts); text != "" {
		step.Parts = append(step.Parts, howDirection{Type: "HowToDirection", Position: next(), Text: text})
	}
	direction := howDirection{Type: "HowToDirection", Position: next(), Text: step.Name}
	if t.HasTime {
		direction.Time = isoDuration(t.Length)
	}
	if text := p.agitationText(t.Step.Agitate, texts.Agitate); text != "" {
		direction.Text = sentence(direction.Text) + " Agitate: " + text
	}
	step.Parts = append(step.Parts, direction)
	if text := p.forMachines(texts.Note); text != "" {
		step.Parts = append(step.Parts, howTip{"HowToTip", next(), text})
	}
	return step
}

// safeDescription is the page's cautions, the notice if it names substances, and then its summary.
func (p *pager) safeDescription() string {
	sh := p.page.Sheet
	var parts []string
	for _, c := range CautionTexts(p.desk, p.filler.run) {
		parts = append(parts, c.String())
	}
	if len(sh.AllSubstances()) > 0 {
		parts = append(parts, p.noticeText())
	}
	summary := sh.Summary
	if p.page.Guarded() {
		summary = work.WithoutAmounts(summary)
	}
	parts = append(parts, summary)
	return oneLine(strings.Join(parts, " "))
}

// stepWarning is the caution of a step, with its word.
func (p *pager) stepWarning(st *page.Step, texts work.StepTexts) string {
	switch {
	case st.Own != nil:
		p.filler.place(texts.Caution)
		return st.Own.Word + ": " + oneLine(texts.Caution.Document.Plain())
	case st.Caution >= 0:
		c := p.texts.Cautions[st.Caution]
		p.filler.place(c)
		return p.page.Sheet.Cautions[st.Caution].Word + ": " + oneLine(c.Document.Plain())
	}
	return ""
}

// agitationText says how the tank is moved, in the page's words or, if it gives moments, in the
// program's.
func (p *pager) agitationText(a *page.Agitation, words work.Text) string {
	switch {
	case a == nil:
		return ""
	case a.Text != nil:
		return p.forMachines(words)
	}
	var parts []string
	if a.First != nil {
		parts = append(parts, "without pause for the first "+a.First.Text)
	}
	if a.Every != nil {
		how := "every " + a.Every.Text
		switch {
		case a.Inversions == 1:
			how = "1 turn " + how
		case a.Inversions > 1:
			how = strconv.Itoa(a.Inversions) + " turns " + how
		case a.Turning != nil:
			how += " for " + a.Turning.Text
		}
		parts = append(parts, how)
	}
	return strings.Join(parts, ", then ")
}

// forMachines is a text of the page in one line. If the page is guarded, only harmless kinds keep
// their numbers.
func (p *pager) forMachines(x work.Text) string {
	if x.Document == nil {
		return ""
	}
	withheld := p.page.Guarded()
	for _, b := range x.Bound {
		b.At.HTML, b.At.Plain = "", ""
		if withheld && !harmless(b) {
			b.At.Plain = labelInstead(b)
			continue
		}
		if v, ok := p.filler.shown(b); ok {
			b.At.Plain = v.Text
		}
	}
	if !withheld {
		return oneLine(x.Document.Plain())
	}
	return oneLine(withoutDoses(x.Document.Plain()))
}

// harmlessKind reports whether a kind says nothing about how much there is of a substance.
func harmlessKind(k quantity.Kind) bool {
	switch k {
	case quantity.Time, quantity.Length, quantity.Scale, quantity.Degree, quantity.Stops, quantity.Yes, quantity.Text:
		return true
	}
	return false
}

// harmless tells the same of a placement.
func harmless(b work.Bound) bool {
	switch b.Kind {
	case work.PlacesLiteral:
		v, trouble := quantity.Parse(b.Literal)
		return trouble == nil && harmlessKind(v.Kind)
	case work.PlacesGiven:
		return harmlessKind(b.Given.Kind)
	case work.PlacesFigure:
		return harmlessKind(b.Figure.Kind)
	case work.PlacesFormula:
		return harmlessKind(b.Node.Kind)
	}
	return true
}

// labelInstead is what stands in place of a withheld number: its label in brackets.
func labelInstead(b work.Bound) string {
	label := ""
	switch b.Kind {
	case work.PlacesGiven:
		label = work.LabelOf(b.Given.Label, b.Given.Name)
	case work.PlacesFigure:
		label = work.LabelOf(b.Figure.Label, b.Figure.Name)
	}
	if label == "" {
		return "[see the page]"
	}
	return "[" + label + ": see the page]"
}

// withoutDoses takes quantities typed by hand out of a text, except those of harmless kinds.
func withoutDoses(text string) string {
	var b strings.Builder
	at := 0
	for _, f := range quantity.Typed(text) {
		if v, trouble := quantity.Parse(f.Written); trouble == nil && harmlessKind(v.Kind) {
			continue
		}
		b.WriteString(text[at:f.Start])
		b.WriteString("[see the page]")
		at = f.End
	}
	b.WriteString(text[at:])
	return b.String()
}

// isoDuration writes seconds as a duration of ISO 8601: PT9M15S.
func isoDuration(seconds float64) string {
	text := strconv.FormatFloat(seconds, 'f', 3, 64)
	whole, part, _ := strings.Cut(text, ".")
	n, _ := strconv.ParseInt(whole, 10, 64)
	part = strings.TrimRight(part, "0")
	out := "PT"
	if h := n / 3600; h > 0 {
		out += strconv.FormatInt(h, 10) + "H"
	}
	if m := n / 60 % 60; m > 0 {
		out += strconv.FormatInt(m, 10) + "M"
	}
	if s := n % 60; s > 0 || part != "" || out == "PT" {
		out += strconv.FormatInt(s, 10)
		if part != "" {
			out += "." + part
		}
		out += "S"
	}
	return out
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// sentence ends a text with a full stop, unless another sign ends it.
func sentence(text string) string {
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".!?:;") {
		return text
	}
	return text + "."
}
