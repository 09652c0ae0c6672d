package publish

import (
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"testing"
	"time"
)

// pages is a site of n files of 8 KB, 40 to a folder, each made on request so that none stays in
// memory. odd changes the first file.
type pages struct{ n, odd int }

func (p pages) name(i int) string { return fmt.Sprintf("section-%03d/page-%05d.html", i/40, i) }

func (p pages) fill(page []byte, i int) {
	clear(page[:64])
	copy(page, fmt.Sprintf("page %d", i))
	if i == 0 {
		copy(page[32:], fmt.Sprintf("turn %d", p.odd))
	}
}

// each calls do with all pages, on as many goroutines as publish itself uses.
func (p pages) each(b *testing.B, do func(name string, page []byte) error) {
	b.Helper()
	const share = 100
	err := each(context.Background(), (p.n+share-1)/share, func(k int) error {
		page := make([]byte, 8<<10)
		for i := k * share; i < min((k+1)*share, p.n); i++ {
			p.fill(page, i)
			if err := do(p.name(i), page); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
}

// plain is what a publish cannot beat: the same files, without list, flush or exchange.
func (p pages) plain(b *testing.B, dir string) {
	for i := 0; i < p.n; i += 40 {
		if err := os.MkdirAll(filepath.Join(dir, path.Dir(p.name(i))), 0o777); err != nil {
			b.Fatal(err)
		}
	}
	p.each(b, func(name string, page []byte) error {
		return os.WriteFile(filepath.Join(dir, name), page, 0o666)
	})
}

// publish hands all pages in, by Put or, where digests are given, by Keep first.
func (p pages) publish(b *testing.B, dir string, digests map[string]Digest) {
	s, err := Begin(context.Background(), dir, Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Abandon()
	p.each(b, func(name string, page []byte) error {
		if digest, known := digests[name]; known {
			if kept, err := s.Keep(name, digest); kept || err != nil {
				return err
			}
		}
		return s.Put(name, page)
	})
	if _, err := s.Finish(); err != nil {
		b.Fatal(err)
	}
}

func (p pages) digests(b *testing.B) map[string]Digest {
	all := map[string]Digest{}
	page := make([]byte, 8<<10)
	for i := range p.n {
		p.fill(page, i)
		all[p.name(i)] = sha256.Sum256(page)
	}
	return all
}

// BenchmarkPublishing prints, for each kind of publish, the clock and the processor time as
// multiples of those of plain writes of the same files in the same run, and the greatest rise in
// the memory of the process.
//
// On ext4 making files slows down for seconds after many were deleted, which these loops
// do; TMPDIR=/dev/shm shows the program's own share.
func BenchmarkPublishing(b *testing.B) {
	for _, n := range []int{2_000, 30_000} {
		var clock, processor time.Duration // of plain writes, a site
		measure := func(b *testing.B, do func()) {
			used, peak := usage()
			top := peak()
			var at, cost time.Duration
			for b.Loop() {
				begun, before := time.Now(), used()
				do()
				at += time.Since(begun)
				cost += used() - before
			}
			at, cost = at/time.Duration(b.N), cost/time.Duration(b.N)
			if clock == 0 {
				clock, processor = at, cost
			}
			b.ReportMetric(float64(at)/float64(clock), "×clock")
			b.ReportMetric(float64(cost)/float64(processor), "×processor")
			b.ReportMetric(cost.Seconds()*1e3, "ms-processor")
			b.ReportMetric(float64(peak()-top)/(1<<20), "MiB-rise")
		}
		site := pages{n: n}
		b.Run(fmt.Sprintf("%d/plain", n), func(b *testing.B) {
			i := 0
			dir := b.TempDir()
			measure(b, func() { i++; site.plain(b, filepath.Join(dir, fmt.Sprint(i))) })
		})
		b.Run(fmt.Sprintf("%d/new", n), func(b *testing.B) {
			i := 0
			dir := b.TempDir()
			measure(b, func() { i++; site.publish(b, filepath.Join(dir, fmt.Sprint(i)), nil) })
		})
		b.Run(fmt.Sprintf("%d/none changed, by digest", n), func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "site")
			site.publish(b, dir, nil)
			digests := site.digests(b)
			measure(b, func() { site.publish(b, dir, digests) })
		})
		b.Run(fmt.Sprintf("%d/none changed, by bytes", n), func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "site")
			site.publish(b, dir, nil)
			measure(b, func() { site.publish(b, dir, nil) })
		})
		b.Run(fmt.Sprintf("%d/one changed", n), func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "site")
			site.publish(b, dir, nil)
			digests := site.digests(b)
			delete(digests, site.name(0))
			measure(b, func() { site.odd++; site.publish(b, dir, digests) })
		})
		b.Run(fmt.Sprintf("%d/all changed", n), func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "site")
			odd := pages{n: n}
			odd.publish(b, dir, nil)
			turn := 0
			measure(b, func() {
				turn++
				s, err := Begin(context.Background(), dir, Options{})
				if err != nil {
					b.Fatal(err)
				}
				defer s.Abandon()
				odd.each(b, func(name string, page []byte) error {
					page[100] = byte(turn)
					return s.Put(name, page)
				})
				if _, err := s.Finish(); err != nil {
					b.Fatal(err)
				}
			})
		})
	}
}

// BenchmarkFlush compares ways of making a staged folder durable: a flush for each file, and the
// single call that publish makes.
func BenchmarkFlush(b *testing.B) {
	site := pages{n: 2000}
	for _, way := range []string{"none", "each file", "as publish does"} {
		b.Run(way, func(b *testing.B) {
			for b.Loop() {
				p := place{parent: b.TempDir()}
				dir := filepath.Join(p.parent, "site")
				site.plain(b, dir)
				if way == "each file" {
					site.each(b, func(name string, _ []byte) error {
						f, err := os.OpenFile(filepath.Join(dir, name), os.O_WRONLY, 0)
						if err != nil {
							return err
						}
						defer f.Close()
						return f.Sync()
					})
				}
				if way == "as publish does" {
					if err := flush(dir, p); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
