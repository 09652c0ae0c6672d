package language

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"labsite/render/build"
	"labsite/render/build/buildtest"
)

// BenchmarkTyping types on one of 2,000 pages and reports, at the 95th percentile, how long it
// takes until the editor has diagnostics for the keystroke, a completion and an explanation: the
// aim is 50 ms for the first and 30 ms for the others. It also reports how much more memory the
// server takes with 101 of the pages open than the preview of the same folder.
func BenchmarkTyping(b *testing.B) {
	files := map[string]string{"times.csv": twoPages()["times.csv"], "labsite.yaml": "name: Many\n"}
	for i := range 1000 {
		files[fmt.Sprintf("mixing-%d.md", i)] = strings.Replace(mixing, "Mixing", fmt.Sprint("Mixing ", i), 1)
		files[fmt.Sprintf("developing-%d.md", i)] = strings.ReplaceAll(strings.Replace(developing, "Developing", fmt.Sprint("Developing ", i), 1), "mixing.md", fmt.Sprintf("mixing-%d.md", i))
	}
	dir := buildtest.Lab(b, files)
	alone, before := heapOfPreview(b, dir), heap()
	e := begin(b, dir)
	e.open("mixing-7.md")
	e.heard("mixing-7.md", nil)
	for i := range 100 {
		e.open(fmt.Sprintf("mixing-%d.md", i+100))
	}
	e.heard("mixing-199.md", nil)
	for range 300 { // the folder is worked out before anything is timed
		e.typed("mixing-7.md", "## How it goes", "x")
		e.heard("mixing-7.md", nil)
	}
	inPreviews := (heap() - before) / alone
	b.ResetTimer()
	took := map[string][]time.Duration{}
	timed := func(what string, do func()) {
		begun := time.Now()
		do()
		took[what] = append(took[what], time.Since(begun))
	}
	for b.Loop() {
		timed("stroke", func() {
			e.typed("mixing-7.md", "## How it goes", "x")
			e.heard("mixing-7.md", nil)
		})
		timed("stroke-in-front", func() {
			e.typed("mixing-7.md", "label: Conc", "x")
			e.heard("mixing-7.md", nil)
		})
		for what, ask := range map[string]string{"completion": "textDocument/completion", "hover": "textDocument/hover", "references": "textDocument/references"} {
			timed(what, func() {
				if _, err := e.rpc.Call(context.Background(), ask, e.at("mixing-7.md", "exact: ta‸nk")); err != nil {
					b.Fatal(err)
				}
			})
		}
	}
	b.ReportMetric(inPreviews, "times-the-heap-of-a-preview")
	for what, all := range took {
		slices.Sort(all)
		b.ReportMetric(float64(all[len(all)*95/100].Microseconds())/1000, what+"-ms-95")
	}
}

// heapOfPreview is how many bytes the preview of the same folder takes, with all pages made.
func heapOfPreview(b *testing.B, dir string) float64 {
	before := heap()
	site, list := build.Follow(context.Background(), dir, build.Options{Day: testDay, Drafts: true})
	if site == nil {
		b.Fatal(list)
	}
	defer site.Close()
	if err := site.Settle(context.Background()); err != nil {
		b.Fatal(err)
	}
	held := heap() - before
	runtime.KeepAlive(site)
	return held
}

// heap is how many bytes are in use once garbage is collected.
func heap() float64 {
	runtime.GC()
	runtime.GC() // collects what finalizers released
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc)
}
