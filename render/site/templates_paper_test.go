package site

import (
	"html/template"
	"strings"
	"testing"
)

// A theme may put parts of the hazards one tap away, but leave none of them out.
func TestThemeCannotDropHazards(t *testing.T) {
	const all = `{{.Word}}{{range .Pictograms}}{{.Drawing}}{{end}}{{range .Statements}}{{.Text}}{{end}}{{.AcidIntoWater}}{{.WasteApart}}
{{range .Wear}}{{range .Says}}{{.Text}}{{end}}{{end}}{{range .Precautions}}{{range .Statements}}{{.Text}}{{end}}{{end}}
{{range .Meet}}{{.Happens}}{{.Do}}{{end}}{{range .Order}}{{.Happens}}{{.Do}}{{end}}{{range .KeepApart}}{{.Happens}}{{.Do}}{{end}}
{{range .Waste}}{{.Rule}}{{end}}{{range .Unknown}}{{.}}{{end}}{{.Notice}}`
	h := fixtureHazards(many...)
	fill := func(text string) (template.HTML, string) {
		set, list := LoadTemplates(themeOf("hazards.html", text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		out, list := set.Hazards(h)
		return out, told(list)
	}
	if out, list := fill(all); out == "" {
		t.Fatalf("all is there, and yet: %s", list)
	}
	for _, part := range []string{"{{.Word}}", "{{.Drawing}}", "{{.AcidIntoWater}}", "{{.WasteApart}}", "{{range .Unknown}}{{.}}{{end}}", "{{.Rule}}", "{{.Notice}}",
		"{{range .Statements}}{{.Text}}{{end}}{{.AcidIntoWater}}", "{{range .Meet}}{{.Happens}}{{.Do}}{{end}}", "{{range .KeepApart}}{{.Happens}}{{.Do}}{{end}}",
		"{{range .Precautions}}{{range .Statements}}{{.Text}}{{end}}{{end}}", "{{range .Wear}}{{range .Says}}{{.Text}}{{end}}{{end}}"} {
		text := strings.Replace(all, part, "", 1)
		if text == all {
			t.Fatalf("%s is not in the template", part)
		}
		if out, list := fill(text); out != "" || !strings.Contains(list, "our-theme/hazards.html") || !strings.Contains(list, "leaves out of the hazards: ") {
			t.Errorf("without %s: %s", part, list)
		}
	}
}

func TestHazardsSayWhoBringsWhat(t *testing.T) {
	h := fixtureHazards(many...)
	for _, s := range h.Statements {
		if s.Code == "H314" && s.Of != "Acetic acid, 28 %" {
			t.Errorf("H314 is brought by %q", s.Of)
		}
	}
	if got := h.Meet[0]; got.One != "Acetic acid, 28 %" || got.Other != "potassium ferricyanide" || len(got.Gases) != 1 || got.Gases[0] != "hydrogen cyanide" {
		t.Errorf("the gravest pair: %+v", got)
	}
	if h.FirstAid() == nil || len(h.Other())+1 != len(h.Precautions) {
		t.Error("first aid should stand apart from the other precautions")
	}
	eyes := fixtureHazards(simple...).Wear[1]
	if eyes.What != "Eyes" || len(eyes.Says) != 1 || eyes.Says[0].Of != "" || !eyes.First() {
		t.Errorf("what all substances say needs no names: %+v", eyes)
	}
}

func TestListed(t *testing.T) {
	for want, names := range map[string][]string{
		"": nil, "Acid": {"Acid"}, "Acid and base": {"Acid", "Base"}, "Acid, CD-3 and 1-Phenyl": {"Acid", "CD-3", "1-Phenyl"},
	} {
		if got := listed(names); got != want {
			t.Errorf("%v: got %q, want %q", names, got, want)
		}
	}
}

func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 30: "0:30", 90: "1:30", 59.96: "1:00", 7.5: "0:07.5", 3599.99: "1:00:00", 3900: "1:05:00", 36000: "10:00:00"} {
		if got := clock(seconds); got != want {
			t.Errorf("%v s: got %s, want %s", seconds, got, want)
		}
	}
	if m := momentAt(90.5); m.Seconds != "90.5" || m.Clock != `<span class="q">1:30.5</span>` {
		t.Errorf("got %+v", m)
	}
}

func TestDarkIsSaidBeforeItBegins(t *testing.T) {
	s := Steps{Rows: []Step{{Number: 1}, {Number: 2, Dark: true}, {Number: 3, Dark: true}, {Number: 4}, {Number: 5, Dark: true}}}
	for i, want := range []int{0, 3, 0, 0, 5} {
		if got := s.DarkUntil(i); got != want {
			t.Errorf("step %d: darkness until %d, want %d", i+1, got, want)
		}
		if got, want := s.LightAfter(i), i == 2 || i == 4; got != want {
			t.Errorf("step %d: light after it %v, want %v", i+1, got, want)
		}
	}
	set := loaded(t)
	out := string(must[template.HTML](t)(set.Steps(fixtureSteps(t, set))))
	if ahead, dark := strings.Index(out, "Darkness ahead."), strings.Index(out, `id="Step-1"`); ahead < 0 || ahead > dark {
		t.Error("the dark step should be told of before it")
	}
}

func TestStepsForAScript(t *testing.T) {
	set := loaded(t)
	out := string(must[template.HTML](t)(set.Steps(fixtureSteps(t, set))))
	for _, want := range []string{
		`<ol class="steps" data-total="1650">`,
		`id="Step-3" data-seconds="660" data-starts="120" data-first="30" data-moments="60 120 180 240 300 360 420 480 540 600" data-inversions="2" data-pour="650">`,
		`data-turning="10"`, `data-hold="second person" data-dark>`, `Without pause for the first <span class="q">30`, `2 inversions`, `Start pouring out at <span class="q">10:50</span>`,
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %s", want)
		}
	}
}

// Who initials may be a role or any words, and both read right.
func TestHoldReadsRight(t *testing.T) {
	set := loaded(t)
	for _, who := range []string{"process lead", "whoever opens the lab"} {
		s := fixtureSteps(t, set)
		s.Rows = s.Rows[:1]
		s.Rows[0].Hold = who
		out := string(must[template.HTML](t)(set.Steps(s)))
		if want := "Do not go on before this step is initialled. Initials of: " + who + " <span"; !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestStepsWithoutTimes(t *testing.T) {
	set := loaded(t)
	s := fixtureSteps(t, set)
	s.Limits = []Limit{{Kind: "refused", Text: "Use a larger tank."}}
	for i := range s.Rows {
		r := &s.Rows[i]
		r.Time, r.Seconds, r.Starts, r.PourAt = Value{}, "", Moment{}, nil
		if r.Agitate != nil {
			r.Agitate.Moments = nil
		}
	}
	s.Total, s.End = Value{}, Moment{}
	out := string(must[template.HTML](t)(set.Steps(s)))
	if !strings.Contains(out, "Use a larger tank.") || strings.Contains(out, "data-seconds") || strings.Contains(out, "Together") {
		t.Error("a refusal should leave its reason and no time")
	}
	if !strings.Contains(out, `2 inversions`) || !strings.Contains(out, "every <span") {
		t.Error("how the tank is moved is no computed number, and should stay")
	}
}

func TestThemeCannotMoveCautionBehindItsStep(t *testing.T) {
	for _, text := range []string{`{{range .Rows}}<p>{{.Do}}</p>{{end}}`, `{{range .Rows}}<p>{{.Do}}</p>{{.Caution}}{{end}}`} {
		set, list := LoadTemplates(themeOf("steps.html", text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		if out, list := set.Steps(fixtureSteps(t, set)); out != "" || !strings.Contains(told(list), "the safety message of a step") {
			t.Errorf("%s should be refused: %s", text, told(list))
		}
	}
}

func TestThemeCannotHideSafetyOnPaper(t *testing.T) {
	const (
		hazards  = `{{with .Hazards}}{{template "hazards" .}}{{end}}`
		cautions = `{{template "cautions" .Cautions}}`
		figures  = `{{template "figures" .Figures}}`
		steps    = `{{with .Steps}}{{template "steps" .}}{{end}}`
	)
	for _, c := range []struct{ text, want string }{
		{hazards + cautions + figures + steps + `{{.Notice}}`, ""},
		{cautions + figures + steps + `{{.Notice}}`, "leaves out of the hazards: "},
		{cautions + figures + hazards + steps + `{{.Notice}}`, "puts of the hazards: Warning below the first number"},
		{hazards + figures + steps + `{{.Notice}}`, "leaves out the safety message WARNING gloves"},
		{hazards + figures + cautions + steps + `{{.Notice}}`, "puts the safety message WARNING gloves below the first number"},
		{hazards + cautions + figures + `{{.Notice}}`, "the safety message of a step"},
	} {
		set, list := LoadTemplates(themeOf("card.html", c.text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		out, list := set.Card(card(t, set, true))
		if c.want == "" && out == nil || c.want != "" && (out != nil || !strings.Contains(told(list), c.want)) {
			t.Errorf("%s\nwant %q in: %s", c.text, c.want, told(list))
		}
	}
	set, list := LoadTemplates(themeOf("labels.html", `{{range .Items}}{{.Name}}{{end}}`), "our-theme")
	if set == nil {
		t.Fatal(told(list))
	}
	if out, list := set.Labels(labels(t, set)); out != nil || !strings.Contains(told(list), "leaves out of the hazards: Warning") {
		t.Errorf("a label without its hazards should be refused: %s", told(list))
	}
}

// A caution that a step repeats stands once, at the top of the card, and the step
// points to it.
func TestCardSaysACautionOnce(t *testing.T) {
	set := loaded(t)
	c := card(t, set, true)
	c.Steps.Rows[4].Caution = must[template.HTML](t)(set.Cautions(fixtureCautions[1:2]))
	out := string(must[[]byte](t)(set.Card(c)))
	if n := strings.Count(out, string(fixtureCautions[1].Text)); n != 1 {
		t.Errorf("it stands %d times", n)
	}
	if !strings.Contains(out, "<strong>CAUTION</strong> above: read it first") || !strings.Contains(out, "Stop bath is acid.") {
		t.Error("a step should point to the caution above, and keep one of its own")
	}
}

func TestFullerCardsAreSetSmaller(t *testing.T) {
	set := loaded(t)
	small, large := card(t, set, false), card(t, set, true)
	if got := small.Full(); got != "even" {
		t.Errorf("a card with little on it is %s, want even", got)
	}
	if got := large.Full(); !strings.HasPrefix(got, "tight") {
		t.Errorf("a card with much on it is %s, want tight", got)
	}
}

func TestLabelsLeaveLinesAndRoom(t *testing.T) {
	set := loaded(t)
	out := string(must[[]byte](t)(set.Labels(labels(t, set))))
	if n := strings.Count(out, "Hazards: copy from the safety data sheet"); n != 7 {
		t.Errorf("%d labels ask for their hazards, want 7", n)
	}
	if n := strings.Count(out, `<ul class="sheet">`); n != 2 {
		t.Errorf("nine labels stand on %d sheets, want 2", n)
	}
	if !strings.Contains(out, "<div><dt>Lot</dt><dd></dd></div>") {
		t.Error("no line for the lot")
	}
}

func TestTableMarksItsOwnValuesInWords(t *testing.T) {
	set := loaded(t)
	out := string(must[template.HTML](t)(set.Table(fixtureTable())))
	if n := strings.Count(out, "set here"); n != 2 {
		t.Errorf("set here stands %d times, want once for the row and once for the column", n)
	}
	for _, want := range []string{`<caption>Developing time`, `<th scope="colgroup" colspan="2"`, `<th scope="row">`, `–<sup><a href="#Table-time_by_temperature-a"`, `id="Table-time_by_temperature-a"`, `>This table as CSV</a>`} {
		if !strings.Contains(out, want) {
			t.Errorf("no %s", want)
		}
	}
	out = string(must[template.HTML](t)(set.Table(wideTable())))
	if !strings.Contains(out, `colspan="8"`) || !strings.Contains(out, `<td class="number refused first" colspan="2">`) {
		t.Error("a table of two figures in four columns should span them")
	}
}

func TestGivenKeepsFixedValuesApart(t *testing.T) {
	set := loaded(t)
	out := string(must[template.HTML](t)(set.Given(fixtureGiven())))
	fixed := strings.Index(out, "Taken as fixed: 2 values")
	if fixed < 0 || strings.Index(out, `data-given="rolls"`) > fixed || strings.Index(out, `data-given="minimum"`) < fixed {
		t.Error("fixed values should stand below their line, the others above it")
	}
	only := Given{Rows: fixtureGiven().Rows[4:]}
	out = string(must[template.HTML](t)(set.Given(only)))
	if strings.Contains(out, "Set these") || strings.Contains(out, "<details") || !strings.Contains(out, `data-given="factor"`) {
		t.Error("where nothing can be set, fixed values should stand open")
	}
}
