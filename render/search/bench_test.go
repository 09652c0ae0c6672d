package search

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
)

// BenchmarkIndex makes the search of ever more pages. times-words is how long that takes compared
// with a bare pass over their words, bytes/page the size of the files, held/page the index's memory
// just before it is closed, and the bytes of a question what a word of most pages, two of them, or
// the beginning of one loads, with the first file.
func BenchmarkIndex(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		pages := generated(n)
		b.Run(fmt.Sprint(n, "-pages"), func(b *testing.B) {
			b.ReportAllocs()
			var bare, all time.Duration
			var bytes, held uint64
			for b.Loop() {
				begun := time.Now()
				words := 0
				for _, p := range pages {
					for _, t := range p.Passages {
						eachWord(t.Text, func(string) { words++ })
					}
				}
				bare += time.Since(begun)
				var before, after runtime.MemStats
				b.StopTimer()
				runtime.GC()
				runtime.ReadMemStats(&before)
				b.StartTimer()
				begun = time.Now()
				bytes = 0
				x := NewIndex("en", nil, func(_ string, part []byte) { bytes += uint64(len(part)) })
				for _, p := range pages {
					x.Add(p)
				}
				all += time.Since(begun)
				b.StopTimer()
				runtime.GC()
				runtime.ReadMemStats(&after)
				held = after.HeapAlloc - min(before.HeapAlloc, after.HeapAlloc)
				b.StartTimer()
				begun = time.Now()
				x.Close()
				all += time.Since(begun)
			}
			b.ReportMetric(float64(all)/float64(bare), "times-words")
			b.ReportMetric(float64(b.N*n)/all.Seconds(), "pages/s")
			b.ReportMetric(float64(bytes)/float64(n), "bytes/page")
			b.ReportMetric(float64(held)/float64(n), "held/page")
		})
	}
}

// BenchmarkLoaded reports how much questions load on a site of ten thousand pages.
func BenchmarkLoaded(b *testing.B) {
	made := files(generated(10000), "en")
	for b.Loop() {
		for _, typed := range []string{"marnet ", "marnet singde ", "marnet st", "m", "xarnet "} {
			find, loaded := loader(b, made)
			count := find(typed).Count
			sum, n := len(made[File]), 1
			for _, name := range loaded() {
				sum += len(made[name])
				n++
			}
			b.ReportMetric(float64(sum), "bytes:"+strings.ReplaceAll(typed, " ", "_"))
			b.Logf("%-16q finds %5d pages with %6d bytes in %d files", typed, count, sum, n)
		}
	}
}

// BenchmarkFind answers a word being typed on 1,000 pages, in an interpreter: a browser is some ten
// to a hundred times as fast.
func BenchmarkFind(b *testing.B) {
	find := reader(b, files(generated(1000), "en"))
	for b.Loop() {
		find("marnet st")
	}
}
