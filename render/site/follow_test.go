package site

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// A hundred changes of every sort to a lab's folder, after each of which the site that
// follows it says and writes the same, byte for byte, as one that is read anew.
func TestFollowedSiteIsAFreshOne(t *testing.T) {
	first := uint64(0)
	if text := os.Getenv("FOLLOW_FROM"); text != "" {
		fmt.Sscan(text, &first)
	}
	for seed := range uint64(1) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			follow(t, seed+first, 50)
		})
	}
}

var aDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

func follow(t *testing.T, seed uint64, changes int) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	c := &changer{t: t, dir: dir, random: rand.New(rand.NewPCG(seed, 1))}
	for p, versions := range labFiles {
		c.write(p, versions[0])
	}
	ctx := context.Background()
	s, list := Open(ctx, dir, Options{Today: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	s.open.keep = 1 + c.random.IntN(keptAwake) // as on a site that is too large to be held in full
	compareSites(t, s, dir, "at the start")
	for i := range changes {
		if c.random.IntN(8) == 0 { // another day, before or after
			s.Turn(aDay.AddDate(0, 0, c.random.IntN(900)-300))
			c.told = append(c.told, "turned to "+s.Today.Format(time.DateOnly))
		}
		var paths []string
		for range 1 + c.random.IntN(3) {
			paths = append(paths, c.change()...)
		}
		if c.random.IntN(4) == 0 {
			paths = nil // as where watches run out
		}
		s.Update(paths)
		if c.random.IntN(2) == 0 {
			s.Work(c.random.IntN(20))
		}
		if c.random.IntN(4) == 0 { // else the next change comes before all is worked out
			compareSites(t, s, dir, fmt.Sprintf("after change %d: %s", i, strings.Join(c.told, "; ")))
			if c.random.IntN(3) == 0 {
				c.mend(s.Today)
				s.Update(nil)
				compareSites(t, s, dir, fmt.Sprintf("after change %d, mended: %s", i, strings.Join(c.told, "; ")))
			}
			c.told = nil
		}
	}
	c.mend(s.Today)
	s.Update(nil)
	compareSites(t, s, dir, "mended at the end: "+strings.Join(c.told, "; "))
	if s.Diagnostics().Errors() > 0 {
		t.Errorf("whole sites are not compared:\n%s", told(s.Diagnostics()))
	}
}

// mend puts the folder back to what it was at first and then changes a few files so that
// nothing is wrong, which lets whole sites be compared. It gives no paths: it is as much as
// the checkout of another branch.
func (c *changer) mend(today time.Time) {
	first := map[string]string{}
	demo := os.DirFS("../../content")
	fs.WalkDir(demo, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			raw, _ := fs.ReadFile(demo, p)
			first[p] = string(raw)
		}
		return nil
	})
	for p, versions := range labFiles {
		first[p] = versions[0]
	}
	restore := func() {
		filepath.WalkDir(c.dir, func(p string, d os.DirEntry, err error) error {
			if rel, _ := filepath.Rel(c.dir, p); err == nil && !d.IsDir() && first[filepath.ToSlash(rel)] == "" {
				os.Remove(p)
			}
			return nil
		})
		for p, text := range first {
			if raw, err := os.ReadFile(filepath.Join(c.dir, p)); text != "" && (err != nil || string(raw) != text) {
				c.write(p, text)
			}
		}
	}
	restore()
	for range 6 {
		if c.random.IntN(2) == 0 {
			f := c.pick(slices.Sorted(maps.Keys(labFiles)))
			if versions := labFiles[f]; len(versions) > 1 {
				if text := versions[c.random.IntN(len(versions))]; text != "" {
					c.write(f, text)
				}
			}
			continue
		}
		pages, _, _ := c.files()
		p := c.pick(pages)
		c.write(p, strings.Replace(c.read(p), "\ntitle: ", "\ntitle: Z", 1)+"\nOne line more.\n")
	}
	for range 3 {
		fresh, list := Load(context.Background(), c.dir, Options{Today: today})
		if list.Errors() == 0 && fresh.templates != nil {
			return
		}
		for _, d := range list {
			if d.Severity == source.Error && first[d.File] != "" {
				c.write(d.File, first[d.File])
			} else if d.Severity == source.Error {
				os.Remove(filepath.Join(c.dir, d.File))
			}
		}
	}
	restore()
}

func compareSites(t *testing.T, s *Site, dir, when string) {
	t.Helper()
	ctx := context.Background()
	if err := s.Settle(ctx); err != nil {
		t.Fatal(err)
	}
	fresh, want := Load(ctx, dir, Options{Today: s.Today})
	got := s.Diagnostics()
	if a, b := told(want), told(got); a != b {
		t.Fatalf("%s: the lists differ (- read anew, + followed):\n%s", when, cmp.Diff(strings.Split(a, "\n"), strings.Split(b, "\n")))
	}
	if fresh.templates == nil {
		return
	}
	for _, a := range []sheet.Audience{sheet.Customers, sheet.Staff} {
		if fresh.Errors() > 0 {
			compareSound(t, s, fresh, a, when)
			continue
		}
		files, _ := fresh.Render(ctx, a)
		var names []string
		for name := range files {
			names = append(names, name)
		}
		slices.Sort(names)
		if d := cmp.Diff(names, s.Addresses(a)); d != "" {
			t.Fatalf("%s: the %s addresses differ:\n%s", when, a, d)
		}
		for _, name := range names {
			got, ok := s.Answer(a, name, false)
			if !ok || !bytes.Equal(got.Bytes, files[name]) {
				t.Fatalf("%s: %s of the %s site differs (- read anew, + followed):\n%s", when, name, a,
					cmp.Diff(strings.Split(string(files[name]), "\n"), strings.Split(string(got.Bytes), "\n")))
			}
		}
	}
}

// compareSound compares the pages without errors of a site that has some elsewhere.
func compareSound(t *testing.T, s, fresh *Site, a sheet.Audience, when string) {
	t.Helper()
	r := &renderer{site: fresh, audience: a, navs: map[string]*nav{}}
	for _, x := range fresh.Topics {
		if x.list.Errors() > 0 || !x.shownTo(a) || x.Folder.Index == x {
			continue
		}
		got, ok := s.Answer(a, x.Address(), false)
		if !x.sure() { // an error of a file of the whole lab
			if !ok || got.Bytes != nil || got.List.Errors() == 0 {
				t.Fatalf("%s: %s of the %s site is shown, though it leans on what is broken", when, x.Address(), a)
			}
			continue
		}
		want, _ := r.topic(x)
		if !ok || !bytes.Equal(got.Bytes, want) {
			t.Fatalf("%s: %s of the %s site differs (- read anew, + followed):\n%s", when, x.Address(), a,
				cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got.Bytes), "\n")))
		}
	}
}

// changer changes a content folder at random and says which paths a watcher would name.
type changer struct {
	t      *testing.T
	dir    string
	random *rand.Rand
	told   []string
	n      int
}

func (c *changer) files() (pages, others, folders []string) {
	filepath.WalkDir(c.dir, func(p string, d os.DirEntry, err error) error {
		rel, _ := filepath.Rel(c.dir, p)
		switch {
		case rel == ".":
		case d.IsDir():
			folders = append(folders, rel)
		case strings.HasSuffix(rel, ".md"):
			pages = append(pages, rel)
		default:
			others = append(others, rel)
		}
		return nil
	})
	return
}

func (c *changer) pick(from []string) string { return from[c.random.IntN(len(from))] }

func (c *changer) write(p, text string) {
	full := filepath.Join(c.dir, p)
	os.MkdirAll(filepath.Dir(full), 0o777)
	if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
		c.t.Fatal(err)
	}
}

func (c *changer) read(p string) string {
	raw, err := os.ReadFile(filepath.Join(c.dir, p))
	if err != nil {
		c.t.Fatal(err)
	}
	return string(raw)
}

func (c *changer) rename(from, to string) {
	os.MkdirAll(filepath.Dir(filepath.Join(c.dir, to)), 0o777)
	if err := os.Rename(filepath.Join(c.dir, from), filepath.Join(c.dir, to)); err != nil {
		c.t.Fatal(err)
	}
}

// change makes one change.
func (c *changer) change() []string {
	pages, others, folders := c.files()
	c.n++
	say := func(text string, paths ...string) []string {
		c.told = append(c.told, text+" "+strings.Join(paths, ", "))
		return paths
	}
	swap := func(p string, pairs ...string) []string {
		text := c.read(p)
		changed := strings.NewReplacer(pairs...).Replace(text)
		c.write(p, changed)
		return say(fmt.Sprintf("edited %q", pairs[:2]), p)
	}
	p := c.pick(pages)
	switch c.random.IntN(28) {
	case 20, 21, 22, 23, 24, 25, 26, 27:
		f := c.pick(slices.Sorted(maps.Keys(labFiles)))
		versions := labFiles[f]
		text := versions[c.random.IntN(len(versions))]
		if text == "" {
			os.Remove(filepath.Join(c.dir, f))
			return say("removed", f)
		}
		c.write(f, text)
		return say("wrote another version of", f)
	case 0, 1, 2:
		return swap(p, "value: 500 ml", "value: 550 ml", "value: 550 ml", "value: 500 ml", "value: 1,", "value: 2,", "20 °C", "21 °C")
	case 3:
		return swap(p, "\ntitle: ", "\ntitle: A")
	case 4:
		return swap(p, "\ntitle: A", "\ntitle: ")
	case 5:
		return swap(p, "audience: customers", "audience: staff", "audience: staff", "audience: customers")
	case 6:
		return swap(p, "status: approved", "status: draft", "status: draft", "status: approved")
	case 7:
		c.write(p, c.read(p)+fmt.Sprintf("\n## Part %d\n\nSee [that](%s) and {%s}.\n", c.n, relative(filepath.ToSlash(p), c.pick(pages)), "1 min"))
		return say("added a part", p)
	case 8:
		c.write(p, strings.Replace(c.read(p), "\nfigures:", "\nfigures:\n  broken: (1", 1))
		return say("broke", p)
	case 9:
		c.write(p, strings.Replace(c.read(p), "\nfigures:\n  broken: (1", "\nfigures:", 1))
		return say("mended", p)
	case 10:
		to := filepath.Join(c.pick(append(folders, "new-folder")), fmt.Sprintf("page-%d.md", c.n))
		c.rename(p, to)
		return say("renamed", p, to)
	case 11:
		os.Remove(filepath.Join(c.dir, p))
		return say("removed", p)
	case 12:
		f := c.pick(folders)
		to := fmt.Sprintf("moved-%d", c.n)
		c.rename(f, to)
		return say("moved a folder", f, to)
	case 13:
		to := filepath.Join(c.pick(folders), fmt.Sprintf("added-%d.md", c.n))
		c.write(to, c.read(p))
		return say("copied "+p, to)
	case 14:
		f := c.pick(others)
		if strings.HasSuffix(f, ".csv") {
			lines := strings.Split(strings.TrimRight(c.read(f), "\n"), "\n")
			last := lines[len(lines)-1]
			if c.random.IntN(2) == 0 {
				lines = lines[:len(lines)-1]
			}
			c.write(f, strings.Join(append(lines, ""), "\n"))
			return say("cut "+last, f)
		}
		return swap(f, "name: ", "name: A ", "notice:", "# notice:")
	case 15:
		f := c.pick(others)
		if f == sheet.SettingsFile {
			return nil
		}
		to := filepath.Join(filepath.Dir(f), fmt.Sprintf("other-%d%s", c.n, filepath.Ext(f)))
		c.rename(f, to)
		return say("renamed", f, to)
	case 16:
		to := filepath.Join(filepath.Dir(p), fmt.Sprintf("shape-%d.svg", c.n))
		c.write(to, fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="20"><title>A shape</title></svg>`, 10+c.n))
		c.write(p, c.read(p)+fmt.Sprintf("\n![A shape](%s)\n", filepath.Base(to)))
		return say("placed a picture", p, to)
	case 17:
		c.write(p, "")
		return say("emptied", p)
	case 18:
		var all []string
		for _, p := range pages {
			if c.random.IntN(3) == 0 {
				c.write(p, c.read(p)+"\nOne line more.\n")
				all = append(all, p)
			}
		}
		return say("edited many", all...)
	default:
		q := c.pick(pages)
		c.write(p, c.read(q))
		return say("overwrote with "+q, p)
	}
}
