//go:build browser

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestBrowserRows sets a value that columns of a data file depend on: verdicts, the table of rows,
// limits on rows and functions over rows follow, and at the tested value are again as published.
func TestBrowserRows(t *testing.T) {
	t.Parallel()
	const page = `---
title: Shutters
audience: customers
data:
  shutter: {file: shutter.csv, adds: {error: stops(measured / marked), verdict: "abs(error) <= limit ? 'ok' : 'repair'"}}
given:
  limit: {label: Limit, value: 1/3 stop, from: 0 stop, to: 1 stop, step: 1/6 stop}
figures:
  bad: {label: To repair, formula: "count(shutter.shutter, shutter.verdict, 'repair')"}
  advice: {label: Advice, formula: "bad > 1 ? 'close the bench' : 'go on'"}
limits:
  - {each: shutter, when: verdict == 'repair', caution: "Shutter {shutter} goes to repair."}
tables:
  late: {caption: To repair, of: shutter, columns: [shutter, measured, error], where: verdict == 'repair', order: -error, totals: [measured]}
---
{late}
`
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	for name, text := range map[string]string{"index.md": page, "shutter.csv": "shutter,marked [s],measured [s]\n1,1/500 s,1/400 s\n2,1/250 s,1/240 s\n3,1/125 s,1/80 s\n"} {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
		t.Fatal(errs.String())
	}
	readers(t, to, []string{"desk"}, func(r *reader, _ string) {
		cells := `[...document.querySelectorAll('#Table-late tbody tr')].map((tr) => [...tr.children].map((c) => c.textContent.replace(/\u00a0/g, ' ')).join('|')).join('; ')`
		r.open(r.serverURL("index.html"))
		tested := ask[string](t, r.tab, cells)
		r.open(r.serverURL("index.html") + "#limit=0.1%20stop")
		r.says(figureOf("bad"), "2")
		r.says(figureOf("advice"), "close the bench")
		r.has("#Limits", "Shutter 1 goes to repair.")
		r.has("#Limits", "Shutter 3 goes to repair.")
		r.until("the rows", cells+` === '3|1/80 s|0.644 stop; 1|1/400 s|0.322 stop; Total|0.015 s|'`)
		r.open(r.serverURL("index.html") + "#limit=1%20stop")
		r.says(figureOf("advice"), "go on")
		r.until("no row", cells+` === 'none||'`)
		r.open(r.serverURL("index.html"))
		r.until("the tested rows", cells+` === `+"`"+tested+"`")
	})
}
