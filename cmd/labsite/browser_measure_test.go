//go:build browser

package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// heaviest is how many bytes a guide may weigh with all its style sheets and scripts, compressed as
// a server sends them.
const heaviest = 60_000

// TestBrowserWeight weighs what a phone loads for each page: the page and everything that its text
// names. That a browser loads just that is checked for the heaviest page here, and for every page
// by faultsOfLoading.
func TestBrowserWeight(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	names := pagesOf(t, dir)
	weights := map[string]int{}
	compressed := map[string]int{}
	for _, name := range names {
		for _, file := range loadedBy(t, dir, name) {
			if compressed[file] == 0 {
				compressed[file] = compressedSize(t, filepath.Join(dir, filepath.FromSlash(file)))
			}
			weights[name] += compressed[file]
		}
		if weights[name] > heaviest {
			t.Errorf("%s weighs %d bytes with %v", name, weights[name], loadedBy(t, dir, name))
		}
	}
	slices.SortFunc(names, func(a, b string) int { return weights[b] - weights[a] })
	readers(t, dir, names[:3], func(r *reader, name string) {
		r.open(r.serverURL(name))
		faultsOfLoading(t, r.tab, name, func(text string) { t.Errorf("%s: %s", name, text) })
	})
	t.Logf("the heaviest page is %s with %d bytes", names[0], weights[names[0]])
}

// compressedSize is the size of a file in transfer.
func compressedSize(t *testing.T, file string) int {
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Error(err)
	}
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	w.Write(raw)
	w.Close()
	return b.Len()
}

// loadedBy lists the page and the style sheets and scripts that its text names, in order.
func loadedBy(t *testing.T, dir, name string) []string {
	raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Error(err)
	}
	out := []string{name}
	for _, m := range loaded.FindAllStringSubmatch(string(raw), -1) {
		out = append(out, path.Join(path.Dir(name), m[1]))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// faultsOfLoading compares what the open page has loaded from the server with what its text names,
// so that weighing the text weighs the page.
func faultsOfLoading(t *testing.T, tab *tab, name string, add func(string)) {
	got := ask[[]string](t, tab, `performance.getEntriesByType('resource').map(e => decodeURIComponent(new URL(e.name).pathname))`)
	files := []string{name}
	for _, f := range got {
		switch path.Ext(f) {
		case ".css", ".js":
			files = append(files, strings.TrimPrefix(f, "/"))
		case ".woff", ".woff2", ".ttf", ".otf":
			add("fetches a font: " + f)
		}
	}
	slices.Sort(files)
	if want := loadedBy(t, tab.dir, name); !slices.Equal(slices.Compact(files), want) {
		add(fmt.Sprintf("has loaded %v, and its text names %v", files, want))
	}
}

// TestMeasureChange is a measurement: how long a change takes to be worked out and laid out again
// on a processor slowed down four times, and how many times as long as setting one text of the same
// page, in turns with it. It has no bounds.
func TestMeasureChange(t *testing.T) {
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"measure, phone"}, func(r *reader, _ string) {
		for _, name := range []string{guide, "developing/two-agent.html", "developing/rotary-drum.html", "printing/bigger-print.html"} {
			r.open(r.fileURL(name))
			must(t, call(r.tab, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}))
			took := ask[struct{ Change, Text []float64 }](t, r.tab, `(async () => {
				// more and then less of each value, so that the page refuses for one press where it does
				const change = [], text = [], steppers = [...document.querySelectorAll('.hand-line')].flatMap(e => [...e.querySelectorAll('.hand-step')].reverse());
				const timed = async (into, act) => {
					// what was put off is painted, and all is laid out
					for (let k = 0; k < 10; k++) await new Promise(f => setTimeout(f, 0));
					await new Promise(f => requestAnimationFrame(() => setTimeout(f, 0)));
					document.body.getBoundingClientRect();
					const begun = performance.now();
					act();
					document.body.getBoundingClientRect();
					into.push(performance.now() - begun);
				};
				for (let i = 0; i < 60; i++) {
					await timed(change, () => steppers[i % steppers.length].click());
					await timed(text, () => document.querySelector('.text p, .summary').append(' ' + i)); // a text that no script sets
				}
				const sorted = a => a.sort((a, b) => a - b);
				return {Change: sorted(change), Text: sorted(text)};
			})()`)
			must(t, call(r.tab, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 1}))
			middle, late := len(took.Change)/2, len(took.Change)*9/10
			fmt.Printf("%s: a change takes %.1f ms at the median, %.1f ms at the 90th percentile, slowed four times: %.1f and %.1f times as long as setting one text (%.1f and %.1f ms)\n", path.Base(name),
				took.Change[middle], took.Change[late], took.Change[middle]/took.Text[middle], took.Change[late]/took.Text[late], took.Text[middle], took.Text[late])
		}
	})
}
