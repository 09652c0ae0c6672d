package script

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/dop251/goja"
	"pgregory.net/rapid"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// bench is a page that a test talks to in JavaScript; `page` is its sheet.
type bench struct {
	t  testing.TB
	vm *goja.Runtime
}

func open(t testing.TB, s *page.Sheet) *bench {
	t.Helper()
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	r := referee(t)
	trial, err := r.Load(js)
	if err != nil {
		t.Fatalf("%v\n%s", err, js)
	}
	if err := r.vm.Set("page", trial.page); err != nil {
		t.Fatal(err)
	}
	return &bench{t, r.vm}
}

// run evaluates an expression and gives it as JSON.
func (b *bench) run(expression string) string {
	b.t.Helper()
	v, err := b.vm.RunString("JSON.stringify((" + expression + "))")
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v.String()
}

type setResult struct {
	OK      bool
	Base    float64
	Text    string
	Problem struct {
		Code, Message, Hint string
		Offers              []string
	}
}

func (b *bench) set(name, text string) (out setResult) {
	b.t.Helper()
	if err := json.Unmarshal([]byte(b.run("page.set("+quoted(name)+","+quoted(text)+")")), &out); err != nil {
		b.t.Fatal(err)
	}
	return out
}

const fieldsPage = `
given:
  tank: {label: Working solution, value: 500 ml, from: 100 ml, to: 2 l, step: 50 ml}
  cans: {value: 1 gal, from: 0.1 gal, to: 2 gal}
  bath: {label: Temperature, value: 20 °C, from: 18 °C, to: 24 °C, step: 0.5 K}
  warm: {value: 68 °F, from: 60 °F, to: 80 °F}
  drift: {value: 1 K, from: 0 K, to: 5 K}
  powder: {value: 20 g, from: 1 g, to: 2 kg}
  length: {value: 8 inches, from: 1 inch, to: 10 ft}
  share: {value: 3 %, from: 0 %, to: 50 %}
  rolls: {label: Rolls, value: 1, from: 1, to: 4}
  strength: {value: 1+100, choices: [1+50, 1+100]}
  time: {value: 10 min 30 s, from: 10 s, to: 3 h}
  short: {value: 1/125 s, from: 1/1000 s, to: 30 s}
  minutes: {value: 8 min, from: 1 min, to: 1 h}
  feed: {value: 20 g/l, from: 1 g/l, to: 200 g/l}
  flow: {value: 2 l/min, from: 0.1 l/min, to: 20 l/min}
  price: {value: 12.50 USD, from: 0 USD, to: 2000 USD}
  push: {value: 1/3 stop, from: -3 stop, to: 3 stop}
  film: {value: sheet, choices: [sheet, Roll, other]}
  dark: {value: true}
  fixed: 4 ml
`

// What a field takes besides what a page may write, and when it asks.
func TestFields(t *testing.T) {
	t.Parallel()
	b := open(t, pageOf(t, fieldsPage))
	for _, c := range []struct {
		name, text string
		base       float64
	}{
		{"tank", "600 ml", 600}, {"tank", "600", 600}, {"tank", "600ml", 600}, {"tank", " 600  mL ", 600}, {"tank", "0.6 l", 600}, {"tank", "0,6 l", 600},
		{"tank", "0,6l", 600}, {"tank", "1,25 litres", 1250}, {"tank", "1 litre", 1000}, {"tank", "20 fl_oz", 591.47059125}, {"tank", "20 US fl oz", 591.47059125}, {"tank", "20 US fl_oz", 591.47059125}, {"tank", "20 imp. fl. oz.", 568.26125},
		{"tank", "2 US pints", 946.352946}, {"tank", "2 imperial pints", 1136.5225}, {"tank", "2 UK pt", 1136.5225}, {"tank", "1 U.S. quart", 946.352946}, {"tank", "2 imp_pints", 1136.5225},
		{"tank", "600 millilitres", 600}, {"tank", "2 litres", 2000}, {"tank", "0,500 l", 500}, {"tank", "40 cu in", 655.482560}, {"cans", "2 gallons", 7570.823568}, {"cans", "2 pints", 946.352946},
		{"tank", "600 cc", 600}, {"tank", "1/2 l", 500}, {"tank", "1 1/2 l", 1500}, {"tank", "1/2l", 500}, {"tank", "6e2ml", 600}, {"tank", "500,5", 500.5}, {"tank", "750 cm3", 750}, {"tank", "750cm3", 750},
		{"bath", "68 F", 20}, {"bath", "68F", 20}, {"bath", "68°F", 20}, {"bath", "68 °F", 20}, {"bath", "20", 20}, {"bath", "20,5", 20.5}, {"bath", "21 C", 21}, {"bath", "21c", 21}, {"bath", "21℃", 21}, {"bath", "68 degF", 20}, {"bath", "68 degrees F", 20}, {"bath", "20 deg. C", 20}, {"bath", "20deg C", 20},
		{"warm", "20 C", 20}, {"warm", "68", 20}, {"warm", "68f", 20},
		{"drift", "2", 2}, {"drift", "2 °C", 2}, {"drift", "3.6 F", 2}, {"drift", "3.6 Δ°F", 2}, {"drift", "2 kelvin", 2},
		{"powder", "2 lbs", 907.18474}, {"powder", "3 grams", 3}, {"powder", "1kg", 1000}, {"powder", "2 oz_av", 56.69904625},
		{"length", "8 in", 20.32}, {"length", "8in", 20.32}, {"length", "2 feet", 60.96}, {"length", "35mm", 3.5}, {"length", "9", 22.86},
		{"share", "4", 0.04}, {"share", "4 %", 0.04}, {"share", "4%", 0.04}, {"share", "4 percent", 0.04}, {"share", "2,5", 0.025}, {"share", "1+9", 0.1},
		{"rolls", "3", 3}, {"strength", "1+50", 1. / 51}, {"strength", "1 in 101", 1. / 101},
		{"time", "9 min", 540}, {"time", "9min", 540}, {"time", "9 minutes", 540}, {"time", "9min 15s", 555}, {"time", "9min15s", 555}, {"time", "9 minutes 15 seconds", 555},
		{"time", "1h5min", 3900}, {"time", "1 hr 5 mins", 3900}, {"time", "90 sec", 90}, {"time", "2 1/2 min", 150}, {"time", "1h 5min 30s", 3930}, {"time", "1,5 h", 5400},
		{"short", "1/60", 1. / 60}, {"short", "1/60s", 1. / 60}, {"short", "2", 2}, {"short", "500ms", 0.5}, {"minutes", "9", 540}, {"minutes", "9,25", 555},
		{"feed", "0.05 kg/l", 0.05}, {"feed", "50g/l", 0.05}, {"feed", "50", 0.05}, {"feed", "50 g/L", 0.05}, {"flow", "500 ml/min", 500. / 60}, {"flow", "500ml/min", 500. / 60},
		{"price", "15", 15}, {"price", "15,99", 15.99}, {"price", "15.99 USD", 15.99}, {"price", "15.99USD", 15.99},
		{"push", "1 2/3", 5. / 3}, {"push", "-1 1/3 stops", -4. / 3}, {"push", "2", 2}, {"push", "2EV", 2}, {"push", "−1", -1},
		{"film", "Roll", 1}, {"film", "roll", 1}, {"film", " other ", 2}, {"dark", "no", 0}, {"dark", "Yes", 1}, {"dark", "false", 0},
		{"fixed", "4 ml", 4},
	} {
		if got := b.set(c.name, c.text); !got.OK || !quantity.Equal(got.Base, c.base) {
			t.Errorf("%s: %q gives %+v, want %v", c.name, c.text, got, c.base)
		}
	}
	for _, c := range []struct{ name, text, code, offers string }{
		{"tank", "", "number-missing", ""}, {"tank", "much", "not-a-number", ""},
		{"tank", "1,500", "which-comma", "1500"}, {"tank", "1,500 ml", "which-comma", "1500 ml"}, {"tank", "1,500 l", "which-comma", "1.500 l"}, {"share", "1,500", "which-comma", "1.500"},
		{"price", "1,500", "which-comma", "1.500|1500"}, {"price", "1,234,5", "digit-groups", ""}, {"price", "1,234.5", "digit-groups", "1234.5"}, {"price", "1.234,5 USD", "digit-groups", "1234.5 USD"},
		{"tank", "20 fl oz", "which-measure", "20 US fl_oz|20 imp_fl_oz"}, {"tank", "20floz", "which-measure", "20 US fl_oz|20 imp_fl_oz"}, {"tank", "25 fl. oz.", "which-measure", "25 US fl_oz|25 imp_fl_oz"},
		{"tank", "3 pints", "which-measure", "3 US pint|3 imp_pint"}, {"tank", "1 quart", "which-measure", "1 US quart|1 imp_quart"}, {"tank", "2 pt", "which-measure", "2 US pint|2 imp_pint"},
		{"tank", "0.5 gallon", "which-measure", "0.5 US gal"}, {"tank", "20 quart", "which-measure", ""}, {"cans", "2 imp_gal", "out-of-range", ""},
		{"tank", "20 oz", "which-ounce", "20 fl_oz|20 imp_fl_oz"}, {"tank", "20oz", "which-ounce", "20 fl_oz|20 imp_fl_oz"}, {"powder", "2 ounces", "which-ounce", "2 oz_av|2 oz_ap"}, {"tank", "200 oz", "which-ounce", ""},
		{"tank", "3 l", "out-of-range", ""}, {"tank", "50 ml", "out-of-range", ""}, {"bath", "68", "out-of-range", "68 °F"}, {"bath", "300", "out-of-range", ""},
		{"tank", "20 g", "wrong-kind", ""}, {"bath", "20 K", "wrong-kind", ""}, {"tank", "500 xyz", "unknown-unit", ""}, {"tank", "500 ML", "unknown-unit", "500 ml"}, {"powder", "20 gr", "unknown-unit", "20 g|20 grain"}, {"bath", "68 deg", "unknown-unit", "68 °F"},
		{"rolls", "2.5", "whole-only", ""}, {"rolls", "5", "out-of-range", ""}, {"strength", "1+75", "not-a-choice", ""},
		{"strength", "1:100", "bare-ratio", "1+100"}, {"strength", "1:50", "bare-ratio", "1+50"},
		{"time", "10", "unit-missing", "10 min|10 s"}, {"time", "10:30", "clock-time", "10 min 30 s"}, {"time", "1:30", "bare-ratio", "1 min 30 s|1 h 30 min"}, {"time", "2:30", "clock-time", "2 min 30 s|2 h 30 min"}, {"minutes", "10:30", "clock-time", "10 min 30 s"},
		{"film", "glass", "not-a-choice", ""}, {"film", "constructor", "not-a-choice", ""}, {"dark", "maybe", "not-one-of", ""}, {"fixed", "5 ml", "given-fixed", ""},
		{"tank", "500 ml 3", "text-after-value", ""}, {"tank", "007", "leading-zeros", ""}, {"tank", ".5 l", "number-point", ""},
		{"nobody", "1", "unknown-given", ""},
	} {
		before := b.run("page.given.map((g) => page.get(g.name).base)")
		got := b.set(c.name, c.text)
		if got.OK || got.Problem.Code != c.code || strings.Join(got.Problem.Offers, "|") != c.offers || got.Problem.Message == "" {
			t.Errorf("%s: %q gives %+v, want %s, offers %s", c.name, c.text, got, c.code, c.offers)
		}
		if b.run("page.given.map((g) => page.get(g.name).base)") != before {
			t.Errorf("%s: %q changed a value", c.name, c.text)
		}
	}
	for _, c := range []struct{ name, text, message, hint string }{
		{"tank", "3 l", "Working solution is tested from 100 ml to 2 L, not at 3 L", "Choose a value in that range."},
		{"rolls", "2.5", "Rolls takes whole numbers, not 2.5", "Choose a whole number."},
		{"film", "glass", `"glass" is not one of the choices`, "The choices are sheet, Roll, other."},
		{"drift", "9 xyz", `there is no unit "xyz"`, "The units here are K, Δ°C, Δ°F."},
		{"feed", "9 xyz", `there is no unit "xyz"`, "Write it in g/L."},
		{"bath", "20 K", "Temperature needs a temperature, but this is a temperature difference", "The units here are °C, °F."},
		{"rolls", "2 ml", "Rolls needs a plain number, but this is a volume", "Write a number without a unit."},
		{"price", "1,234.5", "the only separator in a number here is one decimal point", "Write 1234.5."},
		{"tank", "1,500", "the comma can separate thousands or decimals", "Write 1.500 or 1500."},
		{"tank", "25 fl oz", "a fluid ounce can be two things", "Write 25 fl_oz (US, 29.57 ml) or 25 imp_fl_oz (imperial, 28.41 ml)."},
	} {
		if got := b.set(c.name, c.text).Problem; got.Message != c.message || got.Hint != c.hint {
			t.Errorf("%s: %q: %q %q, want %q %q", c.name, c.text, got.Message, got.Hint, c.message, c.hint)
		}
	}
}

// What a reader chose among the offers can be read back from the address, and typed again.
func TestMeasureChosen(t *testing.T) {
	t.Parallel()
	b := open(t, pageOf(t, fieldsPage))
	if got := b.set("tank", "3 US pint"); !got.OK || !quantity.Equal(got.Base, 1419.529419) || got.Text != "3 pint" {
		t.Fatalf("%+v", got)
	}
	if got := b.set("tank", "3 pint"); !got.OK {
		t.Errorf("the text that stands in the field is refused: %+v", got)
	}
	if got := b.set("tank", "2 pint"); got.OK {
		t.Errorf("%+v", got)
	}
	if got := b.run("page.take(page.settings())"); got != "[]" || b.run("page.get('tank').text") != `"3 pint"` {
		t.Errorf("out of the address: %s, %s", got, b.run("page.get('tank')"))
	}
}

// A field takes whatever the terminal takes for a given, as the same value. It may take more, but must not
// refuse more.
func TestFieldsTakeWhatSetTakes(t *testing.T) {
	t.Parallel()
	s := pageOf(t, fieldsPage)
	b := open(t, s)
	texts := corpus(t)
	taken := 0
	rapid.Check(t, func(rt *rapid.T) {
		for range max(1, 40/nth()) {
			g := rapid.SampledFrom(s.Given).Draw(rt, "given")
			text := rapid.SampledFrom(texts).Draw(rt, "text")
			if rapid.Bool().Draw(rt, "fitting") {
				unit := g.Value.Unit.Text
				text = rapid.SampledFrom([]string{"1", "2", "0.5", "20", "1/2", "1+50", "1 in 10", "3 1/3", "10 min 5", "100", "21.5", "-1"}).Draw(rt, "number") + " " + unit
			}
			text = strings.ToValidUTF8(text, "?")
			base, trouble := g.Set(text)
			got := b.set(g.Name, text)
			switch {
			case got.Problem.Code == "which-measure":
				// a page means the US unit; a reader is asked
			case trouble == nil && unitOfField(g) && !strings.ContainsAny(strings.TrimLeft(text, " +"), "%+i"):
				// a bare number, signed or not, counts in the field's own unit there
			case trouble == nil && (!got.OK || got.Base != base):
				rt.Errorf("%s: %q is %.17g in Go, %+v here", g.Name, text, base, got)
			case trouble != nil && (trouble.Code == "out-of-range" || trouble.Code == "not-a-choice" || trouble.Code == "whole-only") && got.OK && g.Kind.Sort != quantity.Word && !unitOfField(g):
				rt.Errorf("%s: %q is refused in Go (%s), %+v here", g.Name, text, trouble.Message, got)
			}
			if trouble == nil {
				taken++
			}
		}
	})
	if taken < 200/nth() {
		t.Errorf("only %d texts were taken", taken)
	}
}

// unitOfField reports whether a plain number is read in the unit of the field: 3 in a field of per cents.
func unitOfField(g *page.Given) bool {
	return g.Kind == quantity.Number && g.Value.Unit.Text != ""
}
