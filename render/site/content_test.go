package site

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"labsite/recipes/sheet"
)

// testDay is the day of all sites that these tests read.
var testDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// readSite reads a content folder of the given files, and ends the test on an error.
func readSite(t testing.TB, files map[string]string) *Site {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return readFolder(t, dir)
}

func readFolder(t testing.TB, dir string) *Site {
	t.Helper()
	s, list := Load(t.Context(), dir, Options{Today: testDay})
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	return s
}

// rendered makes the site of an audience, and ends the test on an error.
func rendered(t testing.TB, s *Site, a sheet.Audience) map[string][]byte {
	t.Helper()
	files, list := s.Render(t.Context(), a)
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	return files
}

// demo is the demo shop's site.
func demo(t testing.TB) *Site { return readFolder(t, filepath.Join("..", "..", "content")) }
