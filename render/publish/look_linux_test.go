package publish

import (
	"crypto/sha256"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// looks reports whether its times show a file of a published folder untouched.
func looks(t *testing.T, dir, name string) (untouched bool) {
	t.Helper()
	var l looker
	if err := l.open(dir); err != nil {
		t.Fatal(err)
	}
	defer l.close()
	_, untouched, err := l.look(name)
	if err != nil {
		t.Fatal(err)
	}
	return untouched
}

// quiet makes a published folder one whose times show its files untouched: they are old, and the
// clock has moved on since they were made.
func quiet(t *testing.T, dir string) {
	t.Helper()
	old := time.Now().Add(-time.Hour)
	for name := range site(1) {
		if err := os.Chtimes(filepath.Join(dir, name), old, old); err != nil {
			t.Fatal(err)
		}
	}
	for name := range site(1) {
		tick(t, dir, name)
	}
	freshen(filepath.Join(dir, listName))
}

// tick returns when the disk's clock has moved on since a file was touched.
func tick(t *testing.T, dir, name string) {
	t.Helper()
	clock := t.TempDir()
	put(t, filepath.Join(clock, listName), "")
	for moved := false; !moved; {
		freshen(filepath.Join(clock, listName))
		var now, l looker
		if err := now.open(clock); err != nil {
			t.Fatal(err)
		}
		now.close()
		if err := l.open(dir); err != nil {
			t.Fatal(err)
		}
		st, err := l.stat(name)
		l.close()
		if err != nil {
			t.Fatal(err)
		}
		moved = st.Ctim.Nano() < now.touched
	}
}

// keepAll hands in all files of turn 1 by their digests.
func keepAll(t *testing.T, s *Staging) {
	t.Helper()
	for name, raw := range site(1) {
		if kept, err := s.Keep(name, sha256.Sum256(raw)); !kept || err != nil {
			t.Errorf("%s was not kept: %v", name, err)
		}
	}
}

func TestAnUntouchedFileIsNotRead(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	quiet(t, dir)
	style := filepath.Join(dir, "style.css")
	for _, c := range []struct {
		name   string
		opt    Options
		change func() error
		read   bool
	}{
		{"untouched", Options{}, nil, false},
		{"all are to be read", Options{ReadAll: true}, nil, true},
		{"another mode", Options{}, func() error { return os.Chmod(style, 0o600) }, true},
		{"that again, after the list was touched", Options{}, nil, false},
		{"another date", Options{}, func() error { return os.Chtimes(style, time.Now(), time.Now()) }, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.change != nil {
				if err := c.change(); err != nil {
					t.Fatal(err)
				}
				tick(t, dir, "style.css")
			}
			s := begin(t, dir, c.opt)
			keepAll(t, s)
			if s.reread != c.read {
				t.Errorf("a file was read: %v, want %v", s.reread, c.read)
			}
			if _, err := s.Finish(); err != nil {
				t.Error(err)
			}
		})
	}
}

// The publish itself touches a page that stays, by linking it, and yet the next one finds it
// untouched.
func TestAKeptPageIsNotReadNextTime(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	quiet(t, dir)
	if _, err := atStep(dir, site(2), "old folder removed", func() { tick(t, dir, "style.css") }); err != nil {
		t.Fatal(err)
	}
	if !looks(t, dir, "style.css") {
		t.Error("it would be read")
	}
}

// A change by hand that keeps the length and the date is noticed.
func TestAChangeUnderAnOldDateIsSeen(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	quiet(t, dir)
	at := filepath.Join(dir, "style.css")
	info, err := os.Stat(at)
	if err != nil {
		t.Fatal(err)
	}
	put(t, at, "body { color: white }")
	if err := os.Chtimes(at, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	s := begin(t, dir, Options{})
	if kept, err := s.Keep("style.css", sha256.Sum256(site(1)["style.css"])); kept || err != nil {
		t.Errorf("it was kept: %v, %v", kept, err)
	}
	handIn(t, s, site(1))
	_, err = s.Finish()
	refused(t, err, "style.css", "changed by hand")
	noLitter(t, dir)
}

// So is one made while the old folder is removed, though the list is touched after that.
func TestAChangeDuringTheRemovalOfTheOldFolderIsSeen(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	_, err := atStep(dir, site(2), "old folder removed", func() {
		tick(t, dir, listName)
		put(t, filepath.Join(dir, "style.css"), "body { color: white }")
		tick(t, dir, "style.css")
	})
	if err != nil {
		t.Fatal(err)
	}
	s := begin(t, dir, Options{})
	if kept, err := s.Keep("style.css", sha256.Sum256(site(1)["style.css"])); kept || err != nil {
		t.Errorf("it was kept: %v, %v", kept, err)
	}
}
