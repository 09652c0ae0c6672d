//go:build browser

package main

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/serviceworker"
)

// A device that has read a newer version of a page, but has no whole copy of that version, shows no
// figures from the older copy once the site is out of reach: not on the page, not on its card, and
// not after the worker was stopped. A page not read since is shown from the copy, and all pages are
// once the site itself is back at that version.
func TestBrowserNeverGoesBack(t *testing.T) {
	t.Parallel()
	version := func(parts string) string {
		from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
		for _, name := range []string{"Mixing", "Rinsing"} {
			text := "---\ntitle: " + name + "\naudience: customers\ngiven:\n  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 50 ml}\nfigures:\n  dose: {label: Dose, formula: tank / " + parts + ", show: 0.1 ml}\n---\nTake {dose}.\n"
			if err := os.WriteFile(filepath.Join(from, strings.ToLower(name)+".md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		var out, errs bytes.Buffer
		if run(t.Context(), []string{"publish", "--from", from, "--to", to}, &out, &errs) != 0 {
			t.Fatal(errs.String())
		}
		return to
	}
	first, second := version("100"), version("50")
	var dir atomic.Value
	var down atomic.Bool
	dir.Store(first)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		now := dir.Load().(string)
		if down.Load() {
			if c, _, err := w.(http.Hijacker).Hijack(); err == nil {
				c.Close()
			}
			return
		}
		if now == second && r.URL.Path == "/rinsing.html" {
			http.Error(w, "not to be had", http.StatusBadGateway) // so that no copy of the second version can be made
			return
		}
		r.Header.Del("If-Modified-Since")
		http.FileServer(http.Dir(now)).ServeHTTP(w, r)
	}))
	defer server.Close()
	readers(t, first, []string{"never back, phone"}, func(r *reader, _ string) {
		r.server = server.URL
		open := func(name string) { r.open(server.URL + "/" + name) }
		stop := func() {
			must(t, call(r.tab, serviceworker.Enable, cdp.Empty{}))
			must(t, call(r.tab, serviceworker.StopAllWorkers, cdp.Empty{}))
		}
		open("mixing.html")
		r.tap(`.kept button:not([hidden])`)
		r.until("the copy", `document.querySelector('.kept').textContent.includes('Kept for offline, as of')`)

		dir.Store(second)
		open("mixing.html")
		r.results(map[string]string{"dose": "10.0 ml"})
		down.Store(true)
		older := func() {
			for _, name := range []string{"mixing.html", "mixing.card.html"} {
				open(name)
				r.has("main", "A newer version of it was read on this device on")
				r.has("main", "so it shows no figures")
				if r.is(`!!document.querySelector('.q')`) {
					t.Errorf("%s, older than what was read, shows figures", name)
				}
			}
		}
		older()
		faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with an older copy: %s", text) })
		r.picture("offline-older-phone", "main")
		stop()
		older()
		open("rinsing.html")
		r.results(map[string]string{"dose": "5.0 ml"})

		// back at the first version, the copy matches the site
		dir.Store(first)
		down.Store(false)
		open("mixing.html")
		r.results(map[string]string{"dose": "5.0 ml"})
		down.Store(true)
		open("mixing.html")
		r.results(map[string]string{"dose": "5.0 ml"})
		r.tell(func(string) {}) // a server that is down is asked, and that fails
	})
}
