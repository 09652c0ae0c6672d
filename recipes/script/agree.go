package script

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/dop251/goja"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Engine is a compiled runtime with the probe, shared by all referees.
type Engine struct {
	program *goja.Program
	shapes  *shapes
	settled *settled
}

// Compile compiles a runtime: Runtime itself, or a minified one.
func Compile(runtime []byte) (Engine, error) {
	p, err := goja.Compile("labsite.js", string(runtime)+probe, true)
	return Engine{p, new(shapes), new(settled)}, err
}

// probe returns what a sheet works out at some given values, as plain lists; if there is a take,
// the shown values go to it one by one instead. Otherwise Agree would spend most of its time taking
// objects apart.
const probe = `
var pageGiven = () => {
	let sheet = null;
	labsite.use((s) => { sheet = s; });
	return sheet;
};
var sheetOfPage;
var probe = (sheet, values, take) => {
	const shown = [[], [], []];
	if (!take) take = (list, text, value, unit) => shown[list].push(text, value, unit);
	const give = (list, v) => take(list, v.shown === null && v.instead ? v.instead : v.shown, v.shown === null ? NaN : v.value, v.unit || "");
	if (sheet.program.day) labsite.on(sheet.program.day);
	if (values) for (let i = 0; i < values.length; i++) sheet.base[i] = values[i];
	else sheet.reset();
	const w = sheet.work(!!values), { given, program: { steps } } = sheet;
	for (let i = 0; i < given.length; i++) { give(0, w.given[given[i].name]); }
	for (let i = 0; i < steps.length; i++) {
		if (steps[i].name !== undefined) give(1, w.figures[steps[i].name]);
	}
	for (let i = 0; i < w.placed.length; i++) give(2, w.placed[i]);
	return [shown[0], shown[1], shown[2], w.limits.map((l) => (l.of ? l.of + "#" : "#") + l.index + l.kind).join(" "),
		w.reasons.map((r) => (r.limit === null ? r.text : "#" + r.limit)).join("\n"),
		w.failed.join(" "),
		w.process ? w.process.steps.map((x) => x ? x.shown : "").join("|") : "",
		w.process ? w.process.steps.map((x) => x && !x.missing ? [x.length, x.start, x.pour, ...x.moments] : []).flat().concat(w.process.total) : []];
};
`

// Referee runs pages' scripts in a JavaScript engine and compares them with Go.
// It serves one goroutine at a time; a worker keeps one for all its pages.
type Referee struct {
	vm          *goja.Runtime
	probe, page goja.Callable
	shapes      *shapes
	settled     *settled
	made        map[*goja.Program]goja.Callable // the functions that shapes are in this engine
	// take is handed to the probe, and appends to out.
	take goja.Value
	out  *Outcome
}

// Referee starts the engine.
func (e Engine) Referee() (*Referee, error) {
	r := &Referee{vm: goja.New(), shapes: e.shapes, settled: e.settled, made: map[*goja.Program]goja.Callable{}}
	if _, err := r.vm.RunProgram(e.program); err != nil {
		return nil, err
	}
	var ok, also bool
	r.probe, ok = goja.AssertFunction(r.vm.Get("probe"))
	r.page, also = goja.AssertFunction(r.vm.Get("pageGiven"))
	if !ok || !also {
		return nil, fmt.Errorf("script: the probe is not a function")
	}
	r.take = r.vm.ToValue(func(call goja.FunctionCall) goja.Value {
		s := quantity.Shown{Number: math.NaN()}
		if text := call.Argument(1); !goja.IsNull(text) {
			s = quantity.Shown{Text: text.String(), Number: call.Argument(2).ToFloat(), Unit: call.Argument(3).String()}
		}
		to := [...]*[]quantity.Shown{&r.out.Given, &r.out.Figures, &r.out.Placed}[call.Argument(0).ToInteger()]
		*to = append(*to, s)
		return goja.Undefined()
	})
	return r, nil
}

// Outcome is what a page's script works out at one set of given values. A withdrawn value
// has an empty Text and is NaN.
type Outcome struct {
	Given, Figures, Placed []quantity.Shown
	// Limits names those that hold, such as "mix#2caution", separated by spaces; Reasons has the
	// refusals, a line each; Failed names the figures without a finite number.
	Limits, Reasons, Failed string
	// Times has the steps' times as written, separated by bars; Clock their lengths, starts,
	// pouring out and moments in seconds, with the total last.
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
	if err := r.run(js); err != nil {
		return nil, err
	}
	v, err := r.page(goja.Undefined())
	if err != nil {
		return nil, err
	}
	return &Trial{r, v}, nil
}

// run runs a page's script: as it is or, if its shape is compiled, as its shape with its
// constants.
func (r *Referee) run(js []byte) error {
	program, constants := r.shapes.find(js)
	if program == nil {
		_, err := r.vm.RunScript("page.js", string(js))
		return err
	}
	make, ok := r.made[program]
	if !ok {
		v, err := r.vm.RunProgram(program)
		if err != nil {
			return err
		}
		if make, ok = goja.AssertFunction(v); !ok {
			return fmt.Errorf("script: the shape of a page is not a function")
		}
		r.made[program] = make
	}
	_, err := make(goja.Undefined(), r.vm.NewArray(constants...))
	return err
}

// At works the page out at given values in base units, in the page's order, or, for nil, at the
// script's own.
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
	t.referee.out = &out
	v, err := t.referee.probe(goja.Undefined(), t.page, at, t.referee.take)
	if err != nil {
		return out, err
	}
	parts := v.ToObject(vm)
	out.Limits, out.Reasons, out.Failed = parts.Get("3").String(), parts.Get("4").String(), parts.Get("5").String()
	out.Times = parts.Get("6").String()
	clock := parts.Get("7").ToObject(vm)
	for i := range int(clock.Get("length").ToInteger()) {
		out.Clock = append(out.Clock, clock.Get(strconv.Itoa(i)).ToFloat())
	}
	return out, nil
}

// rescue turns a panic into an error: a fault in the engine must not end a build.
func rescue(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("script: %v", r)
	}
}

// ByGo is the outcome by Go, from a case that was worked out.
func (p Page) ByGo(c *prove.Case) Outcome {
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
			if shown, ok := c.WriteFormula(x.Node, x.Show); ok {
				out.Placed = append(out.Placed, shown)
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

// clock gives the times of a case as Outcome has them; "" and nil if the page has none.
func clock(c *prove.Case) (string, []float64) {
	steps, total, ok := c.Process()
	var times []string
	var numbers []float64
	timed := false
	for _, t := range steps {
		timed = timed || t.HasTime || t.Missing
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

func indexOf(h prove.Held) int {
	for i, l := range h.Run.Sheet.Limits {
		if l == h.Limit {
			return i
		}
	}
	return -1
}

// Differ describes the first difference between two outcomes; "" if there is none. Numbers may
// differ by 1e-9 of the larger, texts not at all. want is Go's.
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
		!slices.EqualFunc(want.Clock, got.Clock, sameMoment) && text("the clock", fmt.Sprint(want.Clock), fmt.Sprint(got.Clock))
	return what, wanted, found
}

// sameMoment compares two moments of a clock; both are NaN after a step whose time is missing.
func sameMoment(a, b float64) bool { return math.IsNaN(a) && math.IsNaN(b) || quantity.Equal(a, b) }

// withoutNames takes out the names of pages drawn on, which Go's outcome does not have.
func withoutNames(limits string) string {
	words := strings.Fields(limits)
	for i, w := range words {
		words[i] = w[strings.IndexByte(w, '#'):]
	}
	return strings.Join(words, " ")
}

// Agree runs a page's script at the page's own values and at those of every check, and reports where
// it and Go differ. The tests of this package try all cases of many pages. If ctx ends, the engine
// is interrupted, and nothing is reported.
func (r *Referee) Agree(ctx context.Context, p Page, js []byte) source.List {
	if ctx.Err() != nil {
		return nil
	}
	ended := make(chan struct{})
	stop := context.AfterFunc(ctx, func() {
		r.vm.Interrupt(context.Cause(ctx))
		close(ended)
	})
	defer func() {
		if !stop() {
			<-ended
			r.vm.ClearInterrupt()
		}
	}()
	list := r.compare(ctx, p, js)
	if ctx.Err() != nil {
		return nil
	}
	return list
}

// compare does the work of Agree, which looks after ctx.
func (r *Referee) compare(ctx context.Context, p Page, js []byte) source.List {
	cases := p.tried(ctx)
	if ctx.Err() != nil {
		return nil
	}
	key := settledKey(js, cases)
	if r.settled.has(key) {
		return nil
	}
	trial, err := r.Load(js)
	if err != nil {
		return source.List{source.ScriptFails(err.Error()).At(p.start())}
	}
	var list source.List
	for _, c := range cases {
		if ctx.Err() != nil {
			return nil
		}
		list = append(list, trial.agree(p, c)...)
	}
	if len(list) == 0 && ctx.Err() == nil {
		r.settled.add(key)
	}
	return list
}

// triedCase is a case in which a script is compared with Go: at the page's own values, or at
// those of one of its checks.
type triedCase struct {
	at     []page.Setting
	values []float64 // in the page's order; nil for its own
	want   Outcome   // what Go works out
}

func (p Page) tried(ctx context.Context) []triedCase {
	out := []triedCase{{want: p.ByGo(prove.BlankCase(p.Sheet))}}
	tried := map[string]bool{}
	for _, c := range p.Sheet.Checks {
		if ctx.Err() != nil {
			return nil
		}
		run := prove.NewCase(p.Sheet)
		for _, s := range c.At {
			run.Set(s.Given, s.Base)
		}
		run.Work()
		values := make([]float64, len(p.Sheet.Given))
		own := true
		for i, g := range p.Sheet.Given {
			values[i] = run.Frame.V[g.Slot]
			own = own && values[i] == g.Own && !g.Reading
		}
		if key := fmt.Sprint(values); !own && !tried[key] {
			tried[key] = true
			out = append(out, triedCase{c.At, values, p.ByGo(run)})
		}
	}
	return out
}

func (p Page) start() source.Span { return p.Sheet.File.Span(0, 3) }

// agree compares the script with Go in one case.
func (t *Trial) agree(p Page, c triedCase) source.List {
	got, err := t.At(c.values)
	if err != nil {
		return source.List{source.ScriptFails(err.Error()).At(p.start())}
	}
	what, want, found := p.Differ(c.want, got)
	if what == "" {
		return nil
	}
	where := "the page's own values"
	if len(c.at) > 0 {
		var parts []string
		for _, s := range c.at {
			parts = append(parts, s.Text)
		}
		where = strings.Join(parts, ", ")
	}
	return source.List{source.ScriptDiffers(what, where, want, found).At(p.start())}
}
