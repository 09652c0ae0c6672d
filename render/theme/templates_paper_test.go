package theme

import (
	"context"
	"html/template"
	"strings"
	"testing"

	"labsite/recipes/source"
)

// A theme may put parts of the hazards one tap away, but not leave any out, and the same goes for what is to be
// done after the work.
func TestThemeCannotDropHazards(t *testing.T) {
	h := fixtureHazards(t, many)
	hold := func(file, all string, fill func(*Templates) (template.HTML, source.List), parts ...string) {
		filled := func(text string) (template.HTML, string) {
			set, list := LoadTemplates(context.Background(), themeOf(file, text), "our-theme")
			if set == nil {
				t.Fatal(told(list))
			}
			out, list := fill(set)
			return out, told(list)
		}
		if out, list := filled(all); out == "" {
			t.Fatalf("all is there, and yet: %s", list)
		}
		for _, part := range parts {
			text := strings.Replace(all, part, "", 1)
			if text == all {
				t.Fatalf("%s is not in the template", part)
			}
			if out, list := filled(text); out != "" || !strings.Contains(list, "our-theme/"+file) || !strings.Contains(list, "leaves out of the hazards: ") {
				t.Errorf("without %s: %s", part, list)
			}
		}
	}
	hold("hazards.html", `{{.Word}}{{range .Pictograms}}{{.Drawing}}{{end}}{{range .Statements}}{{.Text}}{{end}}{{.AcidIntoWater}}
{{range .Wear}}{{range .Says}}{{.Text}}{{end}}{{end}}{{range .Beforehand}}{{range .Statements}}{{.Text}}{{end}}{{end}}
{{range .Meet}}{{.Happens}}{{.Do}}{{end}}{{range .Order}}{{.Happens}}{{.Do}}{{end}}{{range .KeepApart}}{{.Happens}}{{.Do}}{{end}}
{{range .Unknown}}{{.}}{{end}}{{range .Bounds}}{{.}}{{end}}`,
		func(set *Templates) (template.HTML, source.List) { return set.Hazards(h) },
		"{{.Word}}", "{{.Drawing}}", "{{.AcidIntoWater}}", "{{range .Bounds}}{{.}}{{end}}",
		"{{range .Statements}}{{.Text}}{{end}}{{.AcidIntoWater}}", "{{range .Meet}}{{.Happens}}{{.Do}}{{end}}", "{{range .KeepApart}}{{.Happens}}{{.Do}}{{end}}",
		"{{range .Beforehand}}{{range .Statements}}{{.Text}}{{end}}{{end}}", "{{range .Wear}}{{range .Says}}{{.Text}}{{end}}{{end}}")
	hold("aftercare.html", `{{range .Later}}{{range .Statements}}{{.Text}}{{end}}{{end}}{{.WasteApart}}{{range .Waste}}{{.Rule}}{{end}}`,
		func(set *Templates) (template.HTML, source.List) { return set.Aftercare(h) },
		"{{range .Statements}}{{.Text}}{{end}}", "{{.WasteApart}}", "{{.Rule}}")
}

// First aid, waste and sources are on every page with hazards, whatever the theme.
func TestThemeCannotDropAftercare(t *testing.T) {
	set, list := LoadTemplates(context.Background(), themeOf("parts.html", `{{.Hazards}}{{.Cautions}}{{range .Panel}}{{.HTML}}{{end}}{{.Notice}}`), "our-theme")
	if set == nil {
		t.Fatal(told(list))
	}
	if out, list := set.Instruction(guide(t, set)); out != nil || !strings.Contains(told(list), "leaves out first aid, waste and sources") {
		t.Errorf("a page without first aid: %s", told(list))
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

// Who must initial may be a role or any other words, and both make a sentence.
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
		set, list := LoadTemplates(context.Background(), themeOf("steps.html", text), "our-theme")
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
		hazards  = `{{with .Hazards}}{{template "hazards" .}}{{template "aftercare" .}}{{end}}`
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
		set, list := LoadTemplates(context.Background(), themeOf("card.html", c.text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		out, list := set.Card(card(t, set, true))
		if c.want == "" && out == nil || c.want != "" && (out != nil || !strings.Contains(told(list), c.want)) {
			t.Errorf("%s\nwant %q in: %s", c.text, c.want, told(list))
		}
	}
	set, list := LoadTemplates(context.Background(), themeOf("labels.html", `{{range .Items}}{{.Name}}{{end}}`), "our-theme")
	if set == nil {
		t.Fatal(told(list))
	}
	if out, list := set.Labels(labels(t, set)); out != nil || !strings.Contains(told(list), "leaves out of the hazards: Warning") {
		t.Errorf("a label without its hazards should be refused: %s", told(list))
	}
}

// What a label says of hazards stands above its first number, whatever the theme does.
func TestProductLabelsKeepTheirHazardsAbove(t *testing.T) {
	set := loaded(t)
	out := string(must[[]byte](t)(set.Products(products(t, set))))
	for _, want := range []string{"Hazards of what it contains, each by itself, not of this product", "no statement is listed, which does not make it harmless", "after mixing"} {
		if !strings.Contains(out, want) {
			t.Errorf("the labels do not say %q", want)
		}
	}
	if n := strings.Count(out, "copied from the product’s data sheet"); n != 1 {
		t.Errorf("%d labels ask for a classification, want the one without a sheet", n)
	}
	for text, want := range map[string]string{
		`{{range .Items}}{{.Name}}{{.Amount}}{{end}}`: "leaves out of the hazards: Warning",
		`{{range .Items}}{{.Amount}}{{with .Hazards}}{{.Word}}{{range .Pictograms}}{{.Drawing}}{{end}}{{range .Statements}}{{.Text}}{{end}}{{end}}{{range .Parts}}{{.Name}}{{.Word}}{{.Says}}{{end}}{{end}}`: "what a label says of hazards: Warning",
	} {
		set, list := LoadTemplates(context.Background(), themeOf("products.html", text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		if out, list := set.Products(products(t, set)); out != nil || !strings.Contains(told(list), want) {
			t.Errorf("want %q in: %s", want, told(list))
		}
	}
}

// A caution that a step repeats stands only at the top of the card, and the step refers to it.
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
