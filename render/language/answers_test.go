package language

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/render/build/buildtest"
)

// labels asks for completions at a marked place, after replacing a text.
func (e *editor) labels(name, from, to, marked string) []string {
	e.t.Helper()
	text := e.text[name]
	e.put(name, strings.Replace(text, from, to, 1))
	var list completionList
	e.ask("textDocument/completion", e.at(name, marked), &list)
	var out []string
	for _, x := range list.Items {
		out = append(out, x.Label)
	}
	e.put(name, text)
	return out
}

// Completions are what can be written at a place, even while the page is unfinished.
func TestCompletion(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	e.open("developing.md")
	for _, c := range []struct {
		file, from, to, marked string
		has, lacks             []string
	}{
		{"mixing.md", "limits:\n", "li\nlimits:\n", "li‸\nlimits", []string{"charts", "steps", "summary"}, []string{"title", "label", "tank"}},
		{"mixing.md", "step: 50 ml}", "step: 50 ml, so}", "so‸}", []string{"source", "owner", "review"}, []string{"label", "formula", "title"}},
		{"mixing.md", "audience: customers", "audience: c", "audience: c‸", []string{"customers", "staff"}, []string{"tank"}},
		{"mixing.md", "exact: tank * strength", "exact: tank * st", "tank * st‸", []string{"strength", "tank", "round", "times"}, []string{"title", "minutes"}},
		{"mixing.md", "lookup(times.minutes,", "lookup(times.,", "lookup(times.‸,", []string{"minutes", "strength"}, []string{"tank", "round"}},
		{"mixing.md", "value: 500 ml", "value: 500 ", "value: 500 ‸", []string{"ml", "l", "fl_oz"}, []string{"tank"}},
		{"mixing.md", "at: {tank: 500 ml}", "at: {}", "at: {‸}", []string{"tank", "strength"}, []string{"exact", "label"}},
		{"mixing.md", "expect: {concentrate: 5.0 ml}", "expect: {}", "expect: {‸}", []string{"concentrate", "exact", "tank"}, []string{"label"}},
		{"mixing.md", "expect: {concentrate: 5.0 ml}", "expect: re", "expect: re‸", []string{"refused", "no caution"}, []string{"label"}},
		{"mixing.md", "  - when: exact < minimum\n", "  - when: exact < mini\n", "exact < mini‸", []string{"minimum"}, []string{"when"}},
		{"mixing.md", "Each roll needs {minimum}.", "Each roll needs {mini}.", "{mini‸}", []string{"minimum"}, []string{"when"}},
		{"mixing.md", "Draw {concentrate}", "Draw {con}", "Draw {con‸}", []string{"concentrate", "arithmetic", "steps"}, []string{"label"}},
		{"mixing.md", "in 1 ml}", "in }", "exact in ‸}", []string{"ml", "fl_oz", "1+n"}, []string{"tank"}},
		{"mixing.md", "data: {times: times.csv}", "data: {times: ti}", "times: ti‸}", []string{"times.csv"}, []string{"mixing.md"}},
		{"mixing.md", "limits:\n  - when", "limits:\n  - \n  - when", "limits:\n  - ‸\n", []string{"when", "refuse", "notice"}, []string{"at", "title"}},
		{"developing.md", "mix.concentrate / 2", "mix. / 2", "mix.‸ / 2", []string{"concentrate", "tank"}, []string{"size", "half"}},
		{"developing.md", "at: {tank: size}", "at: {ta}", "at: {ta‸}", []string{"tank", "strength"}, []string{"size"}},
		{"developing.md", "page: mixing.md", "page: m", "page: m‸", []string{"mixing.md"}, []string{"times.csv"}},
		{"developing.md", "](mixing.md#how-it-goes)", "](mixing.md#)", "(mixing.md#‸)", []string{"how-it-goes"}, nil},
	} {
		got := e.labels(c.file, c.from, c.to, c.marked)
		for _, x := range c.has {
			if !slices.Contains(got, x) {
				t.Errorf("%s: no %s among %.200v", c.marked, x, got)
			}
		}
		for _, x := range c.lacks {
			if slices.Contains(got, x) {
				t.Errorf("%s: %s is among them", c.marked, x)
			}
		}
	}
}

// Hovering explains what is under the cursor.
func TestHover(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	e.open("developing.md")
	for _, c := range []struct{ file, marked, says string }{
		{"mixing.md", "exact: ta‸nk * strength", "value 500 ml"},
		{"mixing.md", "Draw {conc‸entrate}", "here 5.0 ml"},
		{"mixing.md", "Draw {conc‸entrate}", "over the range 5.0 ml to 39.2 ml, in 92 settings that were tried"},
		{"mixing.md", "{ti‸me}", "over the range 8 min to 13 min"},
		{"mixing.md", "rou‸nd(exact", "gives"},
		{"mixing.md", "lim‸its:", "when a condition holds"},
		{"mixing.md", "exact, 0.‸1 ml", "1 ml is exactly 1 cm3"},
		{"mixing.md", "lookup(times.min‸utes", "times.csv"},
		{"developing.md", "mix.concen‸trate / 2", "round(exact, 0.1 ml)"},
		{"developing.md", "formula: m‸ix.conc", "mixing.md"},
	} {
		var got struct {
			Contents markup `json:"contents"`
		}
		e.ask("textDocument/hover", e.at(c.file, c.marked), &got)
		if !strings.Contains(got.Contents.Value, c.says) {
			t.Errorf("%s: %q", c.marked, got.Contents.Value)
		}
	}
}

// spotted writes places as the lines that they are on.
func (e *editor) spotted(list []location) (out []string) {
	for _, l := range list {
		name := l.URI[strings.LastIndexByte(l.URI, '/')+1:]
		line := ""
		if text, is := e.text[name]; is {
			line = strings.TrimSpace(strings.Split(text, "\n")[l.Range.Start.Line])
			line, _, _ = strings.Cut(line, ":")
		}
		out = append(out, name+" "+line)
	}
	slices.Sort(out)
	return out
}

func TestDefinitionAndReferences(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	e.open("developing.md")
	for _, c := range []struct{ file, marked, def string }{
		{"mixing.md", "exact: ta‸nk * strength", "mixing.md tank"},
		{"developing.md", "mix.concen‸trate / 2", "mixing.md concentrate"},
		{"developing.md", "at: {ta‸nk: size}", "mixing.md tank"},
		{"developing.md", "](mixing‸.md#how", "mixing.md ---"},
		{"mixing.md", "times.min‸utes", "times.csv "},
	} {
		var got []location
		e.ask("textDocument/definition", e.at(c.file, c.marked), &got)
		if spots := e.spotted(got); !slices.Equal(spots, []string{c.def}) {
			t.Errorf("%s is defined at %v", c.marked, spots)
		}
	}
	var got []location
	e.ask("textDocument/references", e.at("mixing.md", "  ta‸nk: {label"), &got)
	if spots := e.spotted(got); len(spots) != 5 { // exact, the check, two in the text, and the other page
		t.Errorf("tank is named at %v", spots)
	}
}

// A rename reaches every page and data file and leaves no error; one that would cause an error is
// refused.
func TestRename(t *testing.T) {
	for _, c := range []struct {
		marked, to string
		files      []string
	}{
		{"  ta‸nk: {label", "vessel", []string{"developing.md", "mixing.md"}},
		{"Draw {concen‸trate}", "syrup", []string{"developing.md", "mixing.md"}},
		{"lookup(times.min‸utes", "duration", []string{"mixing.md", "times.csv"}},
		{"lookup(tim‸es.minutes", "table", []string{"mixing.md"}},
	} {
		e := begin(t, buildtest.Lab(t, twoPages()))
		e.open("mixing.md")
		e.open("developing.md")
		e.open("times.csv")
		var got workspaceEdit
		p := e.at("mixing.md", c.marked)
		p["newName"] = c.to
		e.ask("textDocument/rename", p, &got)
		var files []string
		for uri, edits := range got.Changes {
			name := uri[strings.LastIndexByte(uri, '/')+1:]
			files = append(files, name)
			e.put(name, edited(e.text[name], edits))
		}
		slices.Sort(files)
		if !slices.Equal(files, c.files) {
			t.Fatalf("%s changes %v", c.marked, files)
		}
		for _, name := range []string{"mixing.md", "developing.md"} {
			e.heard(name, func(p publishParams) bool {
				return !slices.ContainsFunc(p.Diagnostics, func(d diagnostic) bool { return d.Severity == severityError })
			})
		}
	}
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	for _, to := range []string{"exact", "round", "two words", "ml", ""} {
		p := e.at("mixing.md", "  ta‸nk: {label")
		p["newName"] = to
		if r, err := e.rpc.Call(t.Context(), "textDocument/rename", p); err == nil {
			t.Errorf("tank became %q: %s", to, r.ResultString())
		}
	}
	if p := e.heard("mixing.md", nil); slices.ContainsFunc(p.Diagnostics, func(d diagnostic) bool { return d.Severity == severityError }) {
		t.Errorf("trying a rename left %s", show(p))
	}
}

func TestOutlines(t *testing.T) {
	texts := twoPages()
	texts["broken.md"] = "---\ntitle: Halves\naudience: staff\ngiven: {half: {value: 1}}\n---\nNo text \xff.\n"
	e := begin(t, buildtest.Lab(t, texts))
	e.open("mixing.md")
	in := map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}}
	var symbols []documentSymbol
	e.ask("textDocument/documentSymbol", in, &symbols)
	var names []string
	for _, s := range symbols {
		names = append(names, s.Name)
		for _, c := range s.Children {
			names = append(names, s.Name+"/"+c.Name)
		}
	}
	for _, want := range []string{"given/tank", "figures/exact", "How it goes", "data/times"} {
		if !slices.Contains(names, want) {
			t.Errorf("no %s among %v", want, names)
		}
	}
	var found []workspaceSymbol
	e.ask("workspace/symbol", map[string]any{"query": "hal"}, &found)
	if len(found) != 1 || found[0].Name != "half" || found[0].ContainerName != "developing.md" {
		t.Errorf("found %s", show(found))
	}
	var folds []foldingRange
	e.ask("textDocument/foldingRange", in, &folds)
	if !slices.ContainsFunc(folds, func(f foldingRange) bool { return f.StartLine == 4 && f.EndLine == 7 }) {
		t.Errorf("folds %s", show(folds))
	}
}

// Formulas are coloured by the program's own tokens, and the colours match the words.
func TestTokens(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	var got semanticTokens
	e.ask("textDocument/semanticTokens/full", map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}}, &got)
	lines := strings.Split(e.text["mixing.md"], "\n")
	line, at := 0, 0
	var seen []string
	for i := 0; i+5 <= len(got.Data); i += 5 {
		if got.Data[i] > 0 {
			at = 0
		}
		line, at = line+got.Data[i], at+got.Data[i+1]
		text := lines[line]
		a, b := editorOffset(text, position{0, at}), editorOffset(text, position{0, at + got.Data[i+2]})
		seen = append(seen, tokenTypes[got.Data[i+3]]+" "+text[a:b])
	}
	for _, want := range []string{"variable tank", "function round", "number 0.1 ml", "operator *", "function lookup", "variable concentrate"} {
		if !slices.Contains(seen, want) {
			t.Errorf("no %s among %v", want, seen)
		}
	}
}

// Values stand at the ends of lines until somebody switches them off; lenses and formatting do what
// they should and no more.
func TestHintsLensesAndFormatting(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	in := map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}}
	all := map[string]any{"textDocument": in["textDocument"], "range": textRange{position{0, 0}, position{100, 0}}}
	var hints []inlayHint
	e.ask("textDocument/inlayHint", all, &hints)
	if len(hints) != 3 || hints[1].Label != "= 5.0 ml" {
		t.Errorf("hints %s", show(hints))
	}
	e.notify("workspace/didChangeConfiguration", map[string]any{"settings": map[string]any{"labsite": map[string]any{"hints": false}}})
	if e.ask("textDocument/inlayHint", all, &hints); len(hints) != 0 {
		t.Errorf("hints that were switched off: %s", show(hints))
	}
	e.heard("mixing.md", nil)
	var edits []textEdit
	if e.ask("textDocument/formatting", in, &edits); len(edits) != 0 {
		t.Errorf("nothing should change, but these edits do: %s", show(edits))
	}
	text := strings.Replace(mixing, "audience: customers\n", "audience: customers  \nsummary: |\n  two  \n  lines  \n", 1)
	e.put("mixing.md", text)
	e.ask("textDocument/formatting", in, &edits)
	if got := edited(text, edits); got != strings.Replace(text, "customers  \n", "customers\n", 1) {
		t.Errorf("formatted: %q", got[:120])
	}
}

// How well each figure is guarded is found out while nobody types, and stays on show while somebody
// does.
func TestGuardedLens(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	lenses := func() (out []string) {
		var all []codeLens
		e.ask("textDocument/codeLens", map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}}, &all)
		for _, l := range all {
			out = append(out, fmt.Sprint(l.Range.Start.Line+1, " ", l.Command.Title))
		}
		return out
	}
	seen := e.asked("workspace/codeLens/refresh", 0)
	first := lenses()
	if !slices.ContainsFunc(first, func(l string) bool { return strings.HasPrefix(l, "1 the page is guarded ") }) || !slices.ContainsFunc(first, func(l string) bool { return strings.HasPrefix(l, "11 guarded ") && strings.Contains(l, " of ") }) {
		t.Fatalf("lenses %q", first)
	}
	e.put("mixing.md", strings.Replace(mixing, "expect: {concentrate: 5.0 ml}", "expect: {exact: 4.9 ml ± 5 ml}", 1))
	e.asked("workspace/codeLens/refresh", seen)
	if now := lenses(); slices.Equal(now, first) {
		t.Errorf("with a check that notices nothing the lenses are still %q", now)
	}
	for range 50 { // keystrokes cut it short, and what was known stays
		e.typed("mixing.md", "## How it goes", "x")
	}
	e.heard("mixing.md", nil)
	if now := lenses(); len(now) != len(first) {
		t.Errorf("while somebody types the lenses are %q", now)
	}
}
