package publish

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// atStep publishes and does something else when it comes to a step.
func atStep(dir string, f Files, step string, do func()) (Result, error) {
	return Write(context.Background(), dir, f, Options{step: func(name string) error {
		if name == step {
			do()
		}
		return nil
	}})
}

// What somebody does in the folder while files are handed in stops the publish.
func TestWorkDoneInTheFolderMeanwhileStopsIt(t *testing.T) {
	for _, c := range []struct {
		name, file, say string
		do              func(t *testing.T, at string)
	}{
		{"a file put there", "guides/mine.txt", "did not write", func(t *testing.T, at string) { put(t, at, "mine") }},
		{"a file put in a folder of its own", "mine/mine.txt", "did not write", func(t *testing.T, at string) { put(t, at, "mine") }},
		{"a link put there", "mine", "did not write", func(t *testing.T, at string) {
			if err := os.Symlink(filepath.Dir(at), at); err != nil {
				t.Error(err)
			}
		}},
		{"a changed page changed by hand", "index.html", "changed by hand", func(t *testing.T, at string) { put(t, at, "mine, of another length") }},
		{"a page that stays changed by hand", "style.css", "changed by hand", func(t *testing.T, at string) { put(t, at, "mine") }},
		{"a page that goes changed by hand", "gone.html", "changed by hand", func(t *testing.T, at string) { put(t, at, "mine") }},
		{"a page that stays replaced by hand", "style.css", "changed by hand", func(t *testing.T, at string) {
			put(t, at+".new", "mine")
			if err := os.Rename(at+".new", at); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		for _, step := range []string{"compared", "flushed"} {
			t.Run(c.name+", "+step, func(t *testing.T) {
				if c.name == "a link put there" {
					needLinks(t)
				}
				dir := filepath.Join(t.TempDir(), "site")
				publish(t, dir, site(1, "gone.html"))
				at := filepath.Join(dir, filepath.FromSlash(c.file))
				_, err := atStep(dir, site(2), step, func() { c.do(t, at) })
				refused(t, err, c.file, c.say)
				if _, err := os.Lstat(at); err != nil {
					t.Error(err)
				}
				if raw, err := os.ReadFile(filepath.Join(dir, "guides", "index.html")); string(raw) != "guides, turn 1" {
					t.Errorf("the old site holds %q, %v", raw, err)
				}
				noLitter(t, dir)
			})
		}
	}
	t.Run("a folder made where there was none", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		_, err := atStep(dir, site(2), "flushed", func() { put(t, filepath.Join(dir, "mine.txt"), "mine") })
		refused(t, err, "mine.txt")
		holds(t, dir, Files{"mine.txt": []byte("mine")})
		noLitter(t, dir)
	})
	t.Run("a page deleted", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		publish(t, dir, site(1, "gone.html"))
		_, err := atStep(dir, site(2), "compared", func() {
			if err := errors.Join(os.Remove(filepath.Join(dir, "gone.html")), os.Remove(filepath.Join(dir, "index.html"))); err != nil {
				t.Error(err)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		holds(t, dir, site(2))
		noLitter(t, dir)
	})
}

// Between the last look and the exchange nothing can be refused any more. A file put there then is
// moved to its place in the new folder.
func TestAFileAddedAtTheLastMomentIsReturned(t *testing.T) {
	for _, step := range []string{"checked", "exchanged"} {
		t.Run(step, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1, "old/gone.html"))
			files := []string{"guides/mine.txt", "mine/deep/mine.txt", "old/mine.txt"}
			r, err := atStep(dir, site(2), step, func() {
				old := dir
				if step == "exchanged" { // like a program that had the folder open before
					// After an exchange the old folder has the new one's hidden name; after two
					// renames, one of its own.
					found, err := filepath.Glob(filepath.Join(filepath.Dir(dir), ".site.[nl]*-*"))
					if err != nil || len(found) != 1 {
						t.Error(found, err)
						return
					}
					old = found[0]
				}
				for _, name := range files {
					put(t, filepath.Join(old, name), "mine")
				}
			})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(r.Returned, files) || len(r.Left) > 0 {
				t.Errorf("returned are %v, left is %v", r.Returned, r.Left)
			}
			want := site(2)
			for _, name := range files {
				want[name] = []byte("mine")
			}
			holds(t, dir, want)
			noLitter(t, dir)
			_, err = Write(context.Background(), dir, site(3), Options{})
			refused(t, err, files...)
		})
	}
}

// A file that cannot move because the new site has one there stays beside the folder and is named,
// by the next publish too.
func TestALastMomentFileWithoutAPlaceIsNamed(t *testing.T) {
	for _, name := range []string{"index.html", "new.html", "style.css"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			r, err := atStep(dir, site(2, "new.html"), "checked", func() {
				at := filepath.Join(dir, name)
				put(t, at+"~", "mine, longer than it was")
				if err := os.Rename(at+"~", at); err != nil {
					t.Error(err)
				}
			})
			if err != nil {
				t.Fatal(err)
			}
			holds(t, dir, site(2, "new.html"))
			if len(r.Left) != 1 || len(r.Returned) > 0 {
				t.Fatalf("left is %v, returned are %v", r.Left, r.Returned)
			}
			again := publish(t, dir, site(3))
			if !slices.Equal(again.Left, r.Left) {
				t.Errorf("the next publish names %v, want %v", again.Left, r.Left)
			}
			holds(t, r.Left[0], Files{name: []byte("mine, longer than it was")})
		})
	}
}

// A page that stays is one file in both folders, so a change to it is in the new one too.
func TestAKeptPageChangedAtTheLastMoment(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	r, err := atStep(dir, site(2), "checked", func() { put(t, filepath.Join(dir, "style.css"), "mine") })
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Left) > 0 || len(r.Returned) > 0 {
		t.Errorf("left is %v, returned are %v", r.Left, r.Returned)
	}
	noLitter(t, dir)
	_, err = Write(context.Background(), dir, site(3), Options{})
	refused(t, err, "style.css", "changed by hand")
}

// A former site that a kill left may hold changes that somebody made during the publish.
func TestALeftoverChangedByHandStays(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	old := filepath.Join(filepath.Dir(dir), ".site.next-00000001")
	if err := os.Rename(dir, old); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(old, "index.html"), "my better front")
	r := publish(t, dir, site(2))
	if len(r.Left) != 1 || filepath.Base(r.Left[0]) != filepath.Base(old) {
		t.Errorf("named as left: %v", r.Left)
	}
	if raw, _ := os.ReadFile(filepath.Join(old, "index.html")); string(raw) != "my better front" {
		t.Errorf("it now holds %q", raw)
	}
}
