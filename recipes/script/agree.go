package script

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/dop251/goja"

	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// Engine is a runtime as it is published, with the probe, compiled once for all referees.
type Engine struct{ program *goja.Program }

// Compile reads a runtime: Runtime itself, or the same with names and blanks left out.
func Compile(runtime []byte) (Engine, error) {
	p, err := goja.Compile("labsite.js", string(runtime)+probe, true)
	return Engine{p}, err
}

// probe gives what a sheet works out at some given values, as plain lists: Agree would
// spend most of its time on taking objects apart.
const probe = `
var probe = (sheet, values) => {
	if (values) sheet.base.splice(0, values.length, ...values);
	else sheet.reset();
	const w = sheet.work();
	const flat = (list) => {
		const out = [];
		for (let i = 0; i < list.length; i++) out.push(list[i].shown, list[i].value, list[i].unit);
		return out;
	};
	const figures = sheet.program.steps.filter((f) => f.use === undefined);
	return [flat(sheet.given.map((g) => w.given[g.name])), flat(figures.map((f) => w.figures[f.name])), flat(w.placed),
		w.limits.map((l) => (l.of ? l.of + "#" : "#") + l.index + l.kind).join(" "),
		w.reasons.map((r) => (r.limit === null ? r.text : "#" + r.limit)).join("\n"),
		w.failed.join(" "),
		w.process ? w.process.steps.map((x) => x ? x.shown : "").join("|") : "",
		w.process ? w.process.steps.map((x) => x ? [x.length, x.start, x.pour, ...x.moments] : []).flat().concat(w.process.total) : []];
};
var sheetOfPage;
`

// Referee runs pages' scripts in a JavaScript engine and holds them to what Go works out.
// It serves one goroutine at a time; a worker keeps one for all its pages.
type Referee struct {
	vm    *goja.Runtime
	probe goja.Callable
}

// Referee starts the engine.
func (e Engine) Referee() (*Referee, error) {
	vm := goja.New()
	if _, err := vm.RunProgram(e.program); err != nil {
		return nil, err
	}
	call, ok := goja.AssertFunction(vm.Get("probe"))
	if !ok {
		return nil, fmt.Errorf("script: the probe is no function")
	}
	return &Referee{vm: vm, probe: call}, nil
}

// Outcome is what a page's script works out at one set of given values. A withdrawn value
// has an empty Text and is NaN.
type Outcome struct {
	Given, Figures, Placed []quantity.Shown
	// Limits name those that hold as "mix#2caution", parted by blanks; Reasons are the
	// refusals, a line each; Failed are names of figures without a finite number.
	Limits, Reasons, Failed string
	// Times are the steps' times as written, parted by bars; Clock their lengths, starts,
	// pouring out and moments in seconds, the total last.
	Times string
	Clock []float64
}

// Trial is a page's script, loaded.
type Trial struct {
	referee *Referee
	page    goja.Value
}

// Load runs a page's script.
func (r *Referee) Load(js []byte) (t *Trial, err error) {
	defer rescue(&err)
	if _, err := r.vm.RunScript("page.js", string(js)); err != nil {
		return nil, err
	}
	v, err := r.vm.RunString("labsite.use(function (sheet) { sheetOfPage = sheet; }); sheetOfPage")
	if err != nil {
		return nil, err
	}
	return &Trial{r, v}, nil
}

// At works the page out at given values in base units, in the page's order; at the
// script's own for nil.
func (t *Trial) At(values []float64) (out Outcome, err error) {
	defer rescue(&err)
	vm := t.referee.vm
	at := goja.Undefined()
	if values != nil {
		list := make([]any, len(values))
		for i, v := range values {
			list[i] = v
		}
		at = vm.NewArray(list...)
	}
	v, err := t.referee.probe(goja.Undefined(), t.page, at)
	if err != nil {
		return out, err
	}
	parts := v.ToObject(vm)
	shown := func(i string) []quantity.Shown {
		o := parts.Get(i).ToObject(vm)
		n := int(o.Get("length").ToInteger())
		var out []quantity.Shown
		for i := 0; i < n; i += 3 {
			text, number, unit := o.Get(strconv.Itoa(i)), o.Get(strconv.Itoa(i+1)), o.Get(strconv.Itoa(i+2))
			if goja.IsNull(text) {
				out = append(out, quantity.Shown{Number: math.NaN()})
				continue
			}
			out = append(out, quantity.Shown{Text: text.String(), Number: number.ToFloat(), Unit: unit.String()})
		}
		return out
	}
	out.Given, out.Figures, out.Placed = shown("0"), shown("1"), shown("2")
	out.Limits, out.Reasons, out.Failed = parts.Get("3").String(), parts.Get("4").String(), parts.Get("5").String()
	out.Times = parts.Get("6").String()
	clock := parts.Get("7").ToObject(vm)
	for i := range int(clock.Get("length").ToInteger()) {
		out.Clock = append(out.Clock, clock.Get(strconv.Itoa(i)).ToFloat())
	}
	return out, nil
}

// rescue turns a panic of the engine into an error: what it runs is ours, and yet no
// build may end in one.
func rescue(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("script: %v", r)
	}
}

// ByGo is the outcome that Go works out for a case that was worked.
func (p Page) ByGo(c *sheet.Case) Outcome {
	var out Outcome
	withdrawn := c.Refused() || len(c.Failed) > 0
	for _, g := range p.Sheet.Given {
		out.Given = append(out.Given, c.ShownGiven(g))
	}
	none := quantity.Shown{Number: math.NaN()}
	for _, f := range p.Sheet.Sorted {
		if withdrawn {
			out.Figures = append(out.Figures, none)
			continue
		}
		out.Figures = append(out.Figures, c.Shown(f))
	}
	for _, x := range p.Placed {
		if !withdrawn || x.Given {
			c.Frame.Reset()
			c.Room()
			if v := x.Node.Eval(&c.Frame); c.Frame.Fault == 0 {
				out.Placed = append(out.Placed, x.Show.Format(v))
				continue
			}
		}
		out.Placed = append(out.Placed, none)
	}
	if !withdrawn {
		out.Times, out.Clock = clock(c)
	}
	var limits, reasons, failed []string
	for _, h := range c.AllHolding() {
		limits = append(limits, fmt.Sprintf("#%d%s", indexOf(h), h.Limit.Kind))
	}
	for _, r := range c.Refusals {
		if r.Limit != nil {
			of := p.Sheet
			if r.Run != nil && r.From != nil {
				of = r.From.Sheet
			}
			for i, l := range of.Limits {
				if l == r.Limit {
					reasons = append(reasons, fmt.Sprintf("#%d", i))
				}
			}
			continue
		}
		reasons = append(reasons, r.Text)
	}
	for _, f := range c.Failed {
		name := ""
		if f.Figure != nil {
			name = f.Figure.Name
		}
		failed = append(failed, name)
	}
	out.Limits, out.Reasons, out.Failed = strings.Join(limits, " "), strings.Join(reasons, "\n"), strings.Join(failed, " ")
	return out
}

// clock writes a process down as Outcome has it; a page without times has none.
func clock(c *sheet.Case) (string, []float64) {
	steps, total, ok := c.Process()
	var times []string
	var numbers []float64
	timed := false
	for _, t := range steps {
		timed = timed || t.HasTime
		times = append(times, t.Shown.Text)
		if t.HasTime {
			numbers = append(append(numbers, t.Length, t.Start, t.Pour), t.Moments...)
		}
	}
	if !ok || !timed {
		return "", nil
	}
	return strings.Join(times, "|"), append(numbers, total)
}

func indexOf(h sheet.Held) int {
	for i, l := range h.Run.Sheet.Limits {
		if l == h.Limit {
			return i
		}
	}
	return -1
}

// Differ says in what two outcomes differ, "" for nothing: numbers by more than 1e-9 of
// the larger, texts by a character. want is Go's.
func (p Page) Differ(want, got Outcome) (what, wanted, found string) {
	values := func(kind string, want, got []quantity.Shown, name func(int) string) bool {
		if len(want) != len(got) {
			what, wanted, found = "the number of "+kind, fmt.Sprint(len(want)), fmt.Sprint(len(got))
			return true
		}
		for i := range want {
			a, b := want[i], got[i]
			same := a.Text == b.Text && a.Unit == b.Unit
			if same && !(math.IsNaN(a.Number) && math.IsNaN(b.Number)) {
				same = quantity.Equal(a.Number, b.Number)
			}
			if !same {
				what = name(i)
				wanted = fmt.Sprintf("%s (%.17g %s)", a.Text, a.Number, a.Unit)
				found = fmt.Sprintf("%s (%.17g %s)", b.Text, b.Number, b.Unit)
				return true
			}
		}
		return false
	}
	text := func(kind, want, got string) bool {
		if want != got {
			what, wanted, found = kind, want, got
		}
		return want != got
	}
	_ = text("the refusals", want.Reasons, got.Reasons) ||
		text("what fails", want.Failed, got.Failed) ||
		text("the limits that hold", want.Limits, withoutNames(got.Limits)) ||
		values("given values", want.Given, got.Given, func(i int) string { return p.Sheet.Given[i].Name }) ||
		values("figures", want.Figures, got.Figures, func(i int) string { return p.Sheet.Sorted[i].Name }) ||
		values("placed formulas", want.Placed, got.Placed, func(i int) string { return fmt.Sprintf("placed formula %d", i) }) ||
		text("the times of the steps", want.Times, got.Times) ||
		!slices.EqualFunc(want.Clock, got.Clock, quantity.Equal) && text("the clock", fmt.Sprint(want.Clock), fmt.Sprint(got.Clock))
	return what, wanted, found
}

// withoutNames leaves the names of pages drawn on out: Go knows them by their sheets.
func withoutNames(limits string) string {
	words := strings.Fields(limits)
	for i, w := range words {
		words[i] = w[strings.IndexByte(w, '#'):]
	}
	return strings.Join(words, " ")
}

// Agree works the page out by its script, at its own values and at those of every check,
// and reports where the script and Go differ. The tests of this package try all cases of
// many pages.
func (r *Referee) Agree(p Page, js []byte) source.List {
	trial, err := r.Load(js)
	if err != nil {
		return source.List{source.ScriptFails(err.Error()).At(p.start())}
	}
	run := p.Sheet.NewCase()
	run.Work()
	list := trial.agree(p, run, nil)
	tried := map[string]bool{}
	for _, c := range p.Sheet.Checks {
		run := p.Sheet.NewCase()
		for _, s := range c.At {
			run.Set(s.Given, s.Base)
		}
		run.Work()
		values := make([]float64, len(p.Sheet.Given))
		own := true
		for i, g := range p.Sheet.Given {
			values[i] = run.Frame.V[g.Slot]
			own = own && values[i] == g.Own
		}
		if key := fmt.Sprint(values); !own && !tried[key] {
			tried[key] = true
			list = append(list, trial.agree(p, run, c.At, values...)...)
		}
	}
	return list
}

func (p Page) start() source.Span { return p.Sheet.File.Span(0, 3) }

// agree holds the script to one case that Go has worked.
func (t *Trial) agree(p Page, run *sheet.Case, at []sheet.Setting, values ...float64) source.List {
	got, err := t.At(values)
	if err != nil {
		return source.List{source.ScriptFails(err.Error()).At(p.start())}
	}
	what, want, found := p.Differ(p.ByGo(run), got)
	if what == "" {
		return nil
	}
	where := "the page's own values"
	if len(at) > 0 {
		var parts []string
		for _, s := range at {
			parts = append(parts, s.Text)
		}
		where = strings.Join(parts, ", ")
	}
	return source.List{source.ScriptDiffers(what, where, want, found).At(p.start())}
}
