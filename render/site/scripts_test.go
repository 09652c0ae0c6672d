package site

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"labsite/recipes/script"
	"labsite/recipes/sheet"
	"labsite/themes"
)

func demoSite(t testing.TB) *Site {
	t.Helper()
	s, list := Load(t.Context(), "../../content", Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	return s
}

// TestSlimScript holds the shortening of scripts to what must stay as it is.
func TestSlimScript(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"const a = 1; // one\nlet b = a + +a - -a;\n", "const a=1;let b=a+ +a- -a;\n"},
		{"x = 'a // b  c' + \"d /* e */\" + `f ${ g }  h`;", "x='a // b  c'+\"d /* e */\"+`f ${ g }  h`;\n"},
		{"return /[/ ']  x/g.test(t) ? a / b / c : d / /e/.exec(t);", "return/[/ ']  x/g.test(t)?a/b/c:d/ /e/.exec(t);\n"},
		{"if (typeof x === 'y' && /z/i in x) do_it();", "if(typeof x==='y'&&/z/i in x)do_it();\n"},
		{"/* many\n lines */\n  a\n  b\n", "a\nb\n"},
		{"t.replace(/\\/ /, ' ')", "t.replace(/\\/ /,' ')\n"},
		// line ends that end a statement, and those that do not
		{"a = b\n++c\nif (d) {\n  e()\n}\nf = [\n  g,\n]\n  .h", "a=b\n++c\nif(d){e()}\nf=[g,].h\n"},
		{"return\n'x'", "return\n'x'\n"},
		// names of its own, and those that others see
		{"const outer = 1; (() => { const inner = outer; let other, third = inner; use(inner, third, other); })();",
			"const outer=1;(()=>{const e=outer;let t,a=e;use(e,a,t);})();\n"},
		{"(function (given) { const {first, second: third = given, ...rest} = given; return [first, third, rest.third, ...rest]; })();",
			"(function(e){const{first,second:a=e,...t}=e;return[first,a,t.third,...t];})();\n"},
		{"(() => { const key = 1, word = 2; return {key: word, word, method(taken) { return taken ? taken : key; }, get got() { return word; }}; })();",
			"(()=>{const key=1,word=2;return{key:word,word,method(e){return e?e:key;},get got(){return word;}};})();\n"},
		{"(() => { const name = 'local', deep = document.deep; try { go(name, deep); } catch (fault) { tell(fault); } })();",
			"(()=>{const name='local',e=document.deep;try{go(name,e);}catch(t){tell(t);}})();\n"},
		{"(() => { class Kept { constructor(value) { this.value = value; } reach() { return this.value; } } const reached = (kept = outside) => new Kept(kept).reach(); for (const each of all) reached(each); })();",
			"(()=>{class e{constructor(i){this.value=i;}reach(){return this.value;}}const o=(a=outside)=>new e(a).reach();for(const t of all)o(t);})();\n"},
		{"(() => { const named = `${named}`; })();", "(()=>{const named=`${named}`;})();\n"},
	} {
		if got := string(slimScript([]byte(c.in))); got != c.want {
			t.Errorf("%q\nbecame %q,\n  want %q", c.in, got, c.want)
		}
	}
	for in, want := range map[string]string{
		"a :is(b, c) > d { margin: 0 auto; }\n\n@media (min-width: 2rem) { e::before { content: \": ; }\"; } }": "a :is(b,c) > d{margin:0 auto}@media (min-width:2rem){e::before{content:\": ; }\"}}",
		"f { width: calc(1rem + 2px); --g: ; }": "f{width:calc(1rem + 2px);--g:}",
	} {
		if got := string(slimStyle([]byte(in))); got != want {
			t.Errorf("%q became %q, want %q", in, got, want)
		}
	}
}

// TestSlimScriptsOfTheTheme holds every published script to the one that was written: the
// same signs, texts and properties in the same order, and for each name always the same
// one, which no other name has.
func TestSlimScriptsOfTheTheme(t *testing.T) {
	scripts := map[string][]byte{runtimeFile: script.Runtime}
	scripts[handFile], _ = handScript()
	parts, _ := themes.Files.ReadDir(handFolder)
	if len(parts) != len(handParts) {
		t.Errorf("of %d parts of %s %d are joined", len(parts), handFile, len(handParts))
	}
	entries, err := themes.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if path.Ext(e.Name()) == ".js" {
			scripts[e.Name()], _ = themes.Files.ReadFile(e.Name())
		}
	}
	meant := func(js []byte) (out []piece) {
		for _, p := range pieces(string(js)) {
			if p.kind > note {
				out = append(out, p)
			}
		}
		return out
	}
	for name, js := range scripts {
		short := slim(name, js)
		a, b := meant(js), meant(short)
		if len(a) != len(b) {
			t.Errorf("%s: of %d pieces %d are left", name, len(a), len(b))
			continue
		}
		became, was := map[string]string{}, map[string]string{}
		for i := range a {
			if a[i].kind != word || i > 0 && a[i-1].text == "." && (i < 2 || a[i-2].text != ".") {
				if a[i] != b[i] {
					t.Errorf("%s: %q became %q", name, a[i].text, b[i].text)
				}
				continue
			}
			if x := became[a[i].text]; x != "" && x != b[i].text {
				t.Errorf("%s: %s became %s and %s", name, a[i].text, x, b[i].text)
			}
			if x := was[b[i].text]; x != "" && x != a[i].text {
				t.Errorf("%s: %s and %s became %s", name, x, a[i].text, b[i].text)
			}
			became[a[i].text], was[b[i].text] = b[i].text, a[i].text
		}
		if 10*len(short) > 9*len(js) {
			t.Errorf("%s: of %d bytes %d are left", name, len(js), len(short))
		}
	}
}

// TestKeptSite holds the list of a kept site to the files that are published.
func TestKeptSite(t *testing.T) {
	s := demoSite(t)
	files, list := s.Render(t.Context(), sheet.Customers)
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	s.Keep(sheet.Customers, files)
	text, _, ok := strings.Cut(strings.TrimPrefix(string(files[workerFile]), "const site = "), ";\n")
	var kept keptSite
	if err := json.Unmarshal([]byte(text), &kept); err != nil || !ok {
		t.Fatalf("the worker's list does not read: %v", err)
	}
	seen := map[string]bool{}
	for _, f := range kept.Files {
		seen[f[0]] = true
		b, there := files[f[0]]
		if sum := sha256.Sum256(b); !there || f[1] != hex.EncodeToString(sum[:8]) {
			t.Errorf("%s is kept as %s, which is not what is published", f[0], f[1])
		}
	}
	for _, want := range []string{"index.html", "figures.js", "hand.js", "developing/one-shot-developer.html", "developing/one-shot-developer.figures.js", "developing/one-shot-developer.card.html"} {
		if !seen[want] {
			t.Errorf("%s is not kept", want)
		}
	}
	if r := kept.Reviews["developing/one-shot-developer.html"]; r[0] != "2027-10-01" {
		t.Errorf("the guide's review is said to be due on %q", r[0])
	}
	if files[workerCode] != nil {
		t.Error("the worker without its list is published")
	}
	// the same site has the same version, a changed one another
	before := kept.Version
	files, _ = s.Render(t.Context(), sheet.Customers)
	files["index.html"] = append(files["index.html"], ' ')
	s.Keep(sheet.Customers, files)
	if strings.Contains(string(files[versionFile]), before) {
		t.Error("a changed site has the version of the old one")
	}
}

// TestTextsOfOtherPages holds a text that comes from a page drawn on to the values that it
// has there, and never to a name that means something else here.
func TestTextsOfOtherPages(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"mix.md": `---
title: Mix
audience: customers
given:
  tank: {label: Tank, value: 1 l, from: 500 ml, to: 2 l}
  parts: {label: Parts, value: 10, from: 5, to: 20}
figures:
  dose: {label: Dose, formula: tank / parts, show: 1 ml}
limits:
  - when: dose > 150 ml
    notice: "Of the mix {dose} are taken for {tank}, {dose in cl} or {tank / 2}."
---
Take {dose}.
`,
		"use.md": `---
title: Use
audience: customers
draws_on: {mix: {page: mix.md, at: {tank: volume}}}
given:
  volume: {label: Volume, value: 1 l, from: 500 ml, to: 2 l}
  tank: {label: Something else, value: 3, from: 1, to: 5}
figures:
  dose: {label: Another dose, formula: tank * 2}
  taken: {label: Taken, formula: mix.dose}
---
Take {taken} and {dose} for {tank}.
`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, list := Load(t.Context(), dir, Options{Today: time.Now()})
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	if list := s.Agree(t.Context(), sheet.Customers); len(list) > 0 {
		t.Fatal(told(list))
	}
	files, _ := s.Render(t.Context(), sheet.Customers)
	js := string(files["use.figures.js"])
	_, text, _ := strings.Cut(js, `"mix#0":`)
	text, _, _ = strings.Cut(text, "</div></div>")
	if strings.Count(text, "data-placed") != 4 || strings.Contains(text, "data-figure") || strings.Contains(text, "data-given") {
		t.Errorf("the text of the other page names this page's values: %s", text)
	}
}

// BenchmarkParity sets what publish pays for running every page's checks through its
// script beside all the rest of it but the writing.
func BenchmarkParity(b *testing.B) {
	var rest, agree time.Duration
	for b.Loop() {
		begun := time.Now()
		s := demoSite(b)
		if _, list := s.Render(b.Context(), sheet.Customers); list.Errors() > 0 {
			b.Fatal(told(list))
		}
		middle := time.Now()
		if list := s.Agree(b.Context(), sheet.Customers); len(list) > 0 {
			b.Fatal(told(list))
		}
		rest += middle.Sub(begun)
		agree += time.Since(middle)
	}
	b.ReportMetric(100*agree.Seconds()/(rest+agree).Seconds(), "%-of-publishing")
}
