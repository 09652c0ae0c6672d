package site

import (
	"os"
	"path/filepath"
	"testing"
)

// TestFixturePages fills every template and writes the pages to a folder: a
// temporary one, or the one that LABSITE_PAGES_TO names, to be looked at.
func TestFixturePages(t *testing.T) {
	folder := os.Getenv("LABSITE_PAGES_TO")
	if folder == "" {
		folder = t.TempDir()
	}
	for name, raw := range fixturePages(t, loaded(t)) {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, raw, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
