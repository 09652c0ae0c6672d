package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A site is of one state of its folder: if a file changes while the folder is read, a publish
// starts over, and if that goes on, it says so and publishes nothing.
func TestFolderThatChangesMeanwhile(t *testing.T) {
	page := func(title string, n int) string {
		return fmt.Sprintf("---\ntitle: %s\naudience: customers\n---\n\nState %d.\n", title, n)
	}
	makeLab := func(t *testing.T) (dir string, change func(n int)) {
		dir = writeLab(t, map[string]string{"a.md": page("A", 0), "b.md": page("B", 0)})
		return dir, func(n int) {
			for _, name := range []string{"a", "b"} {
				next := filepath.Join(dir, "."+name)
				if err := os.WriteFile(next, []byte(page(strings.ToUpper(name), n)), 0o666); err != nil {
					t.Error(err)
				}
				if err := os.Rename(next, filepath.Join(dir, name+".md")); err != nil {
					t.Error(err)
				}
			}
		}
	}
	publish := func(t *testing.T, dir string, progress func(done, total int)) (site, said string, err error) {
		site = filepath.Join(t.TempDir(), "site")
		var out, errs bytes.Buffer
		s := &screen{out: &out, err: &errs, progress: progress}
		err = untilStill(func(last bool) error { return s.publish(t.Context(), dir, site, "customers", "", true, last) })
		return site, errs.String(), err
	}
	t.Run("once", func(t *testing.T) {
		dir, change := makeLab(t)
		first := true
		site, said, err := publish(t, dir, func(int, int) {
			if first {
				change(1)
			}
			first = false
		})
		if err != nil {
			t.Fatal(err, said)
		}
		for _, name := range []string{"a.html", "b.html"} {
			if b, err := os.ReadFile(filepath.Join(site, name)); !bytes.Contains(b, []byte("State 1.")) {
				t.Errorf("%s is not of the later state (%v)", name, err)
			}
		}
	})
	t.Run("all the time", func(t *testing.T) {
		dir, change := makeLab(t)
		n := 0
		site, said, err := publish(t, dir, func(int, int) { n++; change(n) })
		if err == nil || !strings.Contains(said, "a.md:1:1: error: this file, and 1 more, changed while the folder was being read") {
			t.Errorf("%v: %s", err, said)
		}
		if n != 2*mostTries {
			t.Errorf("%d pages were worked out", n)
		}
		if _, err := os.Stat(site); err == nil {
			t.Error("a site was published")
		}
	})
	t.Run("a page comes", func(t *testing.T) {
		dir, _ := makeLab(t)
		site, said, err := publish(t, dir, func(int, int) {
			if f, err := os.OpenFile(filepath.Join(dir, "c.md"), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666); err == nil {
				f.WriteString(page("C", 0))
				f.Close()
			}
		})
		if _, there := os.Stat(filepath.Join(site, "c.html")); err != nil || there != nil {
			t.Error("the page that came is missing", err, there, said)
		}
	})
}
