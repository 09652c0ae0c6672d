package formulary_test

import (
	"context"
	"strings"
	"testing"

	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
)

// pageOf builds a page whose formulas may call the built-in bench formulas.
func pageOf(t *testing.T, keys string) (*page.Sheet, *prove.Proof, source.List) {
	t.Helper()
	return pageIn(t, nil, keys)
}

// folder holds the data files beside a page.
type folder map[string]string

func (f folder) Files() []string { return nil }

func (f folder) Table(path string) (*page.Table, bool) {
	text, ok := f[path]
	if !ok {
		return nil, false
	}
	file, _ := source.New(path, []byte(text))
	table, list := page.ReadTable(file)
	if list.Errors() > 0 {
		return nil, true
	}
	return table, true
}

func pageIn(t *testing.T, beside folder, keys string) (*page.Sheet, *prove.Proof, source.List) {
	t.Helper()
	f, list := source.New("page.md", []byte("---\ntitle: T\naudience: staff\n"+strings.Trim(keys, "\n")+"\n---\nBody.\n"))
	s, more := page.Decode(f, beside)
	list = append(list, more...)
	if s == nil {
		return nil, nil, list
	}
	list = append(list, s.ResolveIn(page.World{Trades: formulary.Load()})...)
	if list.Errors() > 0 {
		return s, nil, list
	}
	p, more := prove.Sheet(context.Background(), s)
	return s, p, append(list, more...)
}

// ours is a given that the shop answers for.
const ours = ", source: measured here 2026-09-14, owner: process lead}"

const develop = `
given:
  bath: {value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  factor: {value: 1.09` + ours + `
figures:
  time: {label: Time, formula: "time_at_temperature(11 min, 20 °C, bath, factor, 18 °C, 24 °C)", show: usual}
checks:
  - at: {bath: 22 °C}
    expect: {time: 9 min 15 s}
    source: from memory
`

func TestPageCallsABenchFormula(t *testing.T) {
	_, p, list := pageOf(t, develop)
	if len(list) > 0 || len(p.Verdicts) != 1 || !p.Verdicts[0].OK || p.Verdicts[0].Found != "9 min 15 s" {
		t.Fatalf("%v %+v", list, p)
	}
}

func TestOwnedArguments(t *testing.T) {
	for _, c := range []struct{ name, old, new string }{
		{"a given with source and owner", "factor,", "factor,"},
		{"a figure made of such", "figures:\n", "figures:\n  again: factor * 1\n"},
		{"a part chosen by anything", "bath, factor, 18", "bath, bath > 20 °C ? factor : factor + 0.01, 18"},
		{"a number", "bath, factor, 18", "bath, ⟦not-owned|1.09⟧, 18"},
		{"numbers", "bath, factor, 18", "bath, ⟦not-owned|1 + 0.09⟧, 18"},
		{"no owner", ", owner: process lead}", "}"},
		{"no source", ", source: measured here 2026-09-14, owner", ", owner"},
		{"mixed with what nobody owns", "bath, factor, 18", "bath, ⟦not-owned|factor + (bath - bath) / 1 K⟧, 18"},
		{"a let of a number", "\"time_at_temperature(11 min, 20 °C, bath, factor, 18 °C, 24 °C)\"", "\"let f = 1.00; time_at_temperature(11 min, 20 °C, bath, factor * f, 18 °C, 24 °C)\""},
		{"a let of what nobody owns", "\"time_at_temperature(11 min, 20 °C, bath, factor, 18 °C, 24 °C)\"", "\"let f = (bath - 19 °C) / 1 K; time_at_temperature(11 min, 20 °C, bath, ⟦not-owned|factor * f⟧, 18 °C, 24 °C)\""},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(develop, c.old, c.new, 1)
			if c.name == "a figure made of such" {
				text = strings.Replace(text, "bath, factor,", "bath, again,", 1)
			}
			if strings.HasPrefix(c.name, "no ") {
				text = strings.Replace(text, "bath, factor,", "bath, ⟦not-owned|factor⟧,", 1)
			}
			plain, want := marks(t, "---\ntitle: T\naudience: staff\n"+strings.Trim(text, "\n"))
			_, _, list := pageOf(t, strings.TrimPrefix(plain, "---\ntitle: T\naudience: staff\n"))
			sameMarks(t, list, want)
		})
	}
}

func TestWindowNarrowerThanTheControl(t *testing.T) {
	wide := strings.Replace(develop, "to: 24 °C, step", "to: 26 °C, step", 1)
	_, p, list := pageOf(t, wide)
	if len(list) != 1 || list[0].Code != "wider-than-tested" || list.Errors() != 0 || p.Refused == 0 {
		t.Fatalf("%v", list)
	}
	for _, text := range []string{"18 °C to 26 °C", "18 °C to 24 °C"} {
		if !strings.Contains(list[0].Message, text) {
			t.Errorf("%s: %s", text, list[0].Message)
		}
	}
	// a window of fixed givens is known as well, one that can be set is not
	fixed := strings.NewReplacer("18 °C, 24 °C)", "coolest, warmest)", "figures:", "  coolest: 18 °C\n  warmest: 22 °C\nfigures:").Replace(develop)
	if _, _, list := pageOf(t, fixed); len(list) != 1 || list[0].Code != "wider-than-tested" {
		t.Errorf("%v", list)
	}
	open := strings.Replace(fixed, "warmest: 22 °C", "warmest: {value: 22 °C, from: 20 °C, to: 24 °C, step: 1 K}", 1)
	if _, _, list := pageOf(t, open); list.Errors() > 0 || len(list) > 0 {
		t.Errorf("%v", list)
	}
}

func TestOutsideTheWindowThePageRefuses(t *testing.T) {
	s, _, list := pageOf(t, strings.Replace(develop, "to: 24 °C, step", "to: 26 °C, step", 1)+"  - {at: {bath: 25 °C}, expect: refused, source: from memory}\n")
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	c := prove.NewCase(s)
	c.Set(s.GivenNamed("bath"), 25)
	c.Work()
	if !c.Refused() || c.Why() != "Bath temperature: outside the window in which this was tested." {
		t.Errorf("refused %v: %q", c.Refused(), c.Why())
	}
	if span := c.Refusals[0].Span; span.Text() != "time_at_temperature" {
		t.Errorf("the refusal points to %q", span.Text())
	}
}

func TestKindsOfArguments(t *testing.T) {
	for _, c := range []struct{ formula, unit string }{
		// any kind, and a result of the same
		{"stock_for(1 l, 2 %, 80 %)", "L"},
		{"stock_for(400 g, 10 g/l, 68 g/l)", "g"},
		{"mixed_of_two(1 l, 20 °C, 2 l, 30 °C)", "°C"},
		{"price_at_margin(4.45 USD, margin)", "USD"},
		{"price_at_margin(4.45 EUR, margin)", "EUR"},
		{"overrun_of_limit(37.6 °C, 37.8 °C, limit)", "K"},
		// the unit is the first of the kind in the page's own formula, never one of the
		// bench formula's
		{"roller_speed(32 mm, 12 /min)", "mm/s"},
		{"stock_for(1 l, 2 g, ⟦wrong-kind|80 %⟧)", ""},
		{"stock_for(⟦wrong-kind|20 °C⟧, 2 %, 80 %)", ""},
		{"stock_for(1 l, 2 g/l, ⟦wrong-kind|80 %⟧)", ""},
		{"overrun_of_limit(37.6 °C, ⟦wrong-kind|0.2 K⟧, limit)", ""},
		{"overrun_of_limit(37.6 °C, 37.8 °C, ⟦wrong-kind|37 °C⟧)", ""},
		{"price_at_margin(⟦wrong-kind|4.45⟧, margin)", ""},
		{"⟦argument-count|price_at_margin⟧(4.45 USD)", ""},
		{"⟦unknown-function|price_at_margn⟧(4.45 USD, margin)", ""},
		{"price_at_margin(4.45 USD, margin) ⟦kinds-differ|+⟧ 1 EUR", ""},
	} {
		text, want := marks(t, "---\ntitle: T\naudience: staff\ngiven:\n  margin: {value: 55 %"+ours+"\n  limit: {value: 0.15 K"+ours+"\nfigures:\n  x: \""+c.formula+"\"")
		s, p, list := pageOf(t, strings.TrimPrefix(text, "---\ntitle: T\naudience: staff\n"))
		sameMarks(t, list, want)
		if c.unit != "" && p != nil {
			if shown := p.Own.Shown(s.Figure("x")); shown.Unit != c.unit {
				t.Errorf("%s: shown as %s", c.formula, shown.Text)
			}
		}
	}
}

// One call holds one currency, whichever it is.
func TestOneCurrencyInACall(t *testing.T) {
	const entry = `group: ours
formulas:
  dearer:
    sentence: The dearer of two offers.
    takes:
      first: {label: First offer, kind: money}
      second: {label: Second offer, kind: money}
    gives: money
    formula: max(first, second)
    source: from memory
    checks:
      - {at: {first: 1 EUR, second: 2 EUR}, expect: 2 EUR, source: from memory}
`
	set, list := own(t, entry)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if w, list := set.Work("dearer(3 USD, 2 USD)"); len(list) > 0 || w.Show.Format(w.Base).Text != "3.00 USD" {
		t.Errorf("%v %v", w, list)
	}
	if _, list := set.Work("dearer(3 USD, 2 EUR)"); list.Errors() != 1 || list[0].Code != "currencies-mixed" {
		t.Errorf("%v", list)
	}
}

func TestFaultInsideABenchFormulaPointsToTheCall(t *testing.T) {
	_, _, list := pageOf(t, "given:\n  n: {value: 1, from: 1, to: 400}\nfigures:\n  x: strip_time(8 s, 10 stop, n)\n")
	if list.Errors() == 0 || list[0].Code != "not-finite" || list[0].Line != 7 || list[0].Column != 6 {
		t.Errorf("%v", list)
	}
}
