package build

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/write"
)

// After many changes of every sort to a lab's folder, the site that follows it reports and writes
// the same, byte for byte, as one that is read afresh. FOLLOW_CHANGES=n makes more of them, as make
// test does, FOLLOW_FROM=n takes other random numbers. Sixteen are just enough to compare in each
// way once.
func TestFollowedSiteEqualsAFreshOne(t *testing.T) {
	follow(t, numberFrom("FOLLOW_FROM", 0), int(numberFrom("FOLLOW_CHANGES", 8)))
}

func numberFrom(variable string, n uint64) uint64 {
	if text := os.Getenv(variable); text != "" {
		fmt.Sscan(text, &n)
	}
	return n
}

// aDay is a day on which the demo has no errors: its records and readings reach up to it.
var aDay = time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC)

var bothAudiences = []page.Audience{page.Customers, page.Staff}

func follow(t *testing.T, seed uint64, changes int) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	c := &changer{t: t, dir: dir, random: rand.New(rand.NewPCG(seed, 1))}
	for p, versions := range labFiles {
		c.write(p, versions[0])
	}
	s, list := Follow(t.Context(), dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	c.site = s
	s.desk.Keep = 1 + c.random.IntN(64) // as on a site that is too large to be held in full
	x := newComparer(t, s, dir)
	compared := 0
	for i := range changes {
		if c.random.IntN(8) == 0 { // another day, before or after
			s.Turn(aDay.AddDate(0, 0, c.random.IntN(900)-300))
			c.told = append(c.told, "turned to "+s.Day().Format(time.DateOnly))
		}
		var paths []string
		for range 1 + c.random.IntN(3) {
			paths = append(paths, c.change()...)
		}
		if c.random.IntN(4) == 0 {
			paths = nil // as when watches run out
		}
		s.Update(paths)
		if c.random.IntN(2) == 0 {
			s.Work(c.random.IntN(20))
		}
		if i%4 < 3 { // or else the next change comes before everything is worked out
			continue
		}
		when := fmt.Sprintf("after change %d: %s", i, strings.Join(c.told, "; "))
		switch a := bothAudiences[c.random.IntN(2)]; compared % 6 {
		case 1, 4:
			x.compare(when, a)
		case 3:
			x.compare(when)
			c.mend()
			s.Update(nil)
			x.compare(when+", mended", bothAudiences...)
			x.publishAgain(when+", mended", a)
		default:
			x.compare(when)
		}
		compared++
		c.told = nil
	}
	s.Turn(aDay) // on another day the demo itself may have errors, and whole sites could not be compared
	c.mend()
	s.Update(nil)
	when := "mended at the end: " + strings.Join(c.told, "; ")
	x.compare(when, bothAudiences...)
	x.publishAgain(when, bothAudiences...)
	x.sameAddresses(when)
	if s.Diagnostics().Errors() > 0 {
		t.Errorf("whole sites are not compared:\n%s", told(s.Diagnostics()))
	}
}

// mend puts the folder back to its first state and then changes a few files without breaking
// anything, so that whole sites can be compared. It returns no paths, as after the checkout of
// another branch.
func (c *changer) mend() {
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
		list := c.wrong()
		if list.Errors() == 0 {
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

// wrong lists what the followed site finds wrong with the folder. Comparing it later shows whether
// that is right.
func (c *changer) wrong() source.List {
	c.site.Update(nil)
	if err := c.site.Settle(c.t.Context()); err != nil {
		c.t.Fatal(err)
	}
	return c.site.Diagnostics()
}

// comparer compares a followed site with ones that are read afresh.
type comparer struct {
	t   *testing.T
	s   *Followed
	dir string
	// seen are all addresses that the site ever had, some of which may be gone.
	seen map[page.Audience]map[string]bool
	// fresh is the site as it was last published without a store.
	fresh map[page.Audience]map[string][]byte
	// kept is the site as it was last published with a store, over the one before.
	kept map[page.Audience]map[string][]byte
}

func newComparer(t *testing.T, s *Followed, dir string) *comparer {
	x := &comparer{t, s, dir, map[page.Audience]map[string]bool{}, map[page.Audience]map[string][]byte{}, map[page.Audience]map[string][]byte{}}
	for _, a := range bothAudiences {
		x.seen[a] = map[string]bool{}
		for _, name := range s.Addresses(a) {
			x.seen[a][name] = true
		}
	}
	return x
}

// compare compares what is wrong with the site, and all that the audiences find, with a site that
// is read afresh: a published one, or if that has errors another preview.
func (x *comparer) compare(when string, audiences ...page.Audience) {
	x.t.Helper()
	if err := x.s.Settle(x.t.Context()); err != nil {
		x.t.Fatal(err)
	}
	if x.s.Diagnostics().Errors() == 0 && len(audiences) > 0 {
		x.compareRight(when, audiences)
	} else {
		x.compareWrong(when, audiences)
	}
}

func (x *comparer) sameList(when string, want source.List) {
	x.t.Helper()
	if a, b := told(want), told(x.s.Diagnostics()); a != b {
		x.t.Fatalf("%s: the lists differ (- read again, + followed):\n%s", when, cmp.Diff(strings.Split(a, "\n"), strings.Split(b, "\n")))
	}
}

func (x *comparer) same(when string, a page.Audience, name string, want, got []byte) {
	x.t.Helper()
	if !bytes.Equal(want, got) {
		x.t.Fatalf("%s: %s of the %s site differs (- read again, + now):\n%s", when, name, a,
			cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")))
	}
}

// compareRight is for a site with nothing wrong.
func (x *comparer) compareRight(when string, audiences []page.Audience) {
	x.t.Helper()
	s, list := Open(x.t.Context(), x.dir, Options{Day: x.s.Day()})
	if s == nil {
		x.t.Fatal(told(list))
	}
	defer s.Close()
	r := &run{site: s, ctx: x.t.Context()} // several audiences at once, as in a check
	for _, a := range audiences {
		x.fresh[a] = map[string][]byte{}
		r.outputs = append(r.outputs, s.output(a, &folder{files: x.fresh[a]}))
	}
	list, err := r.all()
	if err != nil {
		x.t.Fatal(err)
	}
	x.sameList(when, list)
	desk := s.Desk()
	warnings := func(page string) string {
		if page == "" {
			return ""
		}
		return told(s.PageList(desk, s.Content.Page(page)))
	}
	for _, a := range audiences {
		for name := range x.fresh[a] {
			x.seen[a][name] = true
		}
	}
	x.eachSeen(audiences, func(a page.Audience, name string) {
		want, is := x.fresh[a][name]
		if name == machine.KeeperFile || name == machine.VersionFile {
			return // a preview is not to be kept
		}
		got, ok := x.s.Answer(a, name, false)
		if !is {
			if got.Bytes != nil {
				x.t.Fatalf("%s: %s of the %s site is still there:\n%s", when, name, a, got.Bytes)
			}
			return
		}
		if said := warnings(got.Page); !ok || told(got.List) != said {
			x.t.Fatalf("%s: %s of the %s site is answered %v with\n%s, want\n%s", when, name, a, ok, told(got.List), said)
		}
		x.same(when, a, name, want, got.Bytes)
	})
}

// compareWrong is for a site that may have errors.
func (x *comparer) compareWrong(when string, audiences []page.Audience) {
	x.t.Helper()
	fresh, list := Follow(x.t.Context(), x.dir, Options{Day: x.s.Day()})
	if fresh == nil {
		x.t.Fatal(told(list))
	}
	defer fresh.Close()
	if err := fresh.Settle(x.t.Context()); err != nil {
		x.t.Fatal(err)
	}
	x.sameList(when, fresh.Diagnostics())
	for _, a := range audiences {
		for _, p := range fresh.site.Content.Pages {
			for _, name := range []string{p.Address(), path.Join(path.Dir(p.Address()), write.CardAddress(p)), strings.TrimSuffix(p.Path, ".md") + ".figures.js"} {
				x.seen[a][name] = true
			}
		}
	}
	x.eachSeen(audiences, func(a page.Audience, name string) {
		want, was := fresh.Answer(a, name, false)
		got, ok := x.s.Answer(a, name, false)
		if ok != was || told(got.List) != told(want.List) {
			x.t.Fatalf("%s: %s of the %s site: read again it is answered %v with\n%s, followed %v with\n%s", when, name, a, was, told(want.List), ok, told(got.List))
		}
		x.same(when, a, name, want.Bytes, got.Bytes)
	})
}

// eachSeen asks for all addresses that the audiences ever had, those of a page together, since the
// site keeps few pages in full and works out again one that it let go.
func (x *comparer) eachSeen(audiences []page.Audience, ask func(a page.Audience, name string)) {
	of := map[string][]page.Audience{}
	for _, a := range audiences {
		for name := range x.seen[a] {
			of[name] = append(of[name], a)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(of)) {
		for _, a := range of[name] {
			ask(a, name)
		}
	}
}

// publishAgain publishes with a store over the site from before, and compares the result with what
// was published afresh. The site must have no errors.
func (x *comparer) publishAgain(when string, audiences ...page.Audience) {
	x.t.Helper()
	if x.s.Diagnostics().Errors() > 0 {
		return
	}
	for _, a := range audiences {
		store := OpenStore(x.dir+"-cache", x.dir)
		s, list := Open(x.t.Context(), x.dir, Options{Day: x.s.Day(), Store: store})
		if s == nil {
			x.t.Fatal(told(list))
		}
		to := &folder{old: x.kept[a], files: map[string][]byte{}}
		list, err := s.Publish(x.t.Context(), a, to)
		s.Close()
		if err != nil || store.trouble != "" {
			x.t.Fatal(when, err, store.trouble)
		}
		x.sameList(when+", published with what was kept", list)
		for name, want := range x.fresh[a] {
			x.same(when+", published with what was kept", a, name, want, to.files[name])
		}
		if len(to.files) != len(x.fresh[a]) {
			x.t.Fatalf("%s: published with what was kept are %d files, without %d", when, len(to.files), len(x.fresh[a]))
		}
		x.kept[a] = to.files
	}
}

// sameAddresses compares the list of all addresses with what was published.
func (x *comparer) sameAddresses(when string) {
	x.t.Helper()
	for a, files := range x.fresh {
		var want []string
		for name := range files {
			if name != machine.KeeperFile && name != machine.VersionFile {
				want = append(want, name)
			}
		}
		slices.Sort(want)
		if d := cmp.Diff(want, x.s.Addresses(a)); d != "" {
			x.t.Fatalf("%s: the %s addresses differ (- published, + followed):\n%s", when, a, d)
		}
	}
}

// folder is a published folder in memory, over that of the last publish.
type folder struct {
	mu         sync.Mutex
	old, files map[string][]byte
	put, kept  []string // addresses, as they came
}

func (f *folder) Put(address string, b []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if _, twice := f.files[address]; twice {
		return fmt.Errorf("%s is handed in twice", address)
	}
	f.files[address] = bytes.Clone(b)
	f.put = append(f.put, address)
	return nil
}

func (f *folder) Keep(address string, digest Digest) (bool, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	b, is := f.old[address]
	if !is || sha256.Sum256(b) != digest {
		return false, nil
	}
	if _, twice := f.files[address]; twice {
		return false, fmt.Errorf("%s is handed in twice", address)
	}
	f.files[address] = b
	f.kept = append(f.kept, address)
	return true, nil
}

func told(list source.List) string {
	var b strings.Builder
	for _, d := range list {
		b.WriteString(d.String())
	}
	return b.String()
}

// changer changes a content folder at random and says which paths a watcher would name.
type changer struct {
	t      *testing.T
	site   *Followed // which follows the folder
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
		c.write(p, c.read(p)+fmt.Sprintf("\n## Part %d\n\nSee [that](%s) and {%s}.\n", c.n, content.Relative(filepath.ToSlash(p), c.pick(pages)), "1 min"))
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
		if f == page.SettingsFile {
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
