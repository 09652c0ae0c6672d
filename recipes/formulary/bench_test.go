package formulary

import (
	"io/fs"
	"testing"

	"labsite/recipes/source"
)

// BenchmarkLoad reads, infers and checks all built-in entries, as the tests do; commands read those
// that pages call.
func BenchmarkLoad(b *testing.B) {
	paths, _ := fs.Glob(entryFiles, "entries/*.yaml")
	var files []*source.File
	for _, path := range paths {
		raw, _ := entryFiles.ReadFile(path)
		f, _ := source.New(path, raw)
		files = append(files, f)
	}
	for b.Loop() {
		if set, list := new(Set).with(files, false); len(list) > 0 || len(set.entries) == 0 {
			b.Fatal(list)
		}
	}
}

// BenchmarkOutside runs all outside checks.
func BenchmarkOutside(b *testing.B) {
	paths, _ := fs.Glob(outsideFiles, "outside/*.yaml")
	for b.Loop() {
		for _, path := range paths {
			raw, _ := outsideFiles.ReadFile(path)
			f, _ := source.New(path, raw)
			if checks, _ := Load().outside(f); len(checks) == 0 {
				b.Fatal(path)
			}
		}
	}
}
