//go:build browser

package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// heaviest is what a guide may weigh with all its style sheets and scripts, compressed as
// a server sends them.
const heaviest = 60_000

// TestBrowserWeight weighs what a reader's phone loads for each guide.
func TestBrowserWeight(t *testing.T) {
	dir := demoSite(t, "customers")
	var names []string
	for _, name := range pagesOf(t, dir) {
		names = append(names, name)
	}
	readers(t, dir, []string{"weigh, phone"}, func(r *reader, _ string) {
		worst, at := 0, ""
		for _, name := range names {
			r.open(r.serverURL(name))
			files := ask[[]string](t, r.tab, `[location.pathname, ...performance.getEntriesByType('resource').map(e => new URL(e.name).pathname)].filter(n => /\.(html|css|js)$/.test(n))`)
			if fonts := ask[int](t, r.tab, `performance.getEntriesByType('resource').filter(e => /\.(woff2?|ttf|otf)/.test(e.name)).length`); fonts > 0 {
				t.Errorf("%s fetches %d fonts", name, fonts)
			}
			sum := 0
			for _, f := range files {
				raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f)))
				if err != nil {
					t.Error(err)
					continue
				}
				var b bytes.Buffer
				w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
				w.Write(raw)
				w.Close()
				sum += b.Len()
			}
			if sum > worst {
				worst, at = sum, name
			}
			if sum > heaviest {
				t.Errorf("%s weighs %d bytes with %v", name, sum, files)
			}
		}
		t.Logf("the heaviest page is %s with %d bytes", at, worst)
	})
}

// TestMeasureChange is for the bench: how long a change takes to be worked out and laid
// out anew on a processor slowed four times. It fails for nothing.
func TestMeasureChange(t *testing.T) {
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"measure, phone"}, func(r *reader, _ string) {
		for _, name := range []string{guide, "developing/two-agent.html", "developing/rotary-drum.html", "printing/bigger-print.html"} {
			r.open(r.fileURL(name))
			must(t, call(r.tab, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}))
			took := ask[[]float64](t, r.tab, `(async () => {
				const out = [], steppers = [...document.querySelectorAll('.hand-step')];
				for (let i = 0; i < 60; i++) {
					const b = steppers[i % steppers.length];
					await new Promise(f => requestAnimationFrame(() => setTimeout(f, 0)));
					const begun = performance.now();
					b.click();
					document.body.getBoundingClientRect();
					out.push(performance.now() - begun);
				}
				return out.sort((a, b) => a - b);
			})()`)
			must(t, call(r.tab, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 1}))
			if n := len(took); n > 0 {
				fmt.Printf("%s: a change takes %.1f ms in the middle, %.1f ms at the 90th of a hundred, slowed four times\n", path.Base(name), took[n/2], took[n*9/10])
			}
		}
	})
}
