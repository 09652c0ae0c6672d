package shelf_test

import (
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"labsite/content"
	"labsite/render/shelf"
)

// carried matches what no page may bring into another lab.
var carried = regexp.MustCompile(`(?m)source: "?measured here|^ *owner: (?:[^n]|n[^o])|[,{] owner: (?:[^n]|n[^o])|approved_by:|status: approved|^  (?:approved|effective|review):|^  changes:$|^    review:|, review:|Brindle|Osterby`)

func TestNothingPassesForTested(t *testing.T) {
	for _, trade := range append([][]string{shelf.Names()}, each(shelf.Names())...) {
		taken, list, err := shelf.Take(content.Shelf(), trade, "Our Lab")
		if err != nil || list.Errors() > 0 {
			t.Fatal(err, list)
		}
		if taken.Pages == 0 || taken.Marks == 0 {
			t.Errorf("%v: %d pages with %d marks", trade, taken.Pages, taken.Marks)
		}
		marks := 0
		for p, raw := range taken.Files {
			if path.Ext(p) != ".md" {
				continue
			}
			if found := carried.Find(raw); found != nil {
				t.Errorf("%s carries %q", p, found)
			}
			marks += strings.Count(string(raw), "source: not yet measured here")
		}
		if marks != taken.Marks {
			t.Errorf("%v: %d marks are reported, there are %d", trade, taken.Marks, marks)
		}
	}
}

func each(names []string) (out [][]string) {
	for _, n := range names {
		out = append(out, []string{n})
	}
	return out
}

// The shelf is every page of the demo except its front page.
func TestShelfIsWhole(t *testing.T) {
	var there []string
	fs.WalkDir(content.Shelf(), ".", func(p string, d fs.DirEntry, err error) error {
		if path.Ext(p) == ".md" && path.Base(p) != "index.md" {
			there = append(there, p)
		}
		return err
	})
	taken, _, err := shelf.Take(content.Shelf(), shelf.Names(), "Our Lab")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range there {
		if _, ok := taken.Files[p]; !ok && p != "developing/overnight-stand.md" { // withdrawn
			t.Errorf("nobody is given %s", p)
		}
	}
}

// A page in each way of writing, and what becomes of it.
func TestTake(t *testing.T) {
	from := fstest.MapFS{
		"a/index.md": {Data: []byte("---\ntitle: A\naudience: staff\n---\n\nSee [the\npage](page.md).\n\n> This lab is invented.\n")},
		"a/page.md": {Data: []byte(`---
title: Page
audience: staff
topics: [printing]
control: {number: P-1, revision: 3, status: approved, owner: me, approved_by: you, approved: 2026-01-01, review: 1 year}
draws_on: {other: ../b/other.md}
data: {rows: rows.csv, kept: kept.csv}
keeps: kept.csv
given:
  bath: {value: 20 °C, from: 18 °C, to: 24 °C}
  day: {value: 2026-01-01, from: 2026-01-01, to: 2027-01-01}
  rate: {label: "A rate, owned", value: 2 ml, source: 'measured here 2026-01-01', owner: "me", review: 1 year}
checks:
  - {at: {bath: 20 °C}, expect: {x: 1}, source: "a \"book\""}
  - expect: refused
    source: measured here 2026-01-01
  - always: x > 0
---

[Other](../b/other.md#part), [gone](gone.md), [far](https://example.com/a.md), Brindle Weir staining syrup.
`)},
		"rows.csv":     {Data: []byte("a\n1\n")},
		"a/kept.csv":   {Data: []byte("a\n1\n")},
		"b/index.md":   {Data: []byte("---\ntitle: B\naudience: staff\n---\n")},
		"b/other.md":   {Data: []byte("---\ntitle: Other\naudience: staff\ntopics: [cameras]\n---\n")},
		"b/camera.md":  {Data: []byte("---\ntitle: Camera\naudience: staff\ntopics: [cameras]\n---\n")},
		"gone/gone.md": {Data: []byte("---\ntitle: Gone\naudience: staff\ntopics: [printing]\ncontrol: {number: P-2, revision: 1, status: withdrawn}\n---\n")},
	}
	taken, list, err := shelf.Take(from, []string{"enlarging"}, "Our Lab")
	if err != nil || list.Errors() > 0 {
		t.Fatal(err, list)
	}
	for p, want := range map[string]string{
		"a/index.md": "---\ntitle: A\naudience: staff\n---\n\nSee the\npage.\n",
		"b/other.md": "---\ntitle: Other\naudience: staff\ntopics: [cameras]\n---\n",
		"b/index.md": "---\ntitle: B\naudience: staff\n---\n",
		"rows.csv":   "a\n1\n",
		"a/page.md": `---
title: Page
audience: staff
topics: [printing]
control: {number: P-1, revision: 1, status: draft, owner: nobody yet}
draws_on: {other: ../b/other.md}
data: {rows: {file: rows.csv, source: not yet measured here}, kept: {file: kept.csv, source: not yet measured here}}
keeps: kept.csv
given:
  bath: {value: 20 °C, source: not yet measured here, from: 18 °C, to: 24 °C}
  day: {value: 2026-01-01, from: 2026-01-01, to: 2027-01-01}
  rate: {label: "A rate, owned", value: 2 ml, source: not yet measured here, owner: nobody yet}
checks:
  - {at: {bath: 20 °C}, expect: {x: 1}, source: "a \"book\" (with the example's values)"}
  - expect: refused
    source: not yet measured here
  - always: x > 0
---

[Other](../b/other.md#part), gone, [far](https://example.com/a.md), Staining syrup.
`,
	} {
		if got := string(taken.Files[p]); got != want {
			t.Errorf("%s is\n%s\nnot\n%s", p, got, want)
		}
		delete(taken.Files, p)
	}
	for p := range taken.Files {
		t.Errorf("%s was taken", p)
	}
}
