package prove

import (
	"math"
	"os"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/quantity"
)

func wholePage(t *testing.T) (string, pagetest.Shelf) {
	t.Helper()
	page, err := os.ReadFile("testdata/whole-page.md")
	if err != nil {
		t.Fatal(err)
	}
	times, err := os.ReadFile("testdata/one-shot-times.csv")
	if err != nil {
		t.Fatal(err)
	}
	return string(page), pagetest.Shelf{"one-shot-times.csv": string(times)}
}

// A page with all keys builds without a message, and its numbers are those of a calculation by hand.
func TestWholePage(t *testing.T) {
	text, library := wholePage(t)
	s, p, list := buildWith(text, library, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	shown := map[string]string{}
	for _, f := range s.Figures {
		shown[f.Name] = p.Own.Shown(f).Text
	}
	for name, want := range map[string]string{
		"exact": "4.95 ml", "concentrate": "5.0 ml", "water": "495 ml", "rounding_error": "1.0 %",
		"base_time": "11 min", "develop": "11 min",
	} {
		if shown[name] != want {
			t.Errorf("%s is %q, want %q", name, shown[name], want)
		}
	}
	for name, want := range map[string]string{"tank": "500 ml", "bath": "20 °C", "strength": "1+100", "rolls": "1", "minimum": "4 ml", "factor": "1.09"} {
		if got := p.Own.ShownGiven(s.GivenNamed(name)).Text; got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if s.Title != "Mixing a one-shot staining developer" || s.Audience != page.Customers || len(s.Topics) != 2 || s.Control.Number != "G-014" ||
		s.Control.Revision != 3 || s.Control.Status != page.Approved || len(s.Control.Changes) != 1 || len(s.Cautions) != 1 || len(s.Checks) != 3 {
		t.Errorf("the page was read as %+v", s)
	}
	if due, ok := s.Control.Due(); !ok || due.Format("2006-01-02") != "2027-10-01" {
		t.Errorf("due on %v", due)
	}
	if !strings.HasPrefix(s.File.Text[s.Body:], "\n{gloves}") {
		t.Errorf("the body begins with %.20q", s.File.Text[s.Body:])
	}
	// 31 tanks, 13 temperatures, 2 strengths and 4 rolls, and the middles of 30 and 12 steps
	if want := 31*13*2*4 + 30 + 12; p.Cases != want || !p.All {
		t.Errorf("%d cases, all of them %v; want %d", p.Cases, p.All, want)
	}
	if p.Refused == 0 || p.Refused >= p.Cases {
		t.Errorf("%d of %d cases are refused", p.Refused, p.Cases)
	}
	for _, v := range p.Verdicts {
		if !v.OK {
			t.Errorf("%+v", v)
		}
	}

	// 750 ml at 22 °C, 1+50, two rolls, by hand: 750/51 = 14.7059, rounded 14.7;
	// 6.25 min = 375 s; 375 * 1.09^-2 = 315.63 s, to 15 s 5 min 15 s
	c := NewCase(s)
	set := func(name, value string) {
		base, trouble := s.GivenNamed(name).Set(value)
		if trouble != nil {
			t.Fatalf("%s: %s", name, trouble.Message)
		}
		c.Set(s.GivenNamed(name), base)
	}
	set("tank", "0.75 l")
	set("bath", "71.6 °F")
	set("strength", "1+50")
	set("rolls", "2")
	c.Work()
	if c.Refused() || len(c.Failed) > 0 || len(c.Holding) > 0 {
		t.Fatalf("%v %v %v", c.Refusals, c.Failed, c.Holding)
	}
	for name, want := range map[string]string{"concentrate": "14.7 ml", "water": "735 ml", "develop": "5 min 15 s"} {
		if got := c.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if got := c.Frame.V[s.Figure("develop").Slot]; math.Abs(got-375*math.Pow(1.09, -2)) > 1e-9 {
		t.Errorf("develop is %v", got)
	}
	set("bath", "24 °C")
	c.Work() // 375 * 1.09^-4 = 265.7 s
	if len(c.Holding) != 1 || c.Holding[0].Kind != page.Notice {
		t.Errorf("under five minutes: %v", c.Holding)
	}
	set("rolls", "4")
	c.Work() // 14.7 / 4 = 3.68 ml a roll
	if !c.Refused() || c.Why() != "Too little developer for this much film. Use a larger tank." {
		t.Errorf("too many rolls: %v", c.Refusals)
	}
}

// Anything that is removed from the page or misspelt in it is noticed.
func TestWholePageBroken(t *testing.T) {
	text, library := wholePage(t)
	for _, c := range []struct{ old, new, code string }{
		{"exact: tank * strength", "exact: tnak * strength", "unknown-name"},
		{"exact: tank * strength", "exact: tank * bath", "point-multiplied"},
		{"exact: tank * strength", "exact: tank * strength * 1.1", "check-fails"},
		{"round(exact, 0.1 ml)", "round(exact, 0.1 g)", "wrong-kind"},
		{"round(exact, 0.1 ml)", "round(exact, 1 ml)", "always-fails"},
		{"expect: refused", "expect: notice", "check-fails"},
		{"at: {rolls: 4}", "at: {rolls: 1}", "check-fails"},
		{"at: {rolls: 4}", "at: {rolls: 5}", "out-of-range"},
		{"at: {rolls: 4}", "at: {rolls: 1.5}", "whole-only"},
		{"at: {rolls: 4}", "at: {roll: 4}", "unknown-given"},
		{"at: {tank: 500 ml}", "at: {tank: 500 g}", "wrong-kind"},
		{"at: {tank: 500 ml}", "at: {tank: 500}", "unit-missing"},
		{"at: {tank: 500 ml}", "at: {minimum: 5 ml}", "given-fixed"},
		{"5.0 ml, exact", "4.9 ml, exact", "check-fails"},
		{"± 0.01 ml", "± 0.0001 ml", "check-fails"},
		{"± 0.01 ml", "± 0.01 g", "kinds-differ"},
		{"<= 2 %", "<= 0.5 %", "always-fails"},
		{"choices: [1+50, 1+100]", "choices: [1+50, 1+75]", "not-a-choice"},
		{"choices: [1+50, 1+100]", "choices: [1+50, 1+100, 1+200]", ""},
		{"value: 20 °C, from", "value: 25 °C, from", "outside-own-range"},
		{"to: 24 °C, step", "to: 24 K, step", "kinds-differ"},
		{"step: 0.5 K", "step: 0.5 ml", "kinds-differ"},
		{"when: exact / rolls < minimum", "when: exact / rolls", "wrong-kind"},
		{"when: develop < 5 min", "when: develop < 1 min", "limit-never"},
		{"when: exact / rolls < minimum", "when: exact > 0 ml", "refused-at-own-values"},
		{"audience: customers", "audience: everybody", "not-one-of"},
		{"revision: 3", "revision: three", "wrong-shape"},
		{"approved: 2026-09-30", "approved: 30 September", "not-a-date"},
		{"review: 12 months\n  changes", "review: sometimes\n  changes", "not-a-period"},
		{"    3: The", "    4: The", "change-beyond"},
		{"one-shot-times.csv", "one-shot-time.csv", "link-nowhere"},
		{"times.minutes, times", "times.minute, times", "unknown-column"},
		{"for: develop", "for: water", "wrong-kind"},
		{"cell: develop", "cell: develops", "unknown-figure"},
		{"x: bath", "x: baht", "unknown-given"},
		{"y: develop", "y: [develop, water]", "kinds-differ"},
		{"word: WARNING", "word: BEWARE", "not-one-of"},
		{"substances: [pyrogallol", "substances: [pyrogalol", ""},
		{"title: Mixing", "titel: Mixing", "unknown-key"},
	} {
		if !strings.Contains(text, c.old) {
			t.Fatalf("the page has no %q", c.old)
		}
		_, _, list := buildWith(strings.Replace(text, c.old, c.new, 1), library, page.World{})
		found := c.code == "" && list.Errors() == 0
		for _, d := range list {
			found = found || d.Code == c.code
			if d.Message == "" || d.Hint == "" {
				t.Errorf("%s has message %q and hint %q", d.Code, d.Message, d.Hint)
			}
		}
		if !found {
			t.Errorf("%q for %q: want %q, got %s", c.new, c.old, c.code, list)
		}
	}
}

// A given shows its own value as it is written, and other values in its unit.
func TestGivenShown(t *testing.T) {
	s, _, list := build(pagetest.WithKeys(`
given:
  tank: {value: 0.50 l, from: 500 ml, to: 2 l}
  strength: {value: 1+50, choices: [1+50, 2+98, 1 in 10]}
  time: {value: 10 min 30 s, from: 1 min, to: 1 h}
  speed: {value: 1/125 s, choices: [1/125 s, 1/60 s]}
  film: {value: roll, choices: [roll, sheet]}
  fast: true
  slow: no
  fee: 12.50 USD
  wait: 12 months
  burn: {value: 2/3 stop, from: 1/6 stop, to: 2 stop, step: 1/6 stop}
  hold: {value: 1/2 s, from: 1/8 s, to: 4 s}
figures:
  a1: "fast and slow ? tank : tank * strength"
`))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	for _, c := range []struct{ name, set, want string }{
		{"tank", "500 ml", "0.50 L"}, {"tank", "1500 ml", "1.5 L"}, {"strength", "1+50", "1+50"}, {"strength", "2+98", "2+98"},
		{"strength", "0.1", "1 in 10"}, {"time", "630 s", "10 min 30 s"}, {"time", "5 min", "5 min"}, {"speed", "1/60 s", "1/60 s"},
		{"film", "sheet", "sheet"}, {"fast", "no", "no"}, {"fast", "true", "yes"}, {"slow", "yes", "yes"}, {"fee", "12.5 USD", "12.50 USD"},
		{"wait", "12 months", "12 months"}, {"time", "90.5 s", "90.5 s"},
		// in thirds a sixth would be shown as one third
		{"burn", "1/6 stop", "1/6 stop"}, {"burn", "1/3 stop", "1/3 stop"}, {"burn", "0.4 stop", "0.4 stop"}, {"burn", "1 1/6 stop", "1 1/6 stop"},
		{"hold", "0.25 s", "1/4 s"}, {"hold", "0.3 s", "0.3 s"},
	} {
		g := s.GivenNamed(c.name)
		base, trouble := g.Set(c.set)
		if trouble != nil {
			t.Errorf("%s at %s: %s", c.name, c.set, trouble.Message)
			continue
		}
		if got := g.Shown(base).Text; got != c.want {
			t.Errorf("%s at %s reads %q, want %q", c.name, c.set, got, c.want)
		}
	}
}

func TestChoices(t *testing.T) {
	for _, c := range []struct{ keys, kind, codes string }{
		{"{value: 1+50, choices: [1+50, 1+100]}", "a plain number", ""},
		{"{value: 5 ml, choices: [5 ml, 1 cl]}", "a volume", ""},
		{"{value: 0.5 cl, choices: [5 ml, 1 cl]}", "a volume", ""},
		{"{value: roll, choices: [roll, sheet]}", "a text", ""},
		{"{value: roll, choices: [roll, 5 ml]}", "a text", ""}, // quantities only when every item is one
		{"{value: 5 ml, choices: [5 ml, 5 g]}", "", "kinds-differ"},
		{"{value: 5 ml, choices: [5 ml, 0.5 cl]}", "", "choice-twice"},
		{"{value: roll, choices: [roll, roll]}", "", "choice-twice"},
		{"{value: 6 ml, choices: [5 ml, 1 cl]}", "", "not-a-choice"},
		{"{value: disc, choices: [roll, sheet]}", "", "not-a-choice"},
		{"{value: 5 g, choices: [5 ml, 1 cl]}", "", "kinds-differ"},
		{"{value: 5 ml, choices: []}", "", "no-choices"},
		{"{value: 5 ml, choices: 5 ml}", "", "wrong-shape"},
		{"{value: 5 ml, choices: [5 ml, 1ml]}", "", "blank-before-unit"},
		{"{value: 5 ml, choices: [5 ml, 10 ml], from: 1 ml}", "", "choices-and-range"},
		{"{value: 5 ml, choices: [5 ml, 10 ml], step: 1 ml}", "", "choices-and-range"},
		{"{choices: [5 ml]}", "", "missing-key"},
		{"{value: 5 ml, from: 1 ml}", "", "half-range"},
		{"{value: 5 ml, to: 1 ml}", "", "half-range"},
		{"{value: 5 ml, step: 1 ml}", "", "step-alone"},
		{"{value: 5 ml, from: 9 ml, to: 1 ml}", "", "range-order"},
		{"{value: 5 ml, from: 6 ml, to: 9 ml}", "", "outside-own-range"},
		{"{value: 5 ml, from: 1 g, to: 9 ml}", "", "kinds-differ"},
		{"{value: 5 ml, from: 1 ml, to: 9 ml, step: 0 ml}", "", "step-not-positive"},
		{"{value: 5 ml, from: 1 ml, to: 9 ml, step: -1 ml}", "", "step-not-positive"},
		{"{value: 20 °C, from: 18 °C, to: 24 °C, step: 1 °F}", "a temperature", ""},
		{"{value: 68 °F, from: 60 °F, to: 80 °F, step: 1 °F}", "a temperature", ""},
		{"{value: 610 ml, from: 500 ml, to: 1 l, step: 50 ml}", "a volume", ""},
		{"{value: 600 ml, from: 500 ml, to: 1010 ml, step: 50 ml}", "a volume", ""},
		{"{value: 0.7 l, from: 500 ml, to: 1 l, step: 50 ml}", "a volume", ""},
		{"{value: 0.3, from: 0.1, to: 0.7, step: 0.1}", "a plain number", ""},
		{"{value: 1 1/3 stop, from: 0 stop, to: 3 stop, step: 1/3 stop}", "stops", ""},
		{"{value: 1 1/2 stop, from: 0 stop, to: 3 stop, step: 1/3 stop}", "stops", ""},
		{"{value: 400 ml, from: 500 ml, to: 1 l, step: 50 ml}", "a volume", "outside-own-range"},
		{"{value: 2, from: 1, to: 4}", "a plain number", ""},
		{"{value: 5 ml, from: 5 ml, to: 5 ml}", "a volume", ""},
		{"{label: L}", "", "missing-key"},
		{"[5 ml]", "", "wrong-shape"},
		{"yes", "yes or no", ""},
		{"false", "yes or no", ""},
		{"5 ml", "a volume", ""},
		{"roll", "", "not-a-number"},
	} {
		s, _, list := build(pagetest.WithKeys("given:\n  x: " + c.keys))
		var codes []string
		for _, d := range list {
			codes = append(codes, d.Code)
		}
		if got := strings.Join(codes, " "); got != c.codes {
			t.Errorf("%s: %q, want %q", c.keys, got, c.codes)
			continue
		}
		if c.kind != "" && s.Given[0].Kind.Name() != c.kind {
			t.Errorf("%s is %s, want %s", c.keys, s.Given[0].Kind.Name(), c.kind)
		}
	}
}

// A plain number with whole ends takes only whole numbers, unless it has another step.
func TestWhole(t *testing.T) {
	for keys, whole := range map[string]bool{
		"{value: 1, from: 1, to: 4}": true, "{value: 1, from: 1, to: 4, step: 1}": true, "{value: 1, from: 1, to: 4, step: 2}": true,
		"{value: 1, from: 1, to: 4, step: 0.5}": false, "{value: 1, from: 1, to: 4.5}": false, "{value: 1.5, from: 1, to: 4}": false,
		"{value: 1 ml, from: 1 ml, to: 4 ml}": false, "{value: 100 %, from: 0 %, to: 200 %}": false, "1": false,
	} {
		s, _, list := build(pagetest.WithKeys("given:\n  x: " + keys))
		if list.Errors() > 0 {
			t.Errorf("%s: %s", keys, list)
			continue
		}
		if s.Given[0].Whole != whole {
			t.Errorf("%s takes whole numbers only: %v", keys, !whole)
		}
		if _, trouble := s.Given[0].Set("2.5"); keys[0] == '{' && s.Given[0].Kind == quantity.Number && (trouble != nil) != whole && s.Given[0].To.Base > 2.4 {
			t.Errorf("%s at 2.5: %v", keys, trouble)
		}
	}
}
