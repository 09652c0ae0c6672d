package theme

import (
	"encoding/json"
	"fmt"
	"html/template"
	"os"
	"strconv"
	"strings"
	"testing"

	"labsite/render/chart"
	"labsite/render/highlight"
)

// fixtureHazards is what the hazard list says of some substances, as a site shows it. It is read from a file,
// since package write, which makes it, depends on this package; a test there compares the file with what it
// makes.
func fixtureHazards(t testing.TB, substances string) Hazards {
	t.Helper()
	raw, err := os.ReadFile("testdata/hazards-" + substances + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var h Hazards
	if err := json.Unmarshal(raw, &h); err != nil {
		t.Fatal(err)
	}
	return h
}

// Two substances, and more than a page is likely to have.
const (
	simple = "simple"
	many   = "many"
)

// momentAt is the moment so many seconds after the start, within an hour.
func momentAt(seconds int) Moment {
	return Moment{Clock: q(fmt.Sprintf("%d:%02d", seconds/60, seconds%60)), Seconds: strconv.Itoa(seconds)}
}

func timed(number int, do template.HTML, seconds, starts int) Step {
	return Step{Number: number, Do: do, Time: val(clockWords(seconds)), Seconds: strconv.Itoa(seconds), Starts: momentAt(starts)}
}

func clockWords(seconds int) string {
	return map[int]string{30: "30 s", 60: "1 min", 120: "2 min", 240: "4 min", 600: "10 min", 660: "11 min", 1590: "26 min 30 s"}[seconds]
}

func fixtureSteps(t testing.TB, set *Templates) Steps {
	var s Steps
	load := Step{Number: 1, Do: "Load the reel and close the tank", Dark: true, Hold: "second person", Starts: momentAt(0), Note: "<p>Feel for the notch at the edge; the emulsion faces you.</p>"}
	soak := timed(2, "Pre-soak", 120, 0)
	soak.Note = "<p>Plain water at " + q("20 °C") + ". It may pour out coloured.</p>"
	develop := timed(3, "Develop", 660, 120)
	develop.Agitate = &Agitation{First: val("30 s"), FirstSeconds: "30", Every: val("60 s"), Inversions: 2}
	for m := 60; m < 650; m += 60 {
		develop.Agitate.Moments = append(develop.Agitate.Moments, momentAt(m))
	}
	pour := momentAt(650)
	develop.PourAt = &pour
	develop.Aim = q("20 °C") + " ± " + q("0.5 K")
	stop := timed(4, "Stop", 30, 780)
	stop.Agitate = &Agitation{Text: "Without pause."}
	stop.Caution = must[template.HTML](t)(set.Cautions([]Caution{{Word: "CAUTION", Text: "<p>Stop bath is acid. Pour it away from your face.</p>"}}))
	fix := timed(5, "Fix", 240, 810)
	fix.Agitate = &Agitation{First: val("30 s"), FirstSeconds: "30", Every: val("60 s"), Turning: val("10 s"), TurningSeconds: "10", Moments: []Moment{momentAt(60), momentAt(120), momentAt(180)}}
	fix.Note = "<p>Never less than twice the time that a snippet takes to turn clear.</p>"
	check := Step{Number: 6, Do: "Look at the film in the light", Hold: "process lead", Starts: momentAt(1050)}
	wash := timed(7, "Wash in changes of water", 600, 1050)
	s.Rows = []Step{load, soak, develop, stop, fix, check, wash}
	s.Total, s.End = val("27 min 30 s"), momentAt(1650)
	return s
}

func fixtureTable() Table {
	t := Table{Name: "time_by_temperature", Caption: "Developing time by developer temperature", Said: "Developing time by developer temperature",
		RowLabel: "Developer temperature", ColumnLabel: "Dilution", Figures: []string{"Developing time"}, CSV: "one-shot-developer.time_by_temperature.csv",
		Columns: []TableHead{{Value: val("1+50")}, {Value: val("1+100"), Own: true}},
		Reasons: []TableReason{{"a", "At " + q("1+50") + " nothing warmer than " + q("23 °C") + " was tested."}}}
	for _, r := range []struct {
		bath, strong, weak string
		own                bool
	}{{"18 °C", "7 min 30 s", "13 min", false}, {"20 °C", "6 min 15 s", "11 min", true}, {"22 °C", "5 min 15 s", "9 min 15 s", false}, {"24 °C", "", "7 min 45 s", false}} {
		row := TableRow{Head: TableHead{val(r.bath), r.own}}
		if r.strong == "" {
			row.Cells = append(row.Cells, TableCell{Reason: "a", First: true})
		} else {
			row.Cells = append(row.Cells, TableCell{Values: []Value{val(r.strong)}})
		}
		row.Cells = append(row.Cells, TableCell{Values: []Value{val(r.weak)}, Own: r.own})
		t.Rows = append(t.Rows, row)
	}
	return t
}

// wideTable has several figures in each cell, more than a phone is wide.
func wideTable() Table {
	t := Table{Name: "volumes", Caption: "Concentrate and water by tank and dilution", Said: "Concentrate and water by tank and dilution",
		RowLabel: "Working solution", ColumnLabel: "Dilution", Figures: []string{"Concentrate", "Water"},
		Columns: []TableHead{{Value: val("1+25")}, {Value: val("1+50")}, {Value: val("1+100"), Own: true}, {Value: val("1+200")}},
		Reasons: []TableReason{{"a", "Too little developer for this much film. Use a larger tank."}, {"b", "Stronger than " + q("1+50") + " was not tested."}}}
	for i, tank := range []string{"300 ml", "500 ml", "1 L"} {
		row := TableRow{Head: TableHead{val(tank), i == 1}}
		for k := range t.Columns {
			cell := TableCell{Values: []Value{val("4.9 ml"), val("495 ml")}, Own: i == 1 && k == 2}
			if k == 3 && i == 0 {
				cell = TableCell{Reason: "a", First: true}
			}
			if k == 0 {
				cell = TableCell{Reason: "b"}
			}
			row.Cells = append(row.Cells, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// plainTable runs over one given and has several figures.
func plainTable() Table {
	return Table{Name: "by_tank", Caption: "By tank", Said: "By tank", RowLabel: "Working solution", Figures: []string{"Concentrate", "Water"},
		Rows: []TableRow{
			{Head: TableHead{Value: val("300 ml")}, Cells: []TableCell{{Values: []Value{val("3.0 ml"), val("297 ml")}}}},
			{Head: TableHead{Value: val("500 ml"), Own: true}, Cells: []TableCell{{Values: []Value{val("5.0 ml"), val("495 ml")}, Own: false}}},
		}}
}

func fixtureWeighing() Weighing {
	return Weighing{Name: "weighing", Caption: "Weigh in this order", Said: "Weigh in this order", Blanks: []string{"lot", "actual", "initials"},
		Rows: []Figure{{Name: "phenyl", Label: "1-Phenyl-3-pyrazolidinone", Value: val("2.0 g")}, {Name: "ascorbic", Label: "Ascorbic acid", Value: val("40.0 g")}, {Name: "pyro", Label: "Pyrogallol", Value: val("60.0 g")}}}
}

func fixtureChart() template.HTML {
	c := chart.Chart{ID: "Chart-time_curve", Caption: "Developing time against developer temperature", Own: &chart.Point{X: 20, Y: 11, OK: true, Shown: "11 min"}}
	c.X, c.Y = chart.Axis{Label: "Developer temperature", Unit: "°C"}, chart.Axis{Label: "Developing time", Unit: "min"}
	for _, l := range []struct {
		name string
		at20 float64
		to   float64
	}{{"1+50", 6.25, 23}, {"1+100", 11, 24}} {
		line := chart.Line{Name: l.name}
		factor := 1.0
		for x := 18.0; x <= 24; x++ {
			factor = l.at20
			for d := 20.0; d < x; d++ {
				factor /= 1.09
			}
			for d := x; d < 20; d++ {
				factor *= 1.09
			}
			line.Points = append(line.Points, chart.Point{X: x, Y: factor, OK: x <= l.to})
		}
		c.Lines = append(c.Lines, line)
	}
	return template.HTML(c.Figure())
}

// bench is a staff page with everything that is placed in a text.
func bench(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := procedure(t, set)
	p.Title, p.Preview = "One-shot film run", "This page is a draft."
	p.Hazards = html(set.Hazards(fixtureHazards(t, many)))
	p.Aftercare = html(set.Aftercare(fixtureHazards(t, many)))
	code := `<pre tabindex="0"><code class="language-yaml">` + template.HTML(highlight.Code("yaml", "given:\n  tank: {value: 500 ml, from: 300 ml}  # as measured\n")) + `</code></pre>` +
		`<pre tabindex="0"><code class="language-formula">` + template.HTML(highlight.Code("formula", "exact: tank * strength\ndevelop: if bath > 22 °C { lookup(times.minutes, times.film, \"one\") } else { 10 min 30 s }\n")) + `</code></pre>`
	p.Body = `<h2 id="process">The run, from the dark to the rack</h2>` + html(set.Steps(fixtureSteps(t, set))) +
		`<h2 id="tables">Tables</h2><p>Each is worked out anew.</p>` + html(set.Table(fixtureTable())) + html(set.Table(wideTable())) + html(set.Table(plainTable())) +
		html(set.Weighing(fixtureWeighing())) + `<h2 id="drawn">Drawn over its range</h2>` + fixtureChart() +
		`<h2 id="written">As it is written</h2>` + code + `<ul><li class="task"><input type="checkbox" aria-label="gloves on"> gloves on</li></ul>`
	p.Papers = []Link{{"Bench card, A5", "run.card.html"}, {"Bench card, A6", "run.card.html#A6"}, {"Labels", "run.labels.html"}}
	return p
}

// refusedBench is the same page with its numbers withdrawn.
func refusedBench(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := bench(t, set)
	refusal := []Limit{{Kind: "refused", Text: "Too little developer for this much film. Use a larger tank."}}
	steps := fixtureSteps(t, set)
	steps.Limits, steps.Total, steps.End = refusal, Value{}, Moment{}
	for i := range steps.Rows {
		r := &steps.Rows[i]
		r.Time, r.Seconds, r.Starts, r.PourAt = Value{}, "", Moment{}, nil
		if r.Agitate != nil {
			r.Agitate.Moments = nil
		}
	}
	list := fixtureWeighing()
	list.Limits = refusal
	for i := range list.Rows {
		list.Rows[i].Value = Value{}
	}
	p.Body = html(set.Steps(steps)) + html(set.Weighing(list))
	p.Panel = put(p.Panel, "figures", html(set.Figures(Figures{Limits: refusal})))
	return p
}

func register(t testing.TB, set *Templates) *Register {
	r := &Register{Shell: fixtureShell(t, set, "", "Document register", "")}
	r.Description = "Every controlled page of the lab, and every value that somebody answers for."
	r.StaffSite = true
	r.Documents = []RegisterDocument{
		{Number: "P-003", Title: "Morning check of the hand line", Href: "bench/morning-check.html", Revision: "7", Status: "approved", Owner: "process lead", Effective: Date{"2025-09-01", "1 September 2025"}, ReviewDue: Date{"2026-09-01", "1 September 2026"}, Overdue: Overdue{Due: "2026-09-01", Past: true}, Staff: true, Changes: []Change{{"7", "The fixer is tested before the first film, not after it."}, {"6", "Two thermometers are compared."}}},
		{Number: "G-009", Title: "Pushing film in a two-bath developer", Href: "mixing/withdrawn.html", Revision: "3", Status: "withdrawn", Owner: "process lead"},
		{Number: "G-014", Title: "Mixing a one-shot staining developer", Href: "mixing/one-shot-developer.html", Revision: "3", Status: "approved", Owner: "process lead", Effective: Date{"2026-10-01", "1 October 2026"}, ReviewDue: Date{"2027-10-01", "1 October 2027"}, Changes: []Change{{"3", "The syringe is read to a tenth of a millilitre."}}},
		{Number: "P-011", Title: "Mixing a stop bath", Href: "bench/morning-check.html", Revision: "2", Status: "draft", Owner: "process lead", Staff: true},
	}
	r.Constants = []RegisterConstant{
		{Label: "Clearing time of fresh fixer", Value: val("25 s"), Page: Link{"Morning check of the hand line", "bench/morning-check.html#Given"}, Source: "measured here 2025-08-20", Owner: "process lead", ReviewDue: Date{"2026-02-20", "20 February 2026"}, Overdue: Overdue{Due: "2026-02-20"}},
		{Label: "Least concentrate for one roll", Value: val("4 ml"), Page: Link{"Mixing a one-shot staining developer", "mixing/one-shot-developer.html#Given"}, Source: "measured here 2026-09-14", Owner: "process lead", ReviewDue: Date{"2027-09-14", "14 September 2027"}},
	}
	return r
}

// fixtureCode stands in for a QR code: it has the finder patterns and some modules.
const fixtureCode = `<svg role="img" aria-label="QR code of the page's address" viewBox="0 0 29 29"><path fill="#fff" d="M0 0h29v29H0z"/><path d="M4 4h7v7H4zM18 4h7v7h-7zM4 18h7v7H4zM13 4h2v3h-2zM13 9h3v2h-3zM12 13h5v2h-5zM18 13h2v4h-2zM22 14h3v2h-3zM4 13h3v2H4zM13 18h2v5h-2zM17 19h5v2h-5zM20 23h5v2h-5z"/><path fill="#fff" d="M5 5h5v5H5zM19 5h5v5h-5zM5 19h5v5H5z"/><path d="M6 6h3v3H6zM20 6h3v3h-3zM6 20h3v3H6z"/></svg>`

func card(t testing.TB, set *Templates, full bool) *Card {
	c := &Card{Shell: fixtureShell(t, set, "../", "Mixing a one-shot staining developer", "mixing"), Page: Link{"Mixing a one-shot staining developer", "one-shot-developer.html"},
		Short: "brindleweir.example/mixing/one-shot-developer.html", Code: &PaperCode{Tested: fixtureCode},
		Given: fixtureGiven(), Figures: fixtureFigures(), Cautions: fixtureCautions[:1], Notice: notice}
	c.Styles, c.DrawerNames = []string{"../card.css"}, ""
	c.Number, c.Revision = "G-014", "3"
	if full {
		steps := fixtureSteps(t, set)
		hazards := fixtureHazards(t, simple)
		c.Steps, c.Hazards, c.Staff, c.Cautions = &steps, &hazards, true, fixtureCautions
		c.Figures.Limits = []Limit{{Kind: "caution", Text: "Times under five minutes tend to develop unevenly."}}
	}
	return c
}

func labels(t testing.TB, set *Templates) *Labels {
	l := &Labels{Shell: fixtureShell(t, set, "../", "Mixing a one-shot staining developer", "mixing"), Page: Link{"Mixing a one-shot staining developer", "one-shot-developer.html"}}
	l.Styles, l.DrawerNames = []string{"../labels.css"}, ""
	hazards := fixtureHazards(t, simple)
	lab := "Brindle Weir Film Lab, Osterby Cross"
	syrup := Label{Lab: lab, Name: "Staining syrup", Number: "P-001", Revision: "4", Hazards: &hazards}
	working := Label{Lab: lab, Name: "Staining developer, working solution", Strength: q("1+100"), Number: "G-014", Revision: "3"}
	l.Items = []Label{syrup, working, syrup, working, working, working, working, working, working}
	return l
}

// products has a label of a product with a safety data sheet of the lab's own, and one without.
func products(t testing.TB, set *Templates) *Products {
	v := &Products{Shell: fixtureShell(t, set, "../", "Mixing a one-shot staining developer", "mixing"), Page: Link{"Mixing a one-shot staining developer", "one-shot-developer.html"}}
	v.Styles, v.DrawerNames = []string{"../labels.css"}, ""
	hazards := fixtureHazards(t, simple)
	sheeted := ProductLabel{Lab: "Brindle Weir Film Lab, Osterby Cross", Name: "Staining syrup", Number: "P-001", Revision: "5", Code: &PaperCode{Tested: fixtureCode, Follows: true, Address: "https://brindleweir.example/mixing/one-shot-developer.html", Paper: "P-001.5"}, Hazards: &hazards,
		Amount: q("1 l"), Lasts: q("18 months"), Opened: q("12 months"), Store: "dark and cool"}
	parts := sheeted
	parts.Name, parts.Hazards = "Trial syrup", nil
	parts.Parts = []ProductPart{{"Pyrogallol", "Danger", "Harmful if swallowed."}, {Name: "Triethanolamine"}}
	v.Items = []ProductLabel{sheeted, parts}
	return v
}

// scripted is the guide as it looks when scripts run and somebody searches.
func scripted(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := guide(t, set)
	p.Units = html(set.Units(Units{First: "metric"}))
	box := string(html(set.Find(Find{Index: "../search.json", Top: "../"})))
	box = strings.Replace(box, ` hidden>`, `>`, 1)
	box = strings.Replace(box, `role="status"></p>`, `role="status">2 pages</p>`, 1)
	box = strings.Replace(box, `<ul class="found-list"></ul>`, `<ul class="found-list">
<li class="find-row"><a class="find-link first" href="index.html"><span class="find-title">Measuring thick concentrate</span> <span class="find-where">Mixing</span> <span class="find-words">The <mark>syrup</mark> is thick: syringe, cylinder or balance</span></a></li>
<li class="find-row"><a class="find-link" href="index.html"><span class="find-title">How many rolls will my bottle make?</span> <span class="find-where">First rolls</span> <span class="find-words"></span></a></li></ul>`, 1)
	p.Find = template.HTML(box)
	return p
}
