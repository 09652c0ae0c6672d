package theme

import (
	"bytes"
	"context"
	"html/template"
	"strings"
	"testing"

	"labsite/recipes/source"
)

// The pages of these tests belong to the invented Brindle Weir Film Lab. Their numbers are made up, and no
// process data.

func q(text string) template.HTML {
	return template.HTML(`<span class="q">` + strings.ReplaceAll(template.HTMLEscapeString(text), " ", "\u00a0") + `</span>`)
}

func val(text string) Value { return Value{HTML: q(text), Plain: text} }

func loaded(t testing.TB) *Templates {
	t.Helper()
	set, list := LoadTemplates(context.Background(), nil, "")
	if len(list) > 0 {
		t.Fatal(told(list))
	}
	return set
}

func told(list source.List) string {
	var b strings.Builder
	for _, d := range list {
		b.WriteString(d.String())
	}
	return b.String()
}

// must takes what a method of Templates returned, and ends the test if there is an error.
func must[T any](t testing.TB) func(T, source.List) T {
	return func(v T, list source.List) T {
		t.Helper()
		if len(list) > 0 {
			t.Fatal(told(list))
		}
		return v
	}
}

func fixtureShell(t testing.TB, set *Templates, up, title, current string) Shell {
	links := []DrawerName{}
	for _, s := range []struct{ title, folder string }{
		{"First rolls", "first-rolls"}, {"Mixing", "mixing"}, {"Exposure", "exposure"},
		{"Printing", "printing"}, {"Bench procedures", "bench"}, {"Colour machine", "colour-machine"}, {"Ink", "ink"},
	} {
		l := DrawerName{Link: Link{Title: s.title, Href: up + s.folder + "/index.html"}}
		if s.folder == current {
			l.Current = "true"
			if s.title == title {
				l.Current = "page"
			}
		}
		links = append(links, l)
	}
	return Shell{
		Language: "en", SiteName: "Brindle Weir Film Lab", Title: title,
		Home: up + "index.html", Icon: up + "sign.svg", Styles: []string{up + "lab.css"}, Policy: PublishedPolicy,
		Canonical:   "https://brindleweir.example/" + current + "/",
		DrawerNames: must[template.HTML](t)(set.DrawerNames(DrawerNames{Links: links})),
	}
}

const notice = `<p>Follow the supplier’s safety data sheet for each product, your local codes, and licensed practice for waste. This page does not replace them.</p>`

const guideText = `<p>A one-shot developer is mixed just before use, used once and poured away. Draw <span class="q">4.95 ml</span> of concentrate, add it to about half of the water and stir until no strings are left, then fill to <span class="q">500 ml</span>. Each roll has <span class="q">4.95 ml</span> of concentrate.<sup class="note-mark" id="Note-1-from"><a href="#Note-1" role="doc-noteref">1</a></sup></p>
<h2 id="measure">Measure the syrup</h2>
<p>The concentrate is thick. Use a syringe, not a cylinder: at this volume a cylinder with divisions of <span class="q">1 ml</span> is wrong by up to a tenth.</p>
<ul><li>Draw a little more than you need, then push back to the line.</li><li>Read the syringe at eye level, at the edge of the piston.</li><li>Rinse the syringe twice into the tank.</li></ul>
<p class="working-note">Tick off as you go:</p>
<ul><li class="task"><input type="checkbox" checked aria-label="gloves on"> gloves on</li><li class="task"><input type="checkbox" aria-label="thermometer rinsed"> thermometer rinsed</li></ul>
<h2 id="times">Developing times at other temperatures, tank by tank</h2>
<p>Find your temperature, then your dilution. A dash means that the page gives no number there.</p>
<section class="wide" aria-label="Developing time by developer temperature" tabindex="0"><table><caption>Developing time by developer temperature</caption>
<thead><tr><th scope="col">Developer temperature</th><th scope="col" class="number">Dilution 1+50</th><th scope="col" class="number">Dilution 1+100</th></tr></thead>
<tbody><tr><th scope="row"><span class="q">18 °C</span></th><td class="number"><span class="q">9 min 30 s</span></td><td class="number"><span class="q">13 min</span></td></tr>
<tr><th scope="row"><span class="q">20 °C</span></th><td class="number"><span class="q">8 min</span></td><td class="number"><span class="q">11 min</span></td></tr>
<tr><th scope="row"><span class="q">22 °C</span></th><td class="number"><span class="q">6 min 45 s</span></td><td class="number"><span class="q">9 min 15 s</span></td></tr>
<tr><th scope="row"><span class="q">24 °C</span></th><td class="number">–</td><td class="number"><span class="q">7 min 45 s</span></td></tr></tbody></table></section>
<h3 id="warm">A warm kitchen</h3>
<p>Stand the tank in a bowl of water at the developer’s temperature. See <a href="index.html">the other guides</a> for cooling a tank.</p>
<h2 id="words">Words</h2>
<dl><dt>One-shot</dt><dd>Used once and poured away.</dd><dt>Make up to</dt><dd>Fill with water to the final volume.</dd></dl>
<p>The formula in the notebook:</p>
<pre><code>tank * strength
</code></pre>
<blockquote><p>Stir slowly: air fades a developer faster than time does.</p></blockquote>
<section class="notes" role="doc-endnotes" aria-label="Notes"><ol><li id="Note-1"><p>Illustrative numbers of an invented shop. <a href="#Note-1-from" role="doc-backlink" aria-label="Back to the text">↩︎</a></p></li></ol></section>`

var fixtureCautions = []Caution{
	{Name: "gloves", Word: "WARNING", Text: "<p>Pyrogallol is harmful through the skin and can cause lasting damage. Wear nitrile gloves and change them when they are wet inside.</p>"},
	{Name: "splash", Word: "CAUTION", Text: "<p>Splashes irritate the eyes. Wear goggles while you pour.</p>"},
	{Name: "light", Word: "NOTICE", Text: "<p>Light spoils film. Close the tank before you turn on the light.</p>"},
}

func fixtureGiven() Given {
	return Given{Rows: []GivenRow{
		{Name: "tank", Label: "Working solution", Kind: "quantity", Value: val("500 ml"), From: val("500 ml"), To: val("2 l"), Step: val("50 ml")},
		{Name: "bath", Label: "Developer temperature", Kind: "quantity", Value: val("20 °C"), From: val("18 °C"), To: val("24 °C"), Step: val("0.5 K")},
		{Name: "strength", Label: "Dilution", Kind: "choice", Value: val("1+100"), Choices: []Choice{{Value: val("1+50")}, {Value: val("1+100"), Chosen: true}}},
		{Name: "rolls", Label: "Rolls in the tank", Kind: "number", Value: val("1"), From: val("1"), To: val("4"), Step: val("1"), Whole: true},
		{Name: "minimum", Label: "Least concentrate for one roll", Kind: "quantity", Value: val("4 ml"), Fixed: true, Source: "measured here 2026-09-14", Owner: "process lead", Review: "12 months"},
		{Name: "factor", Label: "Time factor per kelvin", Kind: "number", Value: val("1.09"), Fixed: true, Source: "measured here 2026-09-14", Owner: "process lead"},
	}}
}

func fixtureFigures() Figures {
	return Figures{Rows: []Figure{
		{Name: "concentrate", Label: "Concentrate", Value: val("5.0 ml")},
		{Name: "water", Label: "Water", Value: val("495 ml")},
		{Name: "rounding_error", Label: "Error from rounding", Value: val("1.0 %")},
		{Name: "develop", Label: "Developing time", Value: val("11 min")},
	}}
}

func fixtureArithmetic() Arithmetic {
	return Arithmetic{Rows: []Working{
		{Name: "exact", Formula: "tank * strength", Numbers: "500 ml * 1/101", Result: val("4.95 ml"), Unrounded: q("4.95049504950495 ml")},
		{Name: "concentrate", Label: "Concentrate", Formula: "round(exact, 0.1 ml)", Numbers: "round(4.95 ml, 0.1 ml)", Result: val("5.0 ml")},
		{Name: "water", Label: "Water", Formula: "tank - concentrate", Numbers: "500 ml - 5.0 ml", Result: val("495 ml")},
		{Name: "rounding_error", Label: "Error from rounding", Formula: "(concentrate - exact) / exact", Numbers: "(5.0 ml - 4.95 ml) / 4.95 ml", Result: val("1.0 %"), Unrounded: q("0.01")},
		{Name: "base_time", Formula: "lookup(times.minutes, times.strength, strength)", Numbers: "lookup(times.minutes, times.strength, 1+100)", Result: val("11 min")},
		{Name: "develop", Label: "Developing time", Formula: "time_at_temperature(base_time, 20 °C, bath, factor, 18 °C, 24 °C)", Numbers: "time_at_temperature(11 min, 20 °C, 20 °C, 1.09, 18 °C, 24 °C)", Result: val("11 min")},
	}}
}

func fixtureChecks() Checks {
	return Checks{
		Cases: []CheckCase{
			{Case: "Working solution " + q("500 ml"), Source: "common practice, no source", Results: []CheckResult{
				{Label: "Concentrate", Expected: q("5.0 ml"), Found: q("5.0 ml")},
				{Label: "exact", Expected: q("4.95 ml ± 0.01 ml"), Found: q("4.9505 ml")},
			}},
			{Case: "Rolls in the tank " + q("4"), Source: "measured here 2026-09-14", Results: []CheckResult{{Expected: "refused", Found: "refused"}}},
		},
		Always: []CheckAlways{{Formula: "abs(rounding_error) &lt;= 2 %", Tried: 3224, Refused: 1612}},
	}
}

func fixtureControl() *Control {
	return &Control{
		Number: "G-014", Revision: "3", Status: "approved", Owner: "process lead", ApprovedBy: "shop owner",
		Approved: Date{"2026-09-30", "30 September 2026"}, Effective: Date{"2026-10-01", "1 October 2026"},
		Review: "12 months", ReviewDue: Date{"2027-10-01", "1 October 2027"},
		Changes: []Change{
			{Revision: "3", Text: "The syringe is read to a tenth of a millilitre."},
			{Revision: "2", Text: "The least concentrate for one roll was measured again."},
		},
	}
}

// guide is a customers' page with everything that a page can have.
func guide(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := &Instruction{
		Shell:    fixtureShell(t, set, "../", "Mixing a one-shot staining developer", "mixing"),
		Summary:  "How much syrup to draw for your tank, and how long to develop.",
		Topics:   []string{"developing", "black and white"},
		Control:  fixtureControl(),
		Contents: []Heading{{"measure", "Measure the syrup", 2}, {"times", "Developing times at other temperatures, tank by tank", 2}, {"warm", "A warm kitchen", 3}, {"words", "Words", 2}},
		Supplies: []template.HTML{"Concentrate, shaken", "Water at the temperature of the tank"},
		Tools:    []template.HTML{"Syringe with divisions of " + q("0.2 ml"), "Thermometer", "Cylinder"},
		Body:     guideText,
		Notice:   notice,
		Before:   &Link{"Measuring thick concentrate", "measuring.html"},
		After:    &Link{"Warm kitchen, cool tank", "warm-kitchen.html"},
		Place:    "Page 3 of 15",
	}
	p.Description, p.Number, p.Revision = p.Summary, "G-014", "3"
	p.Trail = []Link{{"Front page", "../index.html"}, {"Mixing", "index.html"}}
	p.Hazards = html(set.Hazards(fixtureHazards(t, simple)))
	p.Aftercare = html(set.Aftercare(fixtureHazards(t, simple)))
	p.Cautions = html(set.Cautions(fixtureCautions))
	p.Panel = put(p.Panel, "given", html(set.Given(fixtureGiven())))
	p.Panel = put(p.Panel, "figures", html(set.Figures(fixtureFigures())))
	p.Basis = put(p.Basis, "arithmetic", html(set.Arithmetic(fixtureArithmetic())))
	p.Basis = put(p.Basis, "checks", html(set.Checks(fixtureChecks())))
	return p
}

// put sets the block with a name in a list of blocks.
func put(list []Block, name string, html template.HTML) []Block {
	for i, b := range list {
		if b.Name == name {
			list[i].HTML = html
			return list
		}
	}
	return append(list, Block{name, html})
}

// placed is the guide with its blocks placed in its text, and a heading right before each thing that a page can
// place.
func placed(t testing.TB, set *Templates) *Instruction {
	p := guide(t, set)
	long := template.HTML("A heading in the margin that is longer than the text beside it")
	h := func(id string, text template.HTML) template.HTML {
		return template.HTML(`<h2 id="`+id+`">`) + text + template.HTML(` <a class="here" href="#`+id+`" aria-label="Link to this part">↳</a></h2>`)
	}
	caution := must[template.HTML](t)(set.Cautions([]Caution{{Word: "CAUTION", Text: fixtureCautions[1].Text}}))
	table := template.HTML(`<section class="wide" aria-label="Film, Rolls" tabindex="0"><table><thead><tr><th scope="col">Film</th><th scope="col">Rolls</th></tr></thead><tbody><tr><td>one roll</td><td>one</td></tr></tbody></table></section>`)
	p.Body = "<p>First, set what you have.</p>\n" + h("set", "Set your tank and temperature") + p.Given() + "\n" + p.Figures() +
		h("mix", "Mix") + caution + "<p>Stir.</p>" +
		h("a", long) + "<p>Short.</p>" + h("b", long+" again") + h("c", "Two headings in a row") + "<p>Text.</p>" +
		h("d", long+" in a table") + table + h("e", long+" in a list") + "<ol><li>One.</li></ol>" + h("f", long+" over another") + "<h3>Smaller</h3><p>Text.</p>" +
		h("g", "How it came about") + p.Arithmetic() + h("h", long+" at the end")
	p.Panel, p.Basis, p.Contents = nil, p.Basis[1:], nil
	return p
}

// refused is the same guide with four rolls in the tank.
func refused(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := guide(t, set)
	p.Preview = "It is shown at values that the page refuses."
	refusal := []Limit{{Kind: "refused", Text: "Too little developer for this much film. Use a larger tank."}}
	p.Panel = put(p.Panel, "figures", html(set.Figures(Figures{Limits: refusal})))
	working := fixtureArithmetic()
	working.Limits = refusal
	for i := range working.Rows {
		r := &working.Rows[i]
		r.Numbers, r.Result, r.Unrounded = "", Value{}, ""
	}
	p.Basis = put(p.Basis, "arithmetic", html(set.Arithmetic(working)))
	p.Body = `<p>Draw <span class="q q-none">no number</span> of concentrate.</p>`
	p.Contents = nil
	return p
}

// procedure is a staff page that is overdue, with every kind of limit.
func procedure(t testing.TB, set *Templates) *Instruction {
	html := must[template.HTML](t)
	p := &Instruction{
		Shell:   fixtureShell(t, set, "../", "Morning check of the hand line", "bench"),
		Summary: "What to read, write down and decide before the first film goes in.",
		Staff:   true,
		Control: &Control{
			Number: "P-003", Revision: "7", Status: "approved", Owner: "process lead", ApprovedBy: "shop owner",
			Approved: Date{"2025-08-29", "29 August 2025"}, Effective: Date{"2025-09-01", "1 September 2025"},
			Review: "12 months", ReviewDue: Date{"2026-09-01", "1 September 2026"}, Overdue: Overdue{Due: "2026-09-01"},
			Changes: []Change{{"7", "The fixer is tested before the first film, not after it."}},
		},
		Body:   `<h2 id="order">In this order</h2><ol><li>Read the thermometer in the tank, not the one in the water jacket.</li><li>Test the fixer with a clip of film: it clears in <span class="q">40 s</span> or less.</li><li>Write lot, time and initials in the log.</li></ol><h2 id="decide">Decide</h2><p>Outside the aim, hold the work and tell the process lead.</p>`,
		Before: &Link{"Label for a secondary container", "label.html"},
		Place:  "Page 3 of 15",
		Notice: notice,
	}
	p.StaffSite = true
	p.Number, p.Revision = "P-003", "7"
	p.Trail = []Link{{"Front page", "../index.html"}, {"Bench procedures", "index.html"}}
	p.Cautions = html(set.Cautions([]Caution{
		{Name: "acid", Word: "DANGER", Text: "<p>Strong acid burns at once. Always add acid to water, never water to acid.</p>", From: &Link{"Mixing a stop bath", "stop-bath.html"}},
	}))
	given := Given{Rows: []GivenRow{
		{Name: "clear", Label: "Clearing time", Kind: "quantity", Value: val("40 s"), From: val("10 s"), To: val("5 min"), Step: val("5 s")},
		{Name: "fresh", Label: "Clearing time of fresh fixer", Kind: "quantity", Value: val("25 s"), Fixed: true, Source: "measured here 2025-08-20", Owner: "process lead", Review: "6 months", Overdue: Overdue{Due: "2026-02-20"}},
	}}
	p.Panel = put(p.Panel, "given", html(set.Given(given)))
	p.Panel = put(p.Panel, "figures", html(set.Figures(Figures{
		Limits: []Limit{
			{Kind: "notice", Text: "The test strip is older than a month."},
			{Kind: "caution", Text: "The fixer is past half of its life."},
			{Kind: "warning", Text: "Discard the fixer when it needs twice its first time."},
		},
		Rows: []Figure{{Name: "fix", Label: "Fixing time", Value: val("2 min")}},
	})))
	return p
}

func section(t testing.TB, set *Templates) *Drawer {
	s := &Drawer{Instruction: Instruction{
		Shell:   fixtureShell(t, set, "../", "Mixing", "mixing"),
		Summary: "From a bottle, a packet or a jar to the solution in your tank.",
		Body:    "<p>Every page here gives its numbers for the tank that you have.</p>",
	}}
	s.Trail = []Link{{"Front page", "../index.html"}}
	s.Cabinet = []Entry{{Title: "From dry chemicals", Href: "dry/index.html", Summary: "Weighing, hydrates and old ounces.", Count: 4}}
	s.Filed = []Entry{
		{Title: "Mixing a one-shot staining developer", Href: "one-shot-developer.html", Summary: "How much syrup to draw for your tank, and how long to develop.", Number: "G-014", Revision: "3"},
		{Title: "Measuring thick concentrate", Href: "measuring.html", Summary: "Syringe, cylinder or balance: which of them is good enough."},
		{Title: "Mixing a stop bath", Href: "stop-bath.html", Number: "P-011", Revision: "2", Staff: true, Status: "draft", Overdue: Overdue{Due: "2026-09-01", Past: true}},
	}
	return s
}

func front(t testing.TB, set *Templates) *Front {
	f := &Front{Instruction: Instruction{
		Shell:   fixtureShell(t, set, "", "Brindle Weir Film Lab", ""),
		Summary: "Guides for your own darkroom, from the bench of a small film lab.",
		Body:    "<p>Brindle Weir Film Lab of Osterby Cross is invented, and so are its numbers. Do not process film by them.</p>",
	}}
	f.Cabinet = []Entry{
		{Title: "First rolls", Href: "first-rolls/index.html", Summary: "Everything for your first roll of black and white film.", OnTop: []Link{{"Your first staining-developer roll", "first-rolls/a.html"}, {"How many rolls will my bottle make?", "first-rolls/b.html"}}, Count: 4},
		{Title: "Mixing", Href: "mixing/index.html", Summary: "From a bottle, a packet or a jar to the solution in your tank.", Count: 15},
		{Title: "Exposure", Href: "exposure/index.html", Summary: "Long exposures, filters and a pinhole camera.", Count: 1},
		{Title: "Printing", Href: "printing/index.html", Summary: "Test strips, dodging and burning, bigger prints.", Count: 6},
		{Title: "Bench procedures", Href: "bench/index.html", Staff: true, Count: 15},
	}
	f.Filed = []Entry{{Title: "Whom to ask", Href: "ask.html", Summary: "Who answers for what."}}
	return f
}

func withdrawn(t testing.TB, set *Templates) *Withdrawn {
	c := fixtureControl()
	c.Number, c.Status, c.Changes = "G-009", "withdrawn", nil
	w := &Withdrawn{
		Shell:   fixtureShell(t, set, "../", "Pushing film in a two-bath developer", "mixing"),
		Control: c, Ask: "process lead",
	}
	w.Number, w.Revision = "G-009", "3"
	return w
}

func missing(t testing.TB, set *Templates) *Missing {
	m := &Missing{Shell: fixtureShell(t, set, "/", "Not found", "")}
	m.Canonical = ""
	return m
}

// fixturePages are all pages of the fixture by their path on the site.
func fixturePages(t testing.TB, set *Templates) map[string][]byte {
	page := must[[]byte](t)
	pages := map[string][]byte{
		"mixing/one-shot-developer.html": page(set.Instruction(guide(t, set))),
		"mixing/placed.html":             page(set.Instruction(placed(t, set))),
		"mixing/refused.html":            page(set.Instruction(refused(t, set))),
		"mixing/withdrawn.html":          page(set.Withdrawn(withdrawn(t, set))),
		"mixing/index.html":              page(set.Drawer(section(t, set))),
		"bench/morning-check.html":       page(set.Instruction(procedure(t, set))),
		"index.html":                     page(set.Front(front(t, set))),
		"missing.html":                   page(set.Missing(missing(t, set))),
		"bench/run.html":                 page(set.Instruction(bench(t, set))),
		"bench/run-refused.html":         page(set.Instruction(refusedBench(t, set))),
		"bench/run.card.html":            page(set.Card(card(t, set, true))),
		"bench/run.labels.html":          page(set.Labels(labels(t, set))),
		"bench/run.products.html":        page(set.Products(products(t, set))),
		"mixing/one-shot.card.html":      page(set.Card(card(t, set, false))),
		"register.html":                  page(set.Register(register(t, set))),
		"mixing/scripted.html":           bytes.Replace(page(set.Instruction(scripted(t, set))), []byte("<html "), []byte(`<html class="scripted" `), 1),
	}
	for name, raw := range set.Assets() {
		pages[name] = raw
	}
	return pages
}
