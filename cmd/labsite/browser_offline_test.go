//go:build browser

package main

import (
	"bytes"
	"errors"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// TestBrowserOffline keeps a site, stops its server, and restarts it with another version, in which
// one page is withdrawn.
func TestBrowserOffline(t *testing.T) {
	t.Parallel()
	const mix = `---
title: Mixing
audience: customers
control:
  number: T-1
  revision: REVISION
  status: STATUS
  owner: process lead
  approved_by: shop owner
  approved: 2026-01-01
  effective: EFFECTIVE
  review: 12 months
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 50 ml}
figures:
  dose: {label: Dose, formula: tank / PARTS, show: 0.1 ml}
---
Take {dose}.
`
	soon := time.Now().AddDate(0, -1, 0).Format(time.DateOnly)
	late := time.Now().AddDate(-2, 0, 0).Format(time.DateOnly)
	version := func(revision, status, parts string) string {
		from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
		page := func(name, number, effective, status string) {
			text := strings.NewReplacer("REVISION", revision, "STATUS", status, "PARTS", parts, "EFFECTIVE", effective, "T-1", number, "title: Mixing", "title: "+name).Replace(mix)
			if err := os.WriteFile(filepath.Join(from, strings.ToLower(name)+".md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		page("Mixing", "T-1", soon, "approved")
		page("Old", "T-2", late, "approved")
		page("Going", "T-3", soon, status)
		var out, errs bytes.Buffer
		if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
			t.Fatal(errs.String())
		}
		return to
	}
	first, second := version("1", "approved", "100"), version("2", "withdrawn", "50")
	var dir atomic.Value
	var down atomic.Bool
	dir.Store(first)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if down.Load() {
			c, _, err := w.(http.Hijacker).Hijack()
			if err == nil {
				c.Close()
			}
			return
		}
		r.Header.Del("If-Modified-Since") // both versions were written in the same second
		http.FileServer(http.Dir(dir.Load().(string))).ServeHTTP(w, r)
	}))
	defer server.Close()
	readers(t, first, []string{"offline, phone"}, func(r *reader, _ string) {
		r.server = server.URL
		r.open(server.URL + "/mixing.html")
		r.results(map[string]string{"dose": "5.0 ml"})
		r.tap(`.kept button:not([hidden])`)
		r.until("the copy", `document.querySelector('.kept').textContent.includes('Kept for offline, as of')`)
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with a kept copy: %s", text) })

		down.Store(true)
		r.open(server.URL + "/mixing.html#tank=600%20ml")
		r.results(map[string]string{"dose": "6.0 ml"})
		r.until("that the site is out of reach", `document.querySelector('main .kept').textContent.includes('The site cannot be reached')`)
		r.picture("offline-phone", "main")
		r.open(server.URL + "/going.html") // never opened before
		r.results(map[string]string{"dose": "5.0 ml"})
		r.open(server.URL + "/old.html") // past its review
		r.has("main", "shows no figures")
		if r.is(`!!document.querySelector('.q')`) {
			t.Error("a kept page past its review shows figures")
		}
		down.Store(false)
		r.open(server.URL + "/old.html")
		r.results(map[string]string{"dose": "5.0 ml"})

		// the next version: all of it, or all of the old one
		dir.Store(second)
		r.open(server.URL + "/mixing.html")
		r.results(map[string]string{"dose": "10.0 ml"})
		r.until("the newer version", `document.querySelector('.kept').textContent.includes('A newer version is ready')`)
		if !ask[bool](t, r.tab, `document.querySelector('main').firstElementChild.matches('.kept')`) {
			t.Error("a newer version that is there as a whole is not offered at the top")
		}
		// a page that stays open keeps the old copy in use; the withdrawn page is no longer in it
		follow := func(name string) {
			r.leaves("location.assign('/" + name + "')")
		}
		follow("going.html")
		r.has("main", "This page has been withdrawn.")
		// there is no way back: the newer version is whole, and answers
		down.Store(true)
		follow("going.html")
		r.has("main", "This page has been withdrawn.")
		follow("mixing.html")
		r.until("that the newer version answers", `document.querySelector('main .kept').textContent.includes('It is the newer version')`)
		r.results(map[string]string{"dose": "10.0 ml"})
		r.hash("tank=600%20ml")
		r.results(map[string]string{"dose": "12.0 ml"})
		down.Store(false)
		follow("mixing.html")
		r.results(map[string]string{"dose": "10.0 ml"})
		r.until("the newer version again", `document.querySelector('.kept').textContent.includes('A newer version is ready')`)
		r.tap(`.kept button:nth-of-type(2)`)
		r.until("the new copy", `'hand' in window && document.querySelector('.kept p').textContent.includes('Kept for offline') && !document.querySelector('.kept p').textContent.includes('newer')`)
		down.Store(true)
		r.open(server.URL + "/mixing.html")
		r.results(map[string]string{"dose": "10.0 ml"})
		r.tell(func(text string) { // a server that is down is asked, and that fails
			if !strings.Contains(text, "request failed") && !strings.Contains(text, "Failed to load resource") && !strings.Contains(text, "ERR_") && !strings.Contains(text, "violates") {
				t.Error(text)
			}
		})
	})
}

// Two sites on one host, the staff's below the customers', each keep a copy and leave the other's
// alone: neither takes it for its own, nor removes it with a newer version or when a reader removes
// a copy.
func TestBrowserTwoKeptSites(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var down atomic.Bool
	makeSite := func(folder, text string) {
		from := t.TempDir()
		page := "---\ntitle: " + text + "\naudience: customers\n---\n\n" + text + "\n"
		if err := os.WriteFile(filepath.Join(from, "note.md"), []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), "site")
		var out, errs bytes.Buffer
		if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
			t.Fatal(errs.String())
		}
		err := filepath.WalkDir(to, func(p string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			at := filepath.Join(dir, folder, strings.TrimPrefix(p, to))
			if d.IsDir() {
				return os.MkdirAll(at, 0o755)
			}
			b, err := os.ReadFile(p)
			return errors.Join(err, os.WriteFile(at, b, 0o644))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	makeSite("", "Outer")
	makeSite("staff", "Inner")
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if down.Load() {
			if c, _, err := w.(http.Hijacker).Hijack(); err == nil {
				c.Close()
			}
			return
		}
		r.Header.Del("If-Modified-Since")
		http.FileServer(http.Dir(dir)).ServeHTTP(w, r)
	}))
	defer server.Close()
	readers(t, dir, []string{"two sites, phone"}, func(r *reader, _ string) {
		r.server = server.URL
		kept := `document.querySelector('.kept').textContent.includes('Kept for offline, as of')`
		offered := `!document.querySelector('.kept button:nth-of-type(1)').hidden`
		outer, inner := server.URL+"/note.html", server.URL+"/staff/note.html"
		r.open(outer)
		r.tap(`.kept button:not([hidden])`)
		r.until("the outer copy", kept)
		r.open(inner)
		r.until("the offer of a copy of the inner site", offered)
		r.tap(`.kept button:not([hidden])`)
		r.until("the inner copy", kept)

		// a newer version of one leaves the copy of the other
		if err := os.RemoveAll(filepath.Join(dir, "note.html")); err != nil {
			t.Fatal(err)
		}
		makeSite("", "Newer")
		r.open(outer)
		r.until("the newer version", `document.querySelector('.kept').textContent.includes('A newer version is ready')`)
		r.tap(`.kept button:nth-of-type(2)`)
		r.until("the new copy", `!!document.querySelector('.kept p') && document.querySelector('.kept p').textContent.includes('Kept for offline') && !document.querySelector('.kept p').textContent.includes('newer')`)
		down.Store(true)
		r.open(inner)
		r.has("main", "Inner")
		r.open(outer)
		r.has("main", "Newer")

		// removing one does not remove the other
		down.Store(false)
		r.open(inner)
		r.until("the inner copy still", kept)
		r.tap(`.kept button:nth-of-type(3)`)
		r.until("that it is removed", `document.querySelector('.kept').textContent.includes('The copy was removed')`)
		down.Store(true)
		r.open(outer)
		r.has("main", "Newer")
		r.tell(func(string) {}) // a server that is down is asked, and that fails
	})
}
