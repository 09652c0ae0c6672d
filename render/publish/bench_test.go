package publish

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// bigSite is 2,000 files of 8 KB in 50 folders; turn changes every file.
func bigSite(turn int) Files {
	files := Files{}
	for i := range 2000 {
		page := make([]byte, 8<<10)
		copy(page, fmt.Sprintf("page %d, turn %d", i, turn))
		files[fmt.Sprintf("section-%02d/page-%04d.html", i%50, i)] = page
	}
	return files
}

// BenchmarkWrite sets a publish beside what it cannot beat: plain writes of the
// same files by the same number of workers, without list, flush or exchange.
//
// On ext4 making files slows down for seconds after many were deleted, which these
// loops do; TMPDIR=/dev/shm shows the program's own share.
func BenchmarkWrite(b *testing.B) {
	sites := []Files{bigSite(0), bigSite(1)}
	b.Run("plain", func(b *testing.B) {
		names, _ := sites[0].names()
		for b.Loop() {
			dir := b.TempDir()
			for _, n := range names {
				if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(n)), 0o777); err != nil {
					b.Fatal(err)
				}
			}
			err := each(context.Background(), len(names), func(i int) error {
				return os.WriteFile(filepath.Join(dir, names[i]), sites[0][names[i]], 0o666)
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
	write := func(b *testing.B, dir string, f Files) {
		if _, err := Write(context.Background(), dir, f, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			write(b, filepath.Join(b.TempDir(), "site"), sites[0])
		}
	})
	b.Run("all changed", func(b *testing.B) {
		dir := filepath.Join(b.TempDir(), "site")
		for i := 0; b.Loop(); i++ {
			write(b, dir, sites[i%2])
		}
	})
	b.Run("one changed", func(b *testing.B) {
		dir := filepath.Join(b.TempDir(), "site")
		site := bigSite(0)
		for i := 0; b.Loop(); i++ {
			site["section-00/page-0000.html"] = fmt.Append(nil, "turn ", i)
			write(b, dir, site)
		}
	})
	b.Run("none changed", func(b *testing.B) {
		dir := filepath.Join(b.TempDir(), "site")
		for b.Loop() {
			write(b, dir, sites[0])
		}
	})
}

// BenchmarkFlush sets the ways of making a staged folder durable side by side:
// a flush for each file, and the one call that publish makes.
func BenchmarkFlush(b *testing.B) {
	site := bigSite(0)
	names, _ := site.names()
	for _, way := range []string{"none", "each file", "as publish does"} {
		b.Run(way, func(b *testing.B) {
			for b.Loop() {
				p := place{parent: b.TempDir()}
				dir := filepath.Join(p.parent, "site")
				for _, n := range names {
					if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(n)), 0o777); err != nil {
						b.Fatal(err)
					}
				}
				err := each(context.Background(), len(names), func(i int) error {
					f, err := os.Create(filepath.Join(dir, names[i]))
					if err != nil {
						return err
					}
					defer f.Close()
					if _, err := f.Write(site[names[i]]); err != nil || way != "each file" {
						return err
					}
					return f.Sync()
				})
				if err == nil && way == "as publish does" {
					err = flush(dir, p)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
