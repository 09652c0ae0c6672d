package publish

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func begin(t *testing.T, dir string, opt Options) *Staging {
	t.Helper()
	s, err := Begin(context.Background(), dir, opt)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Abandon)
	return s
}

// handIn puts each file, in the order of names.
func handIn(t *testing.T, s *Staging, f Files) {
	t.Helper()
	for _, name := range slices.Sorted(maps.Keys(f)) {
		if err := s.Put(name, f[name]); err != nil {
			t.Fatal(err)
		}
	}
}

// Random sites, handed in from eight goroutines in random order, some files by digest and some by
// bytes in a buffer that is reused at once.
func TestAnyOrderFromManyGoroutines(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	random := rand.New(rand.NewPCG(1, 2))
	was := Files{}
	for turn := range 40 {
		now := maps.Clone(was)
		for range random.IntN(30) { // perhaps none
			name := fmt.Sprintf("%c/%c/%d.html", 'a'+random.IntN(3), 'a'+random.IntN(3), random.IntN(9))
			if random.IntN(3) == 0 {
				delete(now, name)
			} else {
				now[name] = fmt.Appendf(nil, "turn %d", turn/2)
			}
		}
		s := begin(t, dir, Options{byRenames: random.IntN(3) == 0, copies: random.IntN(3) == 0, ReadAll: random.IntN(3) == 0})
		names := slices.Sorted(maps.Keys(now))
		random.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
		var next atomic.Int32
		var wg sync.WaitGroup
		for range 8 {
			wg.Go(func() {
				page := make([]byte, 64)
				for i := int(next.Add(1)) - 1; i < len(names); i = int(next.Add(1)) - 1 {
					page := page[:copy(page, now[names[i]])]
					kept := false
					var err error
					if i%2 == 0 {
						kept, err = s.Keep(names[i], sha256.Sum256(page))
						if want := string(was[names[i]]) == string(page); kept != want {
							t.Errorf("turn %d: %s kept is %v, want %v", turn, names[i], kept, want)
						}
					}
					if !kept && err == nil {
						err = s.Put(names[i], page)
					}
					if err != nil {
						t.Error(err)
					}
					clear(page)
				}
			})
		}
		wg.Wait()
		r, err := s.Finish()
		if err != nil {
			t.Fatal(err)
		}
		want := Result{}
		for name, raw := range now {
			if string(was[name]) == string(raw) {
				want.Kept++
			} else {
				want.Written++
				want.Bytes += int64(len(raw))
			}
		}
		want.Removed = len(was) - want.Kept
		for name := range now {
			if _, both := was[name]; both && string(was[name]) != string(now[name]) {
				want.Removed--
			}
		}
		if r.Written != want.Written || r.Kept != want.Kept || r.Removed != want.Removed || r.Bytes != want.Bytes || len(r.Left) > 0 || len(r.Returned) > 0 {
			t.Errorf("turn %d: %+v, want %+v", turn, r, want)
		}
		holds(t, dir, now)
		noLitter(t, dir)
		was = now
	}
}

// If nothing changes, nothing is made, not even for a moment, and every date stays.
func TestNothingChangedTouchesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	dates := func() map[string]time.Time {
		all := map[string]time.Time{}
		for _, name := range append(slices.Collect(maps.Keys(site(1))), ".", listName) {
			info, err := os.Stat(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			all[name] = info.ModTime()
		}
		return all
	}
	before := dates()
	var steps []string
	s := begin(t, dir, Options{step: func(name string) error { steps = append(steps, name); return nil }})
	for name, raw := range site(1) {
		if kept, err := s.Keep(name, sha256.Sum256(raw)); !kept || err != nil {
			t.Errorf("%s was not kept: %v", name, err)
		}
	}
	r, err := s.Finish()
	if err != nil || r.Kept != 4 || r.Written != 0 {
		t.Errorf("%+v, %v", r, err)
	}
	if want := []string{"locked", "leftovers cleared", "old site read", "compared"}; !slices.Equal(steps, want) {
		t.Errorf("its steps were %v, want %v", steps, want)
	}
	if after := dates(); !maps.Equal(before, after) {
		t.Errorf("dates were %v and are %v", before, after)
	}
}

func TestWhatTheOldSiteHas(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	css := sha256.Sum256(site(1)["style.css"])
	if err := os.Remove(filepath.Join(dir, "index.html")); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "guides", "index.html"), "") // as after a power cut
	s := begin(t, dir, Options{})
	if digest, ok := s.Old("style.css"); !ok || digest != css {
		t.Errorf("of style.css it says %x, %v", digest, ok)
	}
	for _, name := range []string{"index.html", "none.html", "guides", listName, ""} {
		if _, ok := s.Old(name); ok {
			t.Errorf("the old site has %q", name)
		}
	}
	for name, digest := range map[string]Digest{"index.html": sha256.Sum256(site(1)["index.html"]), "none.html": css, "style.css": {},
		"guides/index.html": sha256.Sum256(site(1)["guides/index.html"])} {
		if kept, err := s.Keep(name, digest); kept || err != nil {
			t.Errorf("%s was kept: %v, %v", name, kept, err)
		}
	}
	handIn(t, s, site(1)) // what could not be kept can still be put
	if r, err := s.Finish(); err != nil || r.Written != 2 || r.Kept != 2 {
		t.Errorf("%+v, %v", r, err)
	}
	holds(t, dir, site(1))
}

func TestOneNameTwice(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	s := begin(t, dir, Options{})
	var good atomic.Int32
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			err := s.Put("index.html", fmt.Append(nil, "turn 2, ", i))
			if err == nil {
				good.Add(1)
			} else if !errors.Is(err, errTwice) {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if good.Load() > 1 { // none if one was refused before another was written
		t.Errorf("%d of eight were taken", good.Load())
	}
	if _, err := s.Finish(); !errors.Is(err, errTwice) || !strings.Contains(err.Error(), `"index.html"`) {
		t.Errorf("the end says %v", err)
	}
	holds(t, dir, site(1))
	noLitter(t, dir)

	s = begin(t, dir, Options{})
	if kept, err := s.Keep("style.css", sha256.Sum256(site(1)["style.css"])); !kept || err != nil {
		t.Fatal(kept, err)
	}
	if err := s.Put("style.css", site(1)["style.css"]); !errors.Is(err, errTwice) {
		t.Errorf("kept and handed in: %v", err)
	}
}

func TestAfterTheEnd(t *testing.T) {
	for _, how := range []string{"finish", "abandon"} {
		dir := filepath.Join(t.TempDir(), "site")
		s := begin(t, dir, Options{})
		handIn(t, s, site(1))
		if how == "finish" {
			if _, err := s.Finish(); err != nil {
				t.Fatal(err)
			}
		}
		s.Abandon()
		s.Abandon()
		if err := s.Put("late.html", nil); !errors.Is(err, errEnded) {
			t.Errorf("%s, then a file: %v", how, err)
		}
		if _, err := s.Keep("index.html", sha256.Sum256(site(1)["index.html"])); !errors.Is(err, errEnded) {
			t.Errorf("%s, then a file by digest: %v", how, err)
		}
		if _, err := s.Finish(); !errors.Is(err, errEnded) {
			t.Errorf("%s, then the end again: %v", how, err)
		}
		if how == "finish" {
			holds(t, dir, site(1))
		} else if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("an abandoned publish left a folder: %v", err)
		}
		noLitter(t, dir)
		publish(t, dir, site(2)) // the lock is free
	}
}

func TestAnAbandonedPublishLeavesAllAsItWas(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	put(t, filepath.Join(dir, ignoreName), "*\n")
	s := begin(t, dir, Options{})
	handIn(t, s, site(2, "new/deep/page.html"))
	if names := beside(t, dir); len(names) != 2 {
		t.Errorf("beside the folder: %v, want the lock and the staged folder", names)
	}
	s.Abandon()
	holds(t, dir, site(1))
	noLitter(t, dir)
}

// A caller that ignores an error publishes nothing.
func TestAFileThatFailedFailsTheWhole(t *testing.T) {
	trouble := errors.New("the disk is full")
	for _, c := range []struct {
		name string
		do   func(s *Staging) error
		want error
	}{
		{"a step", func(s *Staging) error { return s.Put("bad.html", nil) }, trouble},
		{"a name", func(s *Staging) error { return s.Put("../out.html", nil) }, nil},
		{"a folder of that name", func(s *Staging) error { return s.Put("guides", nil) }, nil},
		{"a file where a folder is needed", func(s *Staging) error { return s.Put("index.html/x", nil) }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			armed := false
			s := begin(t, dir, Options{step: func(name string) error {
				if armed && name == "file" {
					return trouble
				}
				return nil
			}})
			handIn(t, s, site(2))
			armed = true
			first := c.do(s)
			armed = false
			if first == nil || c.want != nil && !errors.Is(first, c.want) {
				t.Errorf("it says %v", first)
			}
			if err := s.Put("good.html", nil); err == nil {
				t.Error("another file was taken after that")
			}
			if _, err := s.Finish(); err == nil || err.Error() != first.Error() {
				t.Errorf("the end says %v, want %v", err, first)
			}
			holds(t, dir, site(1))
			noLitter(t, dir)
		})
	}
}

// A disk that takes two names for one refuses the second.
func TestTwoNamesThatTheDiskConfuses(t *testing.T) {
	for _, how := range []string{"new", "kept", "copied"} {
		t.Run(how, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			taken := map[string]string{"new": "index.html", "kept": "style.css", "copied": "style.css"}[how]
			s := begin(t, dir, Options{copies: how == "copied", step: func(name string) error {
				if name == "folder made" {
					staged, err := filepath.Glob(filepath.Join(filepath.Dir(dir), ".site.next-*"))
					if err != nil || len(staged) != 1 {
						return fmt.Errorf("staged: %v, %v", staged, err)
					}
					put(t, filepath.Join(staged[0], taken), "as if by another name")
				}
				return nil
			}})
			var err error
			for _, name := range slices.Sorted(maps.Keys(site(2))) {
				if err = s.Put(name, site(2)[name]); err != nil {
					break
				}
			}
			if err == nil {
				_, err = s.Finish()
			}
			refused(t, err, taken, "the same to this disk")
			s.Abandon()
			holds(t, dir, site(1))
			noLitter(t, dir)
		})
	}
}

func TestTheContextStopsIt(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	ctx, cancel := context.WithCancel(context.Background())
	s, err := Begin(ctx, dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Abandon()
	handIn(t, s, site(2))
	cancel()
	for name, do := range map[string]func() error{
		"a file":           func() error { return s.Put("late.html", nil) },
		"a file by digest": func() error { _, err := s.Keep("style.css", sha256.Sum256(site(1)["style.css"])); return err },
		"the end":          func() error { _, err := s.Finish(); return err },
	} {
		err := do()
		if name == "the end" && errors.Is(err, errEnded) {
			continue
		}
		if !errors.Is(err, context.Canceled) && !errors.Is(err, errEnded) {
			t.Errorf("%s: %v", name, err)
		}
		if errors.Is(err, context.Canceled) && strings.Count(err.Error(), "is as it was") != 1 {
			t.Errorf("%s: it does not say once how the folder is: %v", name, err)
		}
	}
	holds(t, dir, site(1))
	noLitter(t, dir)
}
