//go:build browser

package script

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"labsite/recipes/quantity"
	"labsite/recipes/script/chromium"
)

// inBrowser runs pages' scripts in a Chromium.
type inBrowser struct{ tab context.Context }

func browser(t testing.TB) inBrowser {
	t.Helper()
	tab, end, err := chromium.StartShell(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(end)
	b := inBrowser{tab}
	if _, err := b.run("(0, eval)(" + quoted(string(Runtime())+probe) + "); 'ready'"); err != nil {
		t.Fatal(err)
	}
	return b
}

// run returns the string to which a piece of JavaScript evaluates.
func (b inBrowser) run(js string) (string, error) {
	ctx, cancel := context.WithTimeout(b.tab, 10*time.Minute)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[string](js))
}

// load runs a page's script.
func (b inBrowser) load(js []byte) error {
	_, err := b.run("(0, eval)(" + quoted(string(js)) + "); labsite.use((sheet) => { sheetOfPage = sheet; }); 'loaded'")
	return err
}

// at works the page out at many sets of given values at once, since a call to the browser costs more than
// a case.
func (b inBrowser) at(cases [][]float64) ([]Outcome, error) {
	var js bytes.Buffer
	js.WriteString("JSON.stringify([")
	for _, values := range cases {
		js.WriteByte('[')
		for _, v := range values {
			js.WriteString(number(v))
			js.WriteByte(',')
		}
		js.WriteString("],")
	}
	js.WriteString("].map((values) => probe(sheetOfPage, values)))")
	text, err := b.run(js.String())
	if err != nil {
		return nil, err
	}
	var found []told
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		return nil, err
	}
	var out []Outcome
	for _, f := range found {
		out = append(out, f.outcome)
	}
	return out, nil
}

// told is what the probe returns, from JSON, in which null stands for NaN.
type told struct{ outcome Outcome }

func (o *told) UnmarshalJSON(b []byte) error {
	var given, figures, placed []any
	var clock []*float64
	out := &o.outcome
	if err := json.Unmarshal(b, &[]any{&given, &figures, &placed, &out.Limits, &out.Reasons, &out.Failed, &out.Times, &clock}); err != nil {
		return err
	}
	out.Given, out.Figures, out.Placed = shownIn(given), shownIn(figures), shownIn(placed)
	out.Clock = moments(clock)
	return nil
}

func shownIn(flat []any) []quantity.Shown {
	var out []quantity.Shown
	for i := 0; i+2 < len(flat); i += 3 {
		s := quantity.Shown{Number: math.NaN()}
		if text, ok := flat[i].(string); ok {
			s.Text = text
			s.Unit, _ = flat[i+2].(string)
			if v, ok := flat[i+1].(float64); ok {
				s.Number = v
			}
		}
		out = append(out, s)
	}
	return out
}

// held compares up to most of a page's cases, as compare does in the other engine.
func (b inBrowser) held(t failer, p Page, most int) (cases, refused int) {
	t.Helper()
	js, err := p.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if err := b.load(js); err != nil {
		t.Fatalf("%v\n%s", err, js)
	}
	var all [][]float64
	eachOf(p.Sheet, most, func(values []float64) bool {
		all = append(all, values)
		return true
	})
	const atOnce = 2000
	for len(all) > 0 {
		some := all[:min(atOnce, len(all))]
		all = all[len(some):]
		found, err := b.at(some)
		if err != nil || len(found) != len(some) {
			t.Fatalf("%s: %d of %d: %v\n%s", p.Sheet.File.Path, len(found), len(some), err, js)
		}
		for i, values := range some {
			c := caseAt(p.Sheet, values)
			cases++
			if c.Refused() {
				refused++
			}
			if what, want, got := p.Differ(p.ByGo(c), found[i]); what != "" {
				t.Errorf("%s at %s: %s\nin Go:         %s\nin the browser: %s\n%s", p.Sheet.File.Path, settings(p.Sheet, values), what, want, got, js)
				return cases, refused
			}
		}
	}
	return cases, refused
}

// TestBrowserDemoCases compares every page of the demo with Go over all its cases, in Chromium.
func TestBrowserDemoCases(t *testing.T) {
	b := browser(t)
	f := demo(t)
	pages, cases, refused := 0, 0, 0
	for _, name := range f.order {
		if s := f.sheets[name]; s != nil {
			c, n := b.held(t, Page{Sheet: s}, math.MaxInt)
			pages, cases, refused = pages+1, cases+c, refused+n
		}
	}
	t.Logf("%d pages, %d cases, %d of them refused", pages, cases, refused)
	if pages < 10 || refused == 0 || cases < 50_000 {
		t.Errorf("only %d pages of the demo were compared, %d cases, %d of them refused", pages, cases, refused)
	}
}

// TestBrowserGeneratedCases does the same with random pages.
func TestBrowserGeneratedCases(t *testing.T) {
	b := browser(t)
	pages, cases, refused := generated(t, func(t failer, p Page) (int, int) { return b.held(t, p, 600) })
	t.Logf("%d pages, %d cases, %d of them refused", pages, cases, refused)
	if !t.Failed() && cases < 40_000 {
		t.Errorf("only %d cases", cases)
	}
}

// The comparison notices a browser that disagrees.
func TestBrowserDisagrees(t *testing.T) {
	b := browser(t)
	s := pageOf(t, "given:\n  x: {value: 1 ml, from: 1 ml, to: 3 ml, step: 1 ml}\nfigures:\n  y: x * 2")
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(js), "*2", "*2.00001", 1)
	if wrong == string(js) {
		t.Fatalf("the script is written otherwise:\n%s", js)
	}
	if err := b.load([]byte(wrong)); err != nil {
		t.Fatal(err)
	}
	found, err := b.at([][]float64{{3}})
	if err != nil {
		t.Fatal(err)
	}
	p := Page{Sheet: s}
	if what, _, _ := p.Differ(p.ByGo(caseAt(s, []float64{3})), found[0]); what != "y" {
		t.Errorf("differs in %q", what)
	}
}
