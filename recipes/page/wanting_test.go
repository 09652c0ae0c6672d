package page_test

import (
	"slices"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

func TestWanting(t *testing.T) {
	const front = `---
title: T
audience: staff
control: {number: P-1, revision: 1, status: draft, owner: nobody yet}
data:
  times: {file: times.csv, source: not yet measured here}
  log: {file: log.csv, source: measured here 2026-09-14}
given:
  least: {value: 4 ml, source: not yet measured here, owner: nobody yet}
  most: {value: 9 ml, source: measured here 2026-09-14, owner: nobody yet}
  bath: {value: 20 °C, from: 18 °C, to: 24 °C, source: "not yet measured here, a guess"}
  read: {example: 20 °C, from: 18 °C, to: 24 °C, source: not yet measured here}
  rate: {value: 2 ml, source: "common practice, no source"}
figures: {twice: least * 2}
checks:
  - {expect: {twice: 8 ml}, source: not yet measured here}
  - {expect: {twice: 8 ml}, source: arithmetic}
---
`
	f, _ := source.New("page.md", []byte(front))
	s, list := page.Decode(f, pagetest.Shelf{"times.csv": "a,b\n1,2\n", "log.csv": "a,b\n1,2\n"})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	var got []string
	for _, w := range s.Wanting() {
		if w.Span.Text() == "" {
			t.Errorf("%s has no place", w.What)
		}
		if w.Owner {
			w.What = "owner of " + w.What
		}
		got = append(got, w.What)
	}
	want := []string{"least", "owner of most", "the range of bath", "read", "what stands in times.csv", "what this check expects", "owner of the page P-1"}
	if !slices.Equal(got, want) {
		t.Errorf("wanting are %q, not %q", got, want)
	}
}
