package script

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

const tankPage = `
given:
  tank: {label: Working solution, value: 500 ml, from: 300 ml, to: 2 l, step: 50 ml}
  bath: {value: 20 °C, from: 18 °C, to: 24 °C, step: 0.5 K}
  strength: {value: 1+100, choices: [1+50, 1+100]}
  rolls: {value: 1, from: 1, to: 4}
  shutter: {value: 1/125 s, from: 1/1000 s, to: 1 s}
  minimum: 4 ml
  push: {value: 1 stop, from: 0 stop, to: 3 stop, step: 1/3 stop}
  wait: {value: 2 min, from: 0 s, to: 10 min, step: 90 s}
figures:
  exact: tank * strength
  each: {label: Each, formula: exact / rolls, show: 0.01 ml}
  short: {formula: "1 s / (bath - 23 °C) * 1 K", show: 1 s}
limits:
  - when: each < minimum
    refuse: Too little.
  - when: bath > 22 °C
    notice: Warm.
steps:
  - {do: Pour, for: 2 min}
  - {do: Look}
  - {do: Develop, for: exact / 1 ml * 1 min, agitate: {first: 30 s, every: 1 min, inversions: 2}, drain: 10 s}
tables:
  amounts: {caption: Amounts, rows: {tank: "500 ml .. 600 ml by 100 ml"}, columns: {strength: [1+50, 1+100]}, cell: [exact, each]}
`

func TestSheet(t *testing.T) {
	t.Parallel()
	b := open(t, pageOf(t, tankPage))
	for _, c := range []struct{ run, want string }{
		{`page.work().figures.each`, `{"shown":"4.95 ml","value":4.9504950495049505,"unit":"ml"}`},
		{`page.work().given.strength`, `{"shown":"1+100","value":0.009900990099009901,"unit":"","own":true}`},
		{`page.given.map((g) => g.name + (g.settable ? "" : "!")).join()`, `"tank,bath,strength,rolls,shutter,minimum!,push,wait"`},
		{`page.given[0]`, `{"label":"Working solution","unit":"ml","from":{"base":300,"text":"300 ml"},"to":{"base":2000,"text":"2 L"},"step":{"base":50,"text":"50 ml"},"whole":false,"choices":null,"name":"tank","slot":0,"own":500,"text":"500 ml","show":["written","ml"],"kind":"a volume","title":"Working solution","settable":true,"kindKey":"3,0,0,0,0,0,0","ownForm":""}`},
		{`page.settings()`, `""`},
		// refused, and back
		{`page.set("rolls", "2").ok`, `true`},
		{`(({refused, withdrawn, reasons, limits, process, figures}) => [refused, withdrawn, reasons, limits, process, figures.each])(page.work())`,
			`[true,true,[{"of":"","limit":0,"text":""}],[{"of":"","index":0,"kind":"refuse"}],null,{"shown":null,"value":null,"unit":null}]`},
		{`page.work().given.rolls.shown`, `"2"`},
		{`page.set("strength", "1+50").ok && page.work().refused`, `false`},
		{`page.changed()`, `["strength","rolls"]`},
		{`page.settings()`, `"strength=1%2B50&rolls=2"`},
		// a result that is not finite withdraws everything as well
		{`page.set("bath", "23").ok && [page.work().failed, page.work().refused, page.work().withdrawn, page.work().figures.each.shown]`, `[["short"],false,true,null]`},
		{`page.set("bath", "22.5") && page.work().limits`, `[{"of":"","index":1,"kind":"notice"}]`},
		// controls
		{`[page.move("tank", 1).base, page.move("tank", -3).base, page.move("tank", -100).base, page.move("tank", 1000).base]`, `[550,400,300,2000]`},
		{`page.set("tank", "512 ml").base`, `512`},
		{`page.get("tank")`, `{"name":"tank","base":512,"text":"512 ml","shown":"512 ml","value":512,"unit":"ml","own":false}`},
		{`[page.move("tank", 1).base, page.set("tank", "512 ml").base, page.move("tank", -1).base]`, `[550,512,500]`},
		{`[page.move("rolls", 1).base, page.move("rolls", 9).base, page.move("strength", -1).text, page.move("minimum", 1).problem.code]`, `[3,4,"1+50","given-fixed"]`},
		// values between the steps are written in the fractions of the step
		{`[page.move("push", 1).text, page.move("push", 1).text, page.move("push", 1).text, page.move("wait", 1).text]`, `["1 1/3 stop","1 2/3 stop","2 stop","3 min"]`},
		{`page.reset("push"), page.reset("wait"), page.settings()`, `"bath=22.5%20%C2%B0C&strength=1%2B50&rolls=4"`},
		{`page.values("rolls")`, `[1,2,3,4]`}, {`page.values("tank").length`, `35`}, {`page.values("shutter")`, `[]`}, {`page.values("strength").length`, `2`},
		{`page.put("tank", 5000).problem.code`, `"out-of-range"`}, {`page.put("tank", 777.25)`, `{"ok":true,"base":777.25,"text":"777.25 ml"}`},
		{`[page.put("rolls", 2.5).problem.code, page.put("strength", 0.5).problem.code]`, `["whole-only","not-a-choice"]`},
		// a value keeps the unit in which it was typed, and the address has what was typed
		{`page.set("tank", "20 fl_oz") && [page.get("tank").text, page.get("tank").shown]`, `["20 fl_oz","591.4705913 ml"]`},
		{`page.reset("rolls"), page.settings()`, `"tank=20%20fl_oz&bath=22.5%20%C2%B0C&strength=1%2B50"`},
		{`page.reset(), page.changed()`, `[]`},
		{`page.take("#tank=600 ml&bath=68%20%C2%B0F&rolls=2&strength=1+50")`, `[]`},
		{`page.changed().concat(page.get("bath").text)`, `["tank","strength","rolls","20 °C"]`},
		{`page.take("tank=9 l&nobody=3&rolls=%zz&bath=21 °C&&x").map((p) => p.name + ":" + p.problem.code)`, `["tank:out-of-range","nobody:unknown-given","rolls:bad-address"]`},
		{`page.settings()`, `"bath=21%20%C2%B0C"`},
		// a value from a slider is kept and shown in full
		{`page.put("shutter", 0.01234567891) && [page.get("shutter").shown, page.get("shutter").text]`, `["0.01234567891 s","0.01234567891 s"]`},
		{`(() => { const f = page.settings(); page.take(f); return page.get("shutter").base; })()`, `0.01234567891`},
		{`page.show("tank", 1234.5)`, `{"shown":"1234.5 ml","value":1234.5,"unit":"ml"}`},
		{`page.show("each", 1.005)`, `{"shown":"1.01 ml","value":1.005,"unit":"ml"}`},
		// times and tables
		{`page.reset(), page.work().process`, `{"steps":[{"shown":"2 min","length":120,"start":0,"pour":120,"moments":[]},null,{"shown":"4 min 57 s","length":297,"start":120,"pour":287,"moments":[60,120,180,240]}],"total":417}`},
		{`page.grid("amounts").rows.map((r) => [r.text, r.cells.map((c) => c.figures.map((f) => f.shown).join(" ") + (c.own ? "*" : ""))])`,
			`[["500 ml",["9.8 ml 9.80 ml","4.95 ml 4.95 ml*"]],["600 ml",["11.8 ml 11.76 ml","5.94 ml 5.94 ml"]]]`},
		{`page.set("rolls", "2") && page.grid("amounts").rows[0].cells.map((c) => c.result.refused)`, `[false,true]`},
		// a copy is independent
		{`(() => { const c = page.copy(); c.set("rolls", "4"); return [page.get("rolls").base, c.get("rolls").base, c.changed()]; })()`, `[2,4,["rolls"]]`},
		{`Object.isFrozen(labsite) && Object.keys(labsite)`, `["page","use","further","on","read"]`},
	} {
		if got := b.run(c.run); got != c.want {
			t.Errorf("%s\ngives %s\nwant  %s", c.run, got, c.want)
		}
	}
}

// Limits and refusals of a page drawn on come with its name.
func TestDrawnOn(t *testing.T) {
	t.Parallel()
	s := pageOf(t, "draws_on: {mix: {page: mix.md, at: {tank: size}}}\ngiven: {size: {value: 500 ml, from: 100 ml, to: 5 l}}\nfigures: {twice: mix.exact * 2}",
		"mix.md", "---\ntitle: Mixing\naudience: staff\ngiven: {tank: {label: Tank, value: 500 ml, from: 300 ml, to: 2 l}}\nfigures: {exact: tank / 101}\nlimits:\n  - {when: tank > 1 l, notice: Large.}\n  - {when: tank > 1.5 l, refuse: Too large.}\n---\n")
	b := open(t, s)
	for _, c := range []struct{ size, want string }{
		{"600 ml", `[false,"11.9 ml",[],[]]`},
		{"1.2 l", `[false,"23.8 ml",[{"of":"mix","index":0,"kind":"notice"}],[]]`},
		{"1.8 l", `[true,null,[{"of":"mix","index":0,"kind":"notice"},{"of":"mix","index":1,"kind":"refuse"}],[{"of":"mix","limit":1,"text":""}]]`},
		{"200 ml", `[true,null,[],[{"of":"mix","limit":null,"text":"Tank 200 ml lies outside what Mixing was tested for."}]]`},
		{"500 ml", `[false,"9.9 ml",[],[]]`},
	} {
		got := b.run(`page.set("size", ` + quoted(c.size) + `) && (({refused, figures, limits, reasons}) => [refused, figures.twice.shown, limits, reasons])(page.work())`)
		if got != c.want {
			t.Errorf("%s gives %s, want %s", c.size, got, c.want)
		}
	}
}

// labsite.use may be called before or after a page's script.
func TestUse(t *testing.T) {
	t.Parallel()
	js, err := Page{Sheet: pageOf(t, "given: {x: 3}")}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	r := referee(t)
	for _, script := range []string{"var seen = []; labsite.use((s) => seen.push(s.given[0].own));", string(js), "labsite.use((s) => seen.push(s.given[0].name));"} {
		if _, err := r.vm.RunString(script); err != nil {
			t.Fatal(err)
		}
	}
	if got := r.vm.Get("seen").String(); got != "3,x" {
		t.Error(got)
	}
}

// The files work under script-src 'self' and from a disk: nothing is evaluated, loaded or sent.
func TestHarmless(t *testing.T) {
	t.Parallel()
	forbidden := regexp.MustCompile(`\b(eval|Function|fetch|XMLHttpRequest|import|export|require|WebSocket|Worker|setTimeout|innerHTML|document|window|globalThis|localStorage)\b`)
	f := demo(t)
	texts := map[string][]byte{"runtime": Runtime()}
	for name, s := range f.sheets {
		if s == nil {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		again, _ := Page{Sheet: s}.Emit()
		if !bytes.Equal(js, again) {
			t.Errorf("%s is written in two ways", name)
		}
		texts[name] = js
	}
	for name, js := range texts {
		text := regexp.MustCompile(`"(?:[^"\\]|\\.)*"`).ReplaceAllString(string(js), `""`)
		if m := forbidden.FindString(text); m != "" {
			t.Errorf("%s holds %s", name, m)
		}
	}
	if !strings.Contains(string(Runtime()), "°F") || strings.Contains(string(Runtime()), "$DATA") || strings.Contains(string(Runtime()), "\n//") {
		t.Error("the runtime is not put together")
	}
}

// A guide may have 60 KB in all; this bounds the share of its scripts.
func TestSize(t *testing.T) {
	t.Parallel()
	packed := func(b []byte) int {
		var out bytes.Buffer
		w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression)
		_, _ = w.Write(b)
		_ = w.Close()
		return out.Len()
	}
	most, largest := 0, ""
	f := demo(t)
	for name, s := range f.sheets {
		if s == nil {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		if n := packed(js); n > most {
			most, largest = n, fmt.Sprintf("%s (%d bytes)", name, len(js))
		}
	}
	runtime := packed(Runtime())
	t.Logf("runtime %d bytes, %d compressed; largest page %s, %d compressed", len(Runtime()), runtime, largest, most)
	// the largest page draws on many others, and its script has the formulas of all of them
	if runtime > 24_000 || most > 6_500 {
		t.Errorf("too large: runtime %d, %s %d", runtime, largest, most)
	}
}

// TestTables compares the cells of every table of the demo, as its page first shows them.
func TestTables(t *testing.T) {
	t.Parallel()
	f := demo(t)
	tables := 0
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil {
			continue
		}
		for _, g := range s.Grids {
			var want []string
			for i, row := range prove.Cells(g, prove.BlankCase(s)) {
				for _, cell := range row {
					var texts []string
					for _, x := range cell.Shown {
						texts = append(texts, x.Text)
					}
					want = append(want, fmt.Sprint(g.Rows.Values[i].Text, ": ", strings.Join(texts, " "), " ", cell.Own))
				}
			}
			if want == nil {
				continue
			}
			tables++
			got := open(t, s).run(`page.grid(` + quoted(g.Name) + `).rows.map((r) => r.cells.map((c) => r.text + ": " + c.figures.map((f) => f.shown).filter((t) => t !== null).join(" ") + " " + c.own)).flat()`)
			if got != quoted(want) {
				t.Errorf("%s: %s\nin Go:     %s\nin script: %s", name, g.Name, quoted(want), got)
			}
		}
	}
	if tables < 3 {
		t.Errorf("only %d tables", tables)
	}
}

// Given values in another unit stay when the page refuses.
func TestPlaced(t *testing.T) {
	t.Parallel()
	s := pageOf(t, tankPage)
	show := func(text string, kind quantity.Kind) quantity.Show {
		how, trouble := quantity.ParseShow(text, kind)
		if trouble != nil {
			t.Fatal(trouble.Message)
		}
		return how
	}
	tank, each := s.GivenNamed("tank"), s.Figure("each")
	p := Page{Sheet: s, Placed: []Placed{
		{Node: &formula.Node{Op: formula.Var, Kind: tank.Kind, Slot: tank.Slot}, Show: show("0.1 fl_oz", quantity.Volume), Given: true},
		{Node: &formula.Node{Op: formula.Var, Kind: each.Kind, Slot: each.Slot}, Show: show("1 µl", quantity.Volume)},
	}}
	compare(t, referee(t), p, 500)
	js, err := p.Emit()
	if err != nil {
		t.Fatal(err)
	}
	trial, err := referee(t).Load(js)
	if err != nil {
		t.Fatal(err)
	}
	values := make([]float64, len(s.Given))
	for i, g := range s.Given {
		values[i] = g.Own
	}
	for _, c := range []struct {
		rolls         float64
		given, figure string
	}{{1, "16.9 fl_oz", "4950 µl"}, {2, "16.9 fl_oz", ""}} {
		values[3] = c.rolls
		out, err := trial.At(values)
		if err != nil || out.Placed[0].Text != c.given || out.Placed[1].Text != c.figure {
			t.Errorf("%v rolls: %+v, %v", c.rolls, out.Placed, err)
		}
	}
}
