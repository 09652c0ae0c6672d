package site

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"labsite/recipes/script"
	"labsite/recipes/sheet"
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
		{"const a = 1; // one\nlet b = a + +a - -a;\n", "const a=1;\nlet b=a+ +a- -a;\n"},
		{"x = 'a // b  c' + \"d /* e */\" + `f ${ g }  h`;", "x='a // b  c'+\"d /* e */\"+`f ${ g }  h`;"},
		{"return /[/ ']  x/g.test(t) ? a / b / c : d;", "return /[/ ']  x/g.test(t)?a / b / c:d;"},
		{"if (typeof x === 'y' && x in z) do_it();", "if(typeof x==='y'&&x in z)do_it();"},
		{"/* many\n lines */\n  a\n  b\n", "\na\nb\n"},
		{"t.replace(/\\/ /, ' ')", "t.replace(/\\/ /,' ')"},
	} {
		if got := string(slimScript([]byte(c.in))); got != c.want {
			t.Errorf("%q became %q, want %q", c.in, got, c.want)
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
	// an engine reads the shortened runtime as it reads the whole one
	if n := len(formulaRuntime()); n >= len(script.Runtime) || n < len(script.Runtime)*3/4 {
		t.Errorf("of %d bytes %d are left", len(script.Runtime), n)
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
