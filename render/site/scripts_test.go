package site

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/dop251/goja"

	"labsite/recipes/script"
	"labsite/recipes/sheet"
	"labsite/render/chart"
	"labsite/render/highlight"
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

// later is some of what came into ECMAScript after 2020.
var later = regexp.MustCompile(`\?\?=|\|\|=|&&=|Object\.hasOwn\b|\.replaceAll\(|structuredClone`)

// TestSlim reads every script and style sheet of the theme again as it is published:
// nothing that is built in may be too much for the library that slims it, and what other
// scripts call by name keeps its name.
func TestSlim(t *testing.T) {
	files := map[string][]byte{runtimeFile: script.Runtime, "chart.css": []byte(chart.Style), "code.css": []byte(highlight.Style())}
	for folder, joined := range scriptParts {
		if parts, _ := themes.Files.ReadDir(folder); len(parts) != len(joined) {
			t.Errorf("of %d parts in %s %d are joined", len(parts), folder, len(joined))
		}
	}
	for name := range joinedScripts {
		files[name], _ = joinedScript(name)
	}
	entries, err := themes.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if path.Ext(e.Name()) == ".js" || path.Ext(e.Name()) == ".css" {
			files[e.Name()], _ = themes.Files.ReadFile(e.Name())
		}
	}
	for name, raw := range files {
		short := slim(name, raw)
		if 10*len(short) > 9*len(raw) {
			t.Errorf("%s: of %d bytes %d are left", name, len(raw), len(short))
		}
		if path.Ext(name) == ".js" {
			if _, err := goja.Parse(name, string(short)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if late := later.FindString(string(short)); late != "" {
				t.Errorf("%s: %s came after ECMAScript %d", name, late, scriptsYear)
			}
		}
	}
	if !strings.Contains(string(formulaRuntime()), "var labsite=") {
		t.Error("the runtime is no longer called labsite")
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
