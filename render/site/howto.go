package site

import (
	"encoding/json"
	"html/template"
	"strconv"
	"strings"

	"labsite/recipes/hazard"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// The types of schema.org that a process is told in to machines. A property that the
// vocabulary does not have on its type is not here; howto_test.go holds what it has.
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

// howTo tells the process of a page to machines, as a data block for the page's head: ""
// where it has no steps, or no numbers at its own values.
//
// Whoever reads it may show a step without what stands around it on the page. So the
// cautions come first in the description, and where the page handles anything that can
// hurt, no volume, mass or strength is given: the label of the value stands in its place.
func (p *pager) howTo(canonical string) template.HTML {
	sh, run := p.topic.Sheet, p.fill.run
	if len(sh.Steps) == 0 {
		return ""
	}
	steps, total, ok := run.Process()
	if !ok {
		return ""
	}
	v := howTo{Context: "https://schema.org", Type: "HowTo", Name: oneLine(sh.Title), Language: p.site.Settings.Language, Address: canonical,
		Description: p.safeDescription()}
	if c := sh.Control; c != nil {
		v.Version = revision(c)
		if day := since(p.topic); !day.IsZero() {
			v.Changed = date(day).ISO
		}
	}
	if total > 0 {
		v.TotalTime = isoDuration(total)
	}
	for _, x := range p.b.supplies {
		v.Supplies = append(v.Supplies, item{"HowToSupply", p.forMachines(x)})
	}
	for _, x := range p.b.tools {
		v.Tools = append(v.Tools, item{"HowToTool", p.forMachines(x)})
	}
	for i, t := range steps {
		texts := p.b.steps[i]
		step := howStep{Type: "HowToStep", Position: i + 1, Name: p.forMachines(texts.do)}
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
		if text := p.agitationText(t.Step.Agitate, texts.agitate); text != "" {
			direction.Text = sentence(direction.Text) + " Agitate: " + text
		}
		step.Parts = append(step.Parts, direction)
		if text := p.forMachines(texts.note); text != "" {
			step.Parts = append(step.Parts, howTip{"HowToTip", next(), text})
		}
		v.Steps = append(v.Steps, step)
	}
	b, err := json.Marshal(v) // writes <, > and & so that nothing in it ends the element
	if err != nil {
		return ""
	}
	return template.HTML(`<script type="application/ld+json">` + string(b) + `</script>`)
}

// safeDescription is the page's cautions, the notice where it names substances, and then
// its summary.
func (p *pager) safeDescription() string {
	sh := p.topic.Sheet
	var parts []string
	for _, c := range p.site.CautionTexts(p.topic, p.fill.run) {
		parts = append(parts, c.String())
	}
	if len(sh.AllSubstances()) > 0 {
		notice := p.site.Settings.Notice
		if notice == "" {
			notice = hazard.StandingNotice()
		}
		parts = append(parts, notice)
	}
	summary := sh.Summary
	if guarded(p.topic) {
		summary = withoutAmounts(summary)
	}
	parts = append(parts, summary)
	return oneLine(strings.Join(parts, " "))
}

// stepWarning is the caution of a step, with its word.
func (p *pager) stepWarning(st *sheet.Step, texts stepTexts) string {
	switch {
	case st.Own != nil:
		p.fill.fill(texts.caution)
		return st.Own.Word + ": " + oneLine(texts.caution.document.Plain())
	case st.Caution >= 0:
		c := p.b.cautions[st.Caution]
		p.fill.fill(c)
		return p.topic.Sheet.Cautions[st.Caution].Word + ": " + oneLine(c.document.Plain())
	}
	return ""
}

// agitationText says how the tank is moved, in the words of the page or in the program's.
func (p *pager) agitationText(a *sheet.Agitation, words text) string {
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

// forMachines is a text of the page in one line. Where the page is guarded, only times,
// temperatures and lengths keep their numbers.
func (p *pager) forMachines(x text) string {
	if x.document == nil {
		return ""
	}
	withheld := guarded(p.topic)
	for _, b := range x.bound {
		b.at.HTML, b.at.Plain = "", ""
		if withheld && !harmless(b) {
			b.at.Plain = stoodFor(b)
			continue
		}
		if v, ok := p.fill.shown(b); ok {
			b.at.Plain = v.Text
		}
	}
	if !withheld {
		return oneLine(x.document.Plain())
	}
	return oneLine(withoutDoses(x.document.Plain()))
}

// harmlessKind tells kinds that say nothing of how much of a substance there is.
func harmlessKind(k quantity.Kind) bool {
	switch k {
	case quantity.Time, quantity.Length, quantity.Scale, quantity.Degree, quantity.Stops, quantity.Yes, quantity.Text:
		return true
	}
	return false
}

// harmless tells the same of what a placement places.
func harmless(b bound) bool {
	switch b.kind {
	case placesLiteral:
		v, trouble := quantity.Parse(b.literal)
		return trouble == nil && harmlessKind(v.Kind)
	case placesGiven:
		return harmlessKind(b.given.Kind)
	case placesFigure:
		return harmlessKind(b.figure.Kind)
	case placesFormula:
		return harmlessKind(b.node.Kind)
	}
	return true
}

// stoodFor is what takes the place of a number that is withheld: its label in brackets.
func stoodFor(b bound) string {
	label := ""
	switch b.kind {
	case placesGiven:
		label = labelOf(b.given.Label, b.given.Name)
	case placesFigure:
		label = labelOf(b.figure.Label, b.figure.Name)
	}
	if label == "" {
		return "[see the page]"
	}
	return "[" + label + ": see the page]"
}

// withoutDoses takes quantities typed by hand out of a text, but for those that say
// nothing of an amount.
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

// sentence ends a text with a full stop where nothing else ends it.
func sentence(text string) string {
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".!?:;") {
		return text
	}
	return text + "."
}
