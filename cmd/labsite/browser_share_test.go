//go:build browser

package main

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
)

// sharing stands in for a device's own share dialog: it accepts what ?takes= names, answers as
// ?answers= says, and keeps what it was given.
const sharing = `{
	const q = new URLSearchParams(location.search), takes = q.get('takes');
	window.shared = [];
	if (takes === 'nothing') {
		Object.defineProperty(navigator, 'share', {value: undefined, configurable: true});
	} else {
		Object.defineProperty(navigator, 'canShare', {configurable: true, value: takes === 'old' ? undefined : (what) => !what.files || what.files.every((f) => takes.split(',').includes(f.type))});
		Object.defineProperty(navigator, 'share', {configurable: true, value: async (what) => {
			if (!navigator.userActivation.isActive) throw new DOMException('no press', 'NotAllowedError');
			const name = q.get('answers');
			if (name) throw new DOMException(name, name);
			const files = await Promise.all((what.files || []).map(async (f) => [f.name, f.type, await f.text()]));
			window.shared.push({title: what.title, text: what.text || '', files});
		}});
	}
}`

// TestBrowserShare shares records as a JSON file, as a plain-text file and as text; the dialog is
// dismissed, it fails, and a device has none. Meanwhile the site is out of reach.
func TestBrowserShare(t *testing.T) {
	t.Parallel()
	const page = `---
title: Check
audience: customers
keeps: check-log.csv
given:
  density: {label: Density, example: 1.24, from: 1, to: 2}
figures:
  over: {label: Over, formula: density - 1, show: 0.01}
steps:
  - {do: Look, for: 1 min}
---
Look.
`
	dir := pagesSite(t, map[string]string{"check.md": page})
	from := t.TempDir()
	must(t, os.WriteFile(filepath.Join(from, "check.md"), []byte(page), 0o644))
	var down atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		if down.Load() {
			hijacked, _, err := w.(http.Hijacker).Hijack()
			if err == nil {
				hijacked.Close()
			}
			return
		}
		w.Header().Set("Cache-Control", "no-store")
		http.FileServer(http.Dir(dir)).ServeHTTP(w, q)
	}))
	t.Cleanup(server.Close)
	readers(t, dir, []string{"share, phone"}, func(r *reader, _ string) {
		r.first(sharing)
		r.server = server.URL
		buttons := func() string {
			return ask[string](r.t, r.tab, `[...document.querySelectorAll('.record-buttons .button')].filter(b => b.checkVisibility()).map(b => b.textContent).join()`)
		}
		for _, c := range []struct{ takes, answers, kind, ending, says string }{
			{"application/json,text/plain", "", "application/json", ".json", "Shared. Hand the file to whoever keeps the records."},
			{"text/plain", "", "text/plain", ".json.txt", "Shared."},
			{"words", "", "", "", "Shared."},
			{"old", "", "", "", "Shared."},
			{"text/plain", "AbortError", "", "", ""},
			{"text/plain", "NotAllowedError", "", "", "This device did not share it: save it as a file."},
			{"text/plain", "DataError", "", "", "This device did not share it: save it as a file."},
			{"nothing", "", "", "", ""},
		} {
			when := c.takes + " " + c.answers
			down.Store(false)
			r.open(server.URL + "/check.html?takes=" + c.takes + "&answers=" + c.answers)
			r.enter(map[string]string{"density": "1.30"})
			r.tap(`.record-desk .button`)
			r.until("the form of a record", `!!document.querySelector('.record-form:not([hidden])')`)
			down.Store(true)
			r.typeInto(".record-desk .initials-field", "KM")
			if c.takes == "nothing" {
				if got := buttons(); got != "Save as a file" {
					t.Errorf("a device that shares nothing offers %q", got)
				}
			} else {
				r.tap(`.record-buttons .button:nth-child(2)`)
				if c.says != "" {
					r.until(when+": "+c.says, `document.querySelector('.record-said').textContent.startsWith('`+c.says+`')`)
				} else {
					r.until("that nothing is said of what was put off", `document.querySelector('.record-said').textContent === ''`)
				}
			}
			var made string
			type handed struct {
				Title, Text string
				Files       [][]string
			}
			got := ask[[]handed](r.t, r.tab, `window.shared`)
			switch {
			case c.answers != "" || c.takes == "nothing":
				if len(got) != 0 {
					t.Errorf("%s: %v was shared", when, got)
				}
				made = r.downloaded(func() { r.tap(`.record-buttons .button`) })
				r.has(".record-said", "Saved.")
			case len(got) != 1:
				t.Errorf("%s: shared %d times", when, len(got))
				return
			case c.kind == "":
				made = got[0].Text
				if len(got[0].Files) != 0 {
					t.Errorf("%s: a file is handed to a device that takes none", when)
				}
			default:
				if f := got[0].Files; len(f) != 1 || !strings.HasSuffix(f[0][0], c.ending) || f[0][1] != c.kind {
					t.Fatalf("%s: shared is %v", when, f)
				}
				made = got[0].Files[0][2]
			}
			// what the device shared is a record that the lab accepts
			at := filepath.Join(from, "handed"+map[bool]string{true: ".json", false: ".txt"}[c.kind == "application/json"])
			must(t, os.WriteFile(at, []byte(made), 0o600))
			var errs bytes.Buffer
			if status := run(t.Context(), []string{"record", at, "--from", from}, io.Discard, &errs); status != 0 {
				t.Errorf("%s: the record is not taken: %s\n%s", when, &errs, made)
			}
		}
		// a run at its end
		down.Store(false)
		r.open(server.URL + "/check.html?takes=text/plain")
		r.enter(map[string]string{"density": "1.30"})
		r.clockAhead()
		r.runThrough(false)
		down.Store(true)
		r.tapButton("Share the record")
		r.until("that it is shared", `document.querySelector('.run-sheet .record-said').textContent === 'Shared. Hand the file to whoever keeps the records.'`)
		if !r.is(`window.shared.length === 1 && /"steps"/.test(window.shared[0].files[0][2]) && /Close this run/.test(document.querySelector('.run-buttons').textContent)`) {
			t.Error("the record of a run is not shared, or does not count as handed on")
		}
		r.tapButton("Close this run")
	})
}
