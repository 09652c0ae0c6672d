package script

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

// Agree accepts the pages of the demo, and finds any change in a script.
func TestAgree(t *testing.T) {
	t.Parallel()
	r := referee(t)
	f := demo(t)
	for name, s := range f.sheets {
		if s == nil {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range r.Agree(t.Context(), Page{Sheet: s}, js) {
			t.Errorf("%s: %s", name, d)
		}
	}
	s := pageOf(t, tankPage+"checks:\n  - {at: {rolls: 2, strength: 1+50}, expect: {each: 4.90 ml}, source: from memory}\n")
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if list := r.Agree(t.Context(), Page{Sheet: s}, js); len(list) > 0 {
		t.Fatal(list)
	}
	for _, c := range []struct{ old, new, code, says string }{
		{"s[0]*s[2]", "s[0]*s[2]*1.00000001", "script-differs", "exact"},
		{"0.01,\"0.01\"", "0.1,\"0.1\"", "script-differs", "each: 4.95 ml"},
		{"l(s[9],s[5])", "l(s[5],s[9])", "script-differs", "the refusals"},
		{",1)}", ")}", "script-differs", "the limits that hold"},
		{"drain:10", "drain:70", "script-differs", "the clock"},
		{"\"digits\",\"ml\"", "\"digits\",\"L\"", "script-differs", "exact"},
		{"own:0.009900990099009901", "own:0.0099", "script-differs", "strength"},
		{"page(({", "page((({", "script-fails", "does not run"},
		{"s=>f(", "s=>nowhere(", "script-fails", "nowhere is not defined"},
	} {
		broken := strings.Replace(string(js), c.old, c.new, -1)
		if broken == string(js) {
			t.Fatalf("%s is not there:\n%s", c.old, js)
		}
		list := r.Agree(t.Context(), Page{Sheet: s}, []byte(broken))
		if len(list) == 0 || list[0].Code != c.code || !strings.Contains(list[0].Message, c.says) {
			t.Errorf("%s for %s: %v", c.new, c.old, list)
		}
	}
}

// A script that never ends is interrupted, and nothing is reported. It ends its own context as soon as it
// runs.
func TestAgreeStops(t *testing.T) {
	s := pageOf(t, tankPage)
	for _, js := range []string{"begun(); for (;;) {}", "labsite.page(() => { begun(); for (;;) {} })"} {
		r := referee(t)
		ctx, end := context.WithCancel(t.Context())
		if err := r.vm.Set("begun", end); err != nil {
			t.Fatal(err)
		}
		if list := r.Agree(ctx, Page{Sheet: s}, []byte(js)); len(list) > 0 || ctx.Err() == nil {
			t.Errorf("%s: %v %v", js, list, ctx.Err())
		}
		// afterwards the engine still works
		good, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		if list := r.Agree(t.Context(), Page{Sheet: s}, good); len(list) > 0 {
			t.Errorf("after %s: %v", js, list)
		}
	}
}

// BenchmarkAgree measures what Agree costs for a page when a site is published.
func BenchmarkAgree(b *testing.B) {
	f := demo(b)
	r := referee(b)
	s := f.sheets["developing/one-shot-developer.md"]
	if s == nil {
		b.Fatal(f.broken)
	}
	js, _ := Page{Sheet: s}.Emit()
	b.ReportMetric(float64(len(s.Checks)), "checks")
	for b.Loop() {
		r.settled = new(settled) // or it would be run only once
		if list := r.Agree(context.Background(), Page{Sheet: s}, js); len(list) > 0 {
			b.Fatal(list)
		}
	}
}

func BenchmarkReferee(b *testing.B) {
	for b.Loop() {
		referee(b)
	}
}

func BenchmarkEmit(b *testing.B) {
	f := demo(b)
	s := f.sheets["developing/one-shot-developer.md"]
	for b.Loop() {
		if _, err := (Page{Sheet: s}).Emit(); err != nil {
			b.Fatal(err)
		}
	}
}

// TestOtherEngine compares the demo and texts with a second engine, node's, whose powers and logarithms
// are not Go's. It runs if node is installed.
func TestOtherEngine(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed")
	}
	t.Parallel()
	type job struct {
		Name   string
		JS     string
		Values [][]float64
	}
	var jobs []job
	f := demo(t)
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil || len(s.Given) == 0 {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		j := job{Name: name, JS: string(js)}
		run, n := prove.NewCase(s), 0
		prove.EachCase(s, run, func() bool {
			if n++; n%29 == 1 {
				values := make([]float64, len(s.Given))
				for i, g := range s.Given {
					values[i] = run.Frame.V[g.Slot]
				}
				j.Values = append(j.Values, values)
			}
			return true
		})
		jobs = append(jobs, j)
	}
	texts := corpus(t)
	for i := range texts {
		texts[i] = strings.ToValidUTF8(texts[i], "\ufffd")
	}
	dir := t.TempDir()
	in, _ := json.Marshal(map[string]any{"jobs": jobs, "texts": texts})
	script := `const fs = require("fs"), vm = require("vm");
const { jobs, texts } = JSON.parse(fs.readFileSync(0, "utf8"));
const runtime = fs.readFileSync(process.argv[2], "utf8");
const context = vm.createContext({});
vm.runInContext(runtime, context);
const out = jobs.map((j) => {
	vm.runInContext(j.JS + ";\nlabsite.use((s) => { sheetOfPage = s; });", context);
	return j.Values.map((v) => { context.values = v; return vm.runInContext("probe(sheetOfPage, values)", context); });
});
const read = vm.runInContext("(" + ` + "`" + readProbe + "`" + ` + ")", context);
process.stdout.write(JSON.stringify({ out, read: texts.map((t) => read(t)) }));
`
	for name, text := range map[string]string{"runtime.js": string(Runtime()) + probe, "run.cjs": script} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(node, filepath.Join(dir, "run.cjs"), filepath.Join(dir, "runtime.js"))
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	raw, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	var result struct {
		Out  [][][8]json.RawMessage
		Read [][4]any
	}
	if err := json.Unmarshal(raw, &result); err != nil {
		t.Fatal(err)
	}
	cases := 0
	for i, j := range jobs {
		p := Page{Sheet: f.sheets[j.Name]}
		for k, values := range j.Values {
			c := prove.NewCase(p.Sheet)
			for n, g := range p.Sheet.Given {
				c.Set(g, values[n])
			}
			c.Work()
			cases++
			if what, want, found := p.Differ(p.ByGo(c), outcomeOf(t, result.Out[i][k])); what != "" {
				t.Errorf("%s at %s: %s\nin Go:   %s\nin node: %s", j.Name, settings(p.Sheet, values), what, want, found)
			}
		}
	}
	i := 0
	for k, text := range texts {
		i = k
		sameReading(t, func(string) (reading, error) {
			x := result.Read[i]
			text := func(n int) string { s, _ := x[n].(string); return s }
			if x[0] == nil {
				return reading{Code: text(1), Message: text(2), Hint: text(3)}, nil
			}
			return reading{Base: x[0].(float64), Text: text(1), Unit: text(2), Kind: text(3)}, nil
		}, text)
	}
	t.Logf("%d cases, %d texts", cases, len(texts))
	if cases < 1000 {
		t.Errorf("only %d cases", cases)
	}
}

func outcomeOf(t *testing.T, parts [8]json.RawMessage) (out Outcome) {
	t.Helper()
	get := func(i int, to any) {
		if err := json.Unmarshal(parts[i], to); err != nil {
			t.Fatal(err)
		}
	}
	shown := func(i int) (list []quantity.Shown) {
		var values []any
		get(i, &values)
		for i := 0; i < len(values); i += 3 {
			list = append(list, shownOf(values[i], values[i+1], values[i+2]))
		}
		return list
	}
	out.Given, out.Figures, out.Placed = shown(0), shown(1), shown(2)
	get(3, &out.Limits)
	get(4, &out.Reasons)
	get(5, &out.Failed)
	get(6, &out.Times)
	var clock []*float64
	get(7, &clock)
	out.Clock = moments(clock)
	return out
}

// moments is a clock from JSON, in which null stands for NaN.
func moments(clock []*float64) (out []float64) {
	for _, at := range clock {
		if at == nil {
			out = append(out, math.NaN())
		} else {
			out = append(out, *at)
		}
	}
	return out
}

func shownOf(text, number, unit any) quantity.Shown {
	if text == nil {
		return quantity.Shown{Number: math.NaN()}
	}
	if number == nil { // a missing value
		number = math.NaN()
	}
	return quantity.Shown{Text: text.(string), Number: number.(float64), Unit: unit.(string)}
}
