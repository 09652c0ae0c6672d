package build

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/render/search"
)

// keptLab is a lab with a page that has every kind of file that can accompany a page, one that
// draws on it, and a staff page with a value to be reviewed.
var keptLab = map[string]string{
	"index.md": "---\ntitle: Home\naudience: customers\n---\n\nSee [the mix](mix.md).\n",
	"mix.md": "---\ntitle: Mix\naudience: customers\nsubstances: [pyrogallol]\ndata: {times: times.csv}\ngiven:\n  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}\n  film: {label: Film, value: slow, choices: times.film}\n" +
		"figures:\n  half: {label: Half, formula: tank / 2}\n  time: {label: Time, formula: \"lookup(times.minutes, times.film, film)\"}\n" +
		"tables:\n  by_tank: {caption: By tank, rows: tank, cell: half}\n---\n\n{half} for {time}\n\n{by_tank}\n",
	"times.csv": "film,minutes [min]\nslow,5\nfast,9\n",
	"cost.md":   "---\ntitle: Cost\naudience: customers\ndraws_on: {mix: mix.md}\nfigures:\n  cost: {label: Cost, formula: \"mix.half * 0.10 EUR/ml\", show: 0.01 EUR}\n---\n\n{cost}\n",
	"own.md":    "---\ntitle: Own\naudience: staff\ngiven:\n  tank: {value: 500 ml, source: measured here 2025-03-01, owner: lead, review: 12 months}\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\n{part}\n",
}

// runOf publishes a folder with a store.
func runOf(t testing.TB, dir, cache string, a page.Audience, old map[string][]byte) (store *Store, to *folder, said string) {
	t.Helper()
	store = OpenStore(cache, dir)
	if store == nil {
		t.Fatal("there is no store")
	}
	s, list := Open(t.Context(), dir, Options{Day: aDay, Store: store})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	to = &folder{old: old, files: map[string][]byte{}}
	list, err := s.Publish(t.Context(), a, to)
	if err != nil {
		t.Fatal(err)
	}
	return store, to, told(list)
}

func sameFiles(t testing.TB, what string, want, got map[string][]byte) {
	t.Helper()
	if len(want) != len(got) {
		t.Errorf("%s: %d files, want %d", what, len(got), len(want))
	}
	for name, b := range want {
		if !bytes.Equal(b, got[name]) {
			t.Errorf("%s: %s differs", what, name)
		}
	}
}

// The next run uses what was kept, reports the same and publishes the same.
func TestStoreIsUsed(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	first, to, said := runOf(t, dir, cache, page.Staff, nil)
	if first.loaded != 0 || first.trouble != "" || !strings.Contains(said, "the review of tank was due") {
		t.Fatalf("the first run: %d pages are loaded, %q, printed %q", first.loaded, first.trouble, said)
	}
	second, again, saidAgain := runOf(t, dir, cache, page.Staff, to.files)
	if second.loaded != 4 || second.trouble != "" {
		t.Errorf("of 4 pages %d are loaded, %q", second.loaded, second.trouble)
	}
	if saidAgain != said {
		t.Errorf("first printed:\n%s\nthen\n%s", said, saidAgain)
	}
	sameFiles(t, "the second run", to.files, again.files)
	if !slices.Contains(again.kept, "mix.html") || slices.Contains(again.put, "mix.html") {
		t.Errorf("kept are %v", again.kept)
	}
	// the other audience's site uses the results, and has files of its own
	other, customers, _ := runOf(t, dir, cache, page.Customers, nil)
	if other.loaded != 4 || customers.files["own.html"] != nil {
		t.Errorf("for customers %d pages are loaded", other.loaded)
	}
	sameFiles(t, "the customers' site", published(t, dir, page.Customers), customers.files)
}

// If nothing is new nothing is written.
func TestStoreIsLeftAsItIs(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	s, to, _ := runOf(t, dir, cache, page.Customers, nil)
	before, err := os.Stat(s.file)
	if err != nil {
		t.Fatal(err)
	}
	runOf(t, dir, cache, page.Customers, to.files)
	if after, err := os.Stat(s.file); err != nil || !os.SameFile(before, after) {
		t.Errorf("the store was written again: %v", err)
	}
}

// Nobody but the user may read what is kept, and nothing else is left in the folder.
func TestStoreIsPrivate(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "a", "cache")
	s, _, _ := runOf(t, dir, cache, page.Customers, nil)
	for name, want := range map[string]os.FileMode{cache: os.ModeDir | 0o700, filepath.Dir(cache): os.ModeDir | 0o700, s.file: 0o600} {
		if info, err := os.Stat(name); err != nil || info.Mode() != want {
			t.Errorf("%s has mode %v, want %v (%v)", name, info.Mode(), want, err)
		}
	}
	if entries, _ := os.ReadDir(cache); len(entries) != 1 {
		t.Errorf("in the folder are %v", entries)
	}
}

// Whatever state the store is in, the site is the same as without one, and the store is correct
// afterwards.
func TestStoreThatCannotBeUsed(t *testing.T) {
	dir := labOf(t, keptLab)
	want := published(t, dir, page.Customers)
	good := filepath.Join(t.TempDir(), "cache")
	s, _, _ := runOf(t, dir, good, page.Customers, nil)
	right, err := os.ReadFile(s.file)
	if err != nil {
		t.Fatal(err)
	}
	head := len(magic) + 2*sha256.Size
	turned := func(at int) []byte {
		b := bytes.Clone(right)
		b[at] ^= 1
		return b
	}
	// sealed is a file with the right head for its contents
	sealed := func(kept string) []byte { return append(s.head(sha256.Sum256([]byte(kept))), kept...) }
	writing := func(b []byte) func(string) error {
		return func(name string) error { return os.WriteFile(name, b, 0o600) }
	}
	for _, x := range []struct {
		what    string
		write   func(name string) error
		trouble string
		stays   bool // the file in the store's place cannot be replaced
	}{
		{"none", func(string) error { return nil }, "", false},
		{"an empty one", writing(nil), "not written by this program", false},
		{"another file", writing([]byte("name,minutes\nslow,5\n")), "not written by this program", false},
		{"random bytes", writing(bytes.Repeat([]byte{0xa7, 0x13, 0xff, 0x80}, 4000)), "not written by this program", false},
		{"one of another form", writing(turned(len(magic) - 2)), "not written by this program", false},
		{"one of another program", writing(turned(len(magic))), "another build of the program wrote it", false},
		{"another digest", writing(turned(len(magic) + sha256.Size)), "it is damaged", false},
		{"a bit turned in what is kept", writing(turned(head + 1)), "it is damaged", false},
		{"a bit turned at the end", writing(turned(len(right) - 1)), "it is damaged", false},
		{"a byte more", writing(append(bytes.Clone(right), 0)), "it is damaged", false},
		{"cut in the head", writing(right[:head-1]), "not written by this program", false},
		{"cut after the head", writing(right[:head]), "it is damaged", false},
		{"cut in the middle", writing(right[:len(right)/2]), "it is damaged", false},
		{"cut at the end", writing(right[:len(right)-1]), "it is damaged", false},
		{"sealed nonsense", writing(sealed("\x08nonsense")), "not written by this program", false},
		{"sealed and cut", writing(sealed(string(right[head : len(right)-5]))), "not written by this program", false},
		{"a folder", func(name string) error { return os.MkdirAll(filepath.Join(name, "in it"), 0o700) }, "nothing was kept", true},
		{"one that nobody may read", func(name string) error { return os.WriteFile(name, right, 0) }, "permission denied", false},
		{"a link to nowhere", func(name string) error { return os.Symlink("nowhere", name) }, "", false},
	} {
		t.Run(x.what, func(t *testing.T) {
			if x.trouble == "permission denied" && os.Geteuid() == 0 {
				t.Skip("root may read everything")
			}
			cache := filepath.Join(t.TempDir(), "cache")
			os.Mkdir(cache, 0o700)
			if err := x.write(OpenStore(cache, dir).file); err != nil {
				t.Fatal(err)
			}
			s, to, _ := runOf(t, dir, cache, page.Customers, nil)
			if s.loaded != 0 || !strings.Contains(s.trouble, x.trouble) || x.trouble == "" && s.trouble != "" {
				t.Errorf("%d pages are loaded, reported %q, want %q", s.loaded, s.trouble, x.trouble)
			}
			sameFiles(t, "the site", want, to.files)
			if again, _, _ := runOf(t, dir, cache, page.Customers, nil); (again.loaded == 4) == x.stays {
				t.Errorf("the next run loads %d pages, %q", again.loaded, again.trouble)
			}
			if entries, _ := os.ReadDir(cache); len(entries) != 1 {
				t.Errorf("in the folder are %v", entries)
			}
		})
	}
}

// If the cache folder cannot be made, the site is published all the same.
func TestStoreWithoutAFolder(t *testing.T) {
	dir := labOf(t, keptLab)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s, to, _ := runOf(t, dir, filepath.Join(file, "cache"), page.Customers, nil)
	if !strings.Contains(s.trouble, "nothing was kept for the next run") {
		t.Errorf("reported %q", s.trouble)
	}
	sameFiles(t, "the site", published(t, dir, page.Customers), to.files)
}

// A store that is cut off anywhere, or has a flipped bit anywhere, is not used, and nothing of it
// is loaded.
func TestStoreIsUsedWholeOrNotAtAll(t *testing.T) {
	dir, cache := labOf(t, keptLab), t.TempDir()
	s, _, _ := runOf(t, dir, cache, page.Customers, nil)
	right, err := os.ReadFile(s.file)
	if err != nil {
		t.Fatal(err)
	}
	site, _ := Open(t.Context(), dir, Options{Day: aDay})
	defer site.Close()
	refused := func(what string, raw []byte) {
		t.Helper()
		fresh := OpenStore(cache, dir)
		if err := fresh.decode(raw, site); err == nil || fresh.loaded > 0 || len(site.Memory.kept) > 0 {
			t.Fatalf("%s: %v, loaded are %d pages", what, err, fresh.loaded)
		}
	}
	for n := range right {
		refused(fmt.Sprintf("cut to %d bytes", n), right[:n])
		right[n] ^= 0x10
		refused(fmt.Sprintf("a bit turned in byte %d", n), right)
		right[n] ^= 0x10
	}
	// even with a matching head the contents are read whole or refused
	head := len(magic) + 2*sha256.Size
	for n := head; n < len(right); n++ {
		kept := right[head:n]
		refused(fmt.Sprintf("sealed at %d bytes", n), slices.Concat(s.head(sha256.Sum256(kept)), kept))
	}
	if err := OpenStore(cache, dir).decode(right, site); err != nil || len(site.Memory.kept) != 4 {
		t.Errorf("the store as it was: %v", err)
	}
}

// Commands that run on one folder at the same time each publish the whole site, and leave a whole
// store.
func TestStoreOfSimultaneousRuns(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	want := map[page.Audience]map[string][]byte{}
	for _, a := range bothAudiences {
		want[a] = published(t, dir, a)
	}
	var wait sync.WaitGroup
	for i := range 4 {
		wait.Go(func() {
			a := bothAudiences[i%2]
			for range 2 {
				s, to, _ := runOf(t, dir, cache, a, nil)
				if s.trouble != "" {
					t.Error(s.trouble)
				}
				sameFiles(t, "one of several", want[a], to.files)
			}
		})
	}
	wait.Wait()
	s, to, _ := runOf(t, dir, cache, page.Staff, nil)
	if s.loaded != 4 || s.trouble != "" {
		t.Errorf("afterwards %d pages are loaded, %q", s.loaded, s.trouble)
	}
	sameFiles(t, "afterwards", want[page.Staff], to.files)
	if entries, _ := os.ReadDir(cache); len(entries) != 1 {
		t.Errorf("in the folder are %v", entries)
	}
}

// Deleting the store costs only time.
func TestStoreMayBeDeleted(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	_, first, _ := runOf(t, dir, cache, page.Customers, nil)
	if err := os.RemoveAll(cache); err != nil {
		t.Fatal(err)
	}
	s, again, _ := runOf(t, dir, cache, page.Customers, first.files)
	if s.loaded != 0 || s.trouble != "" {
		t.Errorf("%d pages are loaded, %q", s.loaded, s.trouble)
	}
	sameFiles(t, "the site", first.files, again.files)
	if s, _, _ := runOf(t, dir, cache, page.Customers, again.files); s.loaded != 4 {
		t.Errorf("after that %d pages are loaded", s.loaded)
	}
}

// A run with errors keeps nothing, and what was kept before it stays.
func TestStoreKeepsNothingOfARunWithErrors(t *testing.T) {
	dir, write := editableLab(t, keptLab)
	cache := filepath.Join(t.TempDir(), "cache")
	broken := strings.Replace(keptLab["mix.md"], "tank / 2", "(tank / 2", 1)
	write("mix.md", broken)
	s, _, said := runOf(t, dir, cache, page.Customers, nil)
	if _, err := os.Lstat(cache); err == nil || !strings.Contains(said, "error") || s.trouble != "" {
		t.Fatalf("something was kept: %v, %q, reported:\n%s", err, s.trouble, said)
	}
	write("mix.md", keptLab["mix.md"])
	runOf(t, dir, cache, page.Customers, nil)
	before, err := os.ReadFile(s.file)
	if err != nil {
		t.Fatal(err)
	}
	write("mix.md", broken)
	write("own.md", keptLab["own.md"]+"\nMore.\n")
	_, _, said = runOf(t, dir, cache, page.Customers, nil)
	if !strings.Contains(said, "mix.md") || !strings.Contains(said, "cost.md") {
		t.Errorf("reported:\n%s", said)
	}
	if after, err := os.ReadFile(s.file); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the store changed: %v", err)
	}
	// a template that cannot be filled is an error of the site, not of a page
	write("mix.md", keptLab["mix.md"])
	write("labsite.yaml", "theme: look\n")
	write("look/figures.html", "{{.Nothing}}\n")
	if _, _, said = runOf(t, dir, cache, page.Customers, nil); !strings.Contains(said, "look/figures.html") {
		t.Errorf("reported:\n%s", said)
	}
	if after, err := os.ReadFile(s.file); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the store changed: %v", err)
	}
}

// Files that were not written for long are deleted when something is kept.
func TestStoreOfAFolderThatIsGone(t *testing.T) {
	dir, cache := labOf(t, keptLab), t.TempDir()
	for name, age := range map[string]time.Duration{"old.results": staleAfter + time.Hour, "young.results": staleAfter - time.Hour} {
		file := filepath.Join(cache, name)
		if err := os.WriteFile(file, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(file, time.Time{}, time.Now().Add(-age)); err != nil {
			t.Fatal(err)
		}
	}
	s, _, _ := runOf(t, dir, cache, page.Customers, nil)
	var got []string
	entries, _ := os.ReadDir(cache)
	for _, e := range entries {
		got = append(got, e.Name())
	}
	want := []string{filepath.Base(s.file), "young.results"}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("in the folder are %v, want %v", got, want)
	}
}

// A store that is used stays, though nothing new is ever written to it.
func TestStoreInUseIsNotOld(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	s, to, _ := runOf(t, dir, cache, page.Customers, nil)
	if err := os.Chtimes(s.file, time.Time{}, time.Now().Add(-staleAfter/2)); err != nil {
		t.Fatal(err)
	}
	runOf(t, dir, cache, page.Customers, to.files)
	if info, err := os.Stat(s.file); err != nil || time.Since(info.ModTime()) > staleAfter/4 {
		t.Errorf("the store that was just used is of %v (%v)", info.ModTime(), err)
	}
}

// Each folder has a store of its own, however its path is written.
func TestStoreOfEachFolder(t *testing.T) {
	top := t.TempDir()
	for _, name := range []string{"a", "b"} {
		if err := os.Mkdir(filepath.Join(top, name), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("a", filepath.Join(top, "link")); err != nil {
		t.Fatal(err)
	}
	cache := filepath.Join(top, "cache")
	at := func(name string) string { return OpenStore(cache, filepath.Join(top, name)).file }
	if at("a") == at("b") {
		t.Error("two folders have one store")
	}
	if at("a") != at("link") || at("a") != OpenStore(cache, top+"/b/../a/").file {
		t.Error("one folder has two stores")
	}
}

// Search entries are read only when the search is made. A store that holds something else in their
// place, under the right sums, is reported, and the page is read again.
func TestStoreWithOtherEntries(t *testing.T) {
	for _, forged := range []string{"x", "\xff\xff\xff\xff\xff\xff", packed([]byte{200}), packed(search.Ready("Mix", nil)[1:])} {
		dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
		first, _, _ := runOf(t, dir, cache, page.Customers, nil)
		site, _ := Open(t.Context(), dir, Options{Day: aDay})
		defer site.Close()
		raw, err := os.ReadFile(first.file)
		if err == nil {
			err = first.decode(raw, site)
		}
		if err != nil {
			t.Fatal(err)
		}
		site.Memory.Stale("mix.md").found = forged
		if err := first.write(func(to io.Writer) error { return encode(site, to) }); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "new.md"), []byte("---\ntitle: New\naudience: customers\n---\n\nText.\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		s, got, _ := runOf(t, dir, cache, page.Customers, nil)
		if s.loaded != 4 || !strings.Contains(s.trouble, errPacked.Error()) {
			t.Errorf("%q: %d pages are loaded, reported %q", forged, s.loaded, s.trouble)
		}
		sameFiles(t, fmt.Sprintf("%q", forged), published(t, dir, page.Customers), got.files)
		again, _, _ := runOf(t, dir, cache, page.Customers, nil)
		if again.trouble != "" {
			t.Errorf("%q: in the next run %q", forged, again.trouble)
		}
	}
}

// A command that looks at single pages uses what an earlier run kept, as long as it holds.
func TestRecall(t *testing.T) {
	dir, write := editableLab(t, keptLab)
	cache := filepath.Join(t.TempDir(), "cache")
	runOf(t, dir, cache, page.Staff, nil)
	asked := func(path string) (Reuse, *Result) {
		s, _ := Open(t.Context(), dir, Options{Day: aDay, Unwritten: true, Store: OpenStore(cache, dir)})
		defer s.Close()
		s.Recall()
		r := s.Memory.Result(s.Desk(), s.Content.Page(path))
		return s.Remembered(), r
	}
	if reuse, r := asked("cost.md"); reuse.Made != 0 || reuse.Taken != 4 || !r.Trial.Proved {
		t.Errorf("of what was kept: %+v, proved is %v", reuse, r.Trial.Proved)
	}
	write("mix.md", strings.Replace(keptLab["mix.md"], "tank / 2", "tank / 4", 1))
	if reuse, _ := asked("cost.md"); reuse.Made != 2 {
		t.Errorf("after a change of a page drawn on %d pages are made, want 2", reuse.Made)
	}
	write("mix.md", strings.Replace(keptLab["mix.md"], "tank / 2", "(tank / 4", 1))
	if _, r := asked("cost.md"); r.Trial.Proved || !r.Wrong {
		t.Errorf("over a broken page: proved is %v, wrong is %v", r.Trial.Proved, r.Wrong)
	}
}
