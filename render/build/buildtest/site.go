// Package buildtest publishes labs in memory, for tests that look at sites as an audience finds
// them.
package buildtest

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
)

// Day is the day of all sites in these tests; the demo shop has approved its pages by then.
var Day = time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)

// files collects the files of a site by address.
type files struct {
	mu  sync.Mutex
	all map[string][]byte
}

func (f *files) Put(address string, b []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.all[address] = bytes.Clone(b)
	return nil
}

func (f *files) Keep(string, build.Digest) (bool, error) { return false, nil }

// Published returns an audience's site of a folder, and ends the test on an error.
func Published(t testing.TB, dir string, a page.Audience) map[string][]byte {
	t.Helper()
	s, list := build.Open(t.Context(), dir, build.Options{Day: Day})
	if s == nil {
		t.Fatal(Told(list))
	}
	defer s.Close()
	to := &files{all: map[string][]byte{}}
	if list, err := s.Publish(t.Context(), a, to); err != nil || list.Errors() > 0 {
		t.Fatal(err, Told(list))
	}
	return to.all
}

// Lab writes a lab's folder.
func Lab(t testing.TB, texts map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range texts {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// Sited publishes the pages of a lab.
func Sited(t testing.TB, texts map[string]string, a page.Audience) map[string][]byte {
	t.Helper()
	return Published(t, Lab(t, texts), a)
}

var (
	demoMu sync.Mutex
	demos  = map[page.Audience]map[string][]byte{}
)

// Demo is the demo shop's site, published once for all tests, which must not change it.
func Demo(t testing.TB, a page.Audience) map[string][]byte {
	t.Helper()
	demoMu.Lock()
	defer demoMu.Unlock()
	if demos[a] == nil {
		demos[a] = Published(t, filepath.Join("..", "..", "content"), a)
	}
	return demos[a]
}

// Told is a list in the form that a terminal shows.
func Told(list source.List) string {
	var b strings.Builder
	for _, d := range list {
		b.WriteString(d.String())
	}
	return b.String()
}
