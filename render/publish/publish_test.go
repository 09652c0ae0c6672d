package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// site is a small site in which almost every file names the turn.
func site(turn int, extra ...string) Files {
	f := Files{
		"index.html":             fmt.Appendf(nil, "front, turn %d", turn),
		"guides/index.html":      fmt.Appendf(nil, "guides, turn %d", turn),
		"guides/deep/er/one.svg": fmt.Appendf(nil, "<svg/> %d", turn),
		"style.css":              []byte("body { color: black }"), // as it was, in every turn
	}
	for _, name := range extra {
		f[name] = fmt.Appendf(nil, "%s, turn %d", name, turn)
	}
	return f
}

// publish writes or ends the test.
func publish(t *testing.T, dir string, f Files) Result {
	t.Helper()
	r, err := Write(context.Background(), dir, f, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// holds compares a folder with a site, ignoring the list and a .gitignore.
func holds(t *testing.T, dir string, want Files) {
	t.Helper()
	got := Files{}
	err := filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(dir, at)
		name := filepath.ToSlash(rel)
		if d.IsDir() {
			if inside, err := os.ReadDir(at); err == nil && len(inside) == 0 {
				t.Errorf("the folder %s is empty", name)
			}
			return nil
		}
		if name == listName || name == ignoreName {
			return nil
		}
		got[name], err = os.ReadFile(at)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(texts(want), texts(got)); diff != "" {
		t.Errorf("wrong site in %s (-want +got):\n%s", dir, diff)
	}
}

func texts(f Files) map[string]string {
	m := map[string]string{}
	for n, b := range f {
		m[n] = string(b)
	}
	return m
}

// beside lists what is beside the published folder.
func beside(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			names = append(names, e.Name())
		}
	}
	return names
}

func noLitter(t *testing.T, dir string) {
	t.Helper()
	if names := beside(t, dir); len(names) > 0 {
		t.Errorf("left beside the folder: %v", names)
	}
}

// put writes a file as somebody else would.
func put(t *testing.T, at, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// refused requires a Refusal whose text contains all the parts.
func refused(t *testing.T, err error, parts ...string) {
	t.Helper()
	var r *Refusal
	if !errors.As(err, &r) {
		t.Fatalf("not refused: %v", err)
	}
	for _, p := range parts {
		if !strings.Contains(err.Error(), p) {
			t.Errorf("the refusal does not say %q: %v", p, err)
		}
	}
}

func TestEachTurnReplacesTheLast(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "made", "on the way", "site")
	first := publish(t, dir, site(1, "old/gone.html"))
	if want := (Result{Written: 5, Bytes: first.Bytes}); !cmp.Equal(first, want) {
		t.Errorf("first publish: %+v, want %+v", first, want)
	}
	size := int64(0)
	for _, b := range site(1, "old/gone.html") {
		size += int64(len(b))
	}
	if first.Bytes != size {
		t.Errorf("counted %d bytes, want %d", first.Bytes, size)
	}
	holds(t, dir, site(1, "old/gone.html"))
	noLitter(t, dir)

	second := publish(t, dir, site(2, "new/page.html"))
	if second.Written != 4 || second.Kept != 1 || second.Removed != 1 {
		t.Errorf("second publish: %+v, want 4 written, 1 kept, 1 removed", second)
	}
	holds(t, dir, site(2, "new/page.html"))
	noLitter(t, dir)

	publish(t, dir, Files{})
	holds(t, dir, Files{})
	noLitter(t, dir)
}

func TestTwoRenamesDoTheSame(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1, "gone.html"))
	put(t, filepath.Join(dir, ignoreName), "*\n")
	if _, err := Write(context.Background(), dir, site(2), Options{byRenames: true}); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, site(2))
	noLitter(t, dir)
	if raw, _ := os.ReadFile(filepath.Join(dir, ignoreName)); string(raw) != "*\n" {
		t.Errorf("the .gitignore holds %q", raw)
	}
}

func TestUnchangedFilesAreTheSameFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	stat := func(name string) fs.FileInfo {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		os.SameFile(info, info) // some systems look up which file it is only when asked
		return info
	}
	css, front, folder := stat("style.css"), stat("index.html"), stat(".")
	publish(t, dir, site(2))
	if !os.SameFile(css, stat("style.css")) {
		t.Error("a file that did not change was written again")
	}
	if os.SameFile(front, stat("index.html")) {
		t.Error("a file that changed was written in place, where a reader may have it open")
	}
	if os.SameFile(folder, stat(".")) {
		t.Error("the folder was changed in place")
	}

	folder = stat(".")
	if r := publish(t, dir, site(2)); r.Written != 0 || r.Kept != 4 || r.Removed != 0 {
		t.Errorf("nothing changed, but: %+v", r)
	}
	if !os.SameFile(folder, stat(".")) {
		t.Error("nothing changed, but the folder was exchanged")
	}
}

func TestADeletedFileAndAnEmptyFolderArePutRight(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	if err := os.Remove(filepath.Join(dir, "style.css")); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "left", "empty"), 0o777); err != nil {
		t.Fatal(err)
	}
	if r := publish(t, dir, site(1)); r.Written != 1 || r.Kept != 3 {
		t.Errorf("%+v, want 1 written and 3 kept", r)
	}
	holds(t, dir, site(1))

	if err := os.MkdirAll(filepath.Join(dir, "left", "empty"), 0o777); err != nil {
		t.Fatal(err)
	}
	publish(t, dir, site(1))
	holds(t, dir, site(1))
	noLitter(t, dir)
}

func TestDamagedFilesAreWrittenAgain(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	put(t, filepath.Join(dir, "style.css"), "")
	put(t, filepath.Join(dir, "index.html"), strings.Repeat("\x00", 15))
	if r := publish(t, dir, site(1)); r.Written != 2 || r.Kept != 2 {
		t.Errorf("%+v, want 2 written and 2 kept", r)
	}
	holds(t, dir, site(1))
}

func TestForeignFilesAreRefusedAndStay(t *testing.T) {
	t.Run("in a folder never published into", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		mine := Files{}
		for i := range 7 {
			name := fmt.Sprintf("notes-%d.txt", i)
			mine[name] = []byte("mine")
			put(t, filepath.Join(dir, name), "mine")
		}
		_, err := Write(context.Background(), dir, site(1), Options{})
		refused(t, err, "notes-0.txt", "notes-4.txt", "and 2 more")
		if strings.Contains(err.Error(), "notes-5.txt") {
			t.Errorf("names more than five files: %v", err)
		}
		holds(t, dir, mine)
		noLitter(t, dir)
	})
	for _, name := range []string{"index.htm", "guides/mine.txt", ".hidden", "guides/" + ignoreName, "guides/" + listName} {
		t.Run("in a published folder: "+name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			put(t, filepath.Join(dir, name), "mine")
			_, err := Write(context.Background(), dir, site(2), Options{})
			refused(t, err, name)
			if raw, _ := os.ReadFile(filepath.Join(dir, name)); string(raw) != "mine" {
				t.Errorf("the foreign file holds %q", raw)
			}
			os.Remove(filepath.Join(dir, name))
			holds(t, dir, site(1))
			noLitter(t, dir)
		})
	}
	t.Run("a link in place of a page", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		publish(t, dir, site(1))
		outside := filepath.Join(t.TempDir(), "outside")
		put(t, outside, "mine")
		at := filepath.Join(dir, "index.html")
		needLinks(t)
		if err := errors.Join(os.Remove(at), os.Symlink(outside, at)); err != nil {
			t.Fatal(err)
		}
		_, err := Write(context.Background(), dir, site(2), Options{})
		refused(t, err, "index.html")
	})
	for _, turn := range []int{1, 2} { // the page stays as it was, the page changes
		t.Run(fmt.Sprint("a page changed by hand, turn ", turn), func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			put(t, filepath.Join(dir, "index.html"), "my better front")
			_, err := Write(context.Background(), dir, site(turn), Options{})
			refused(t, err, "index.html", "changed by hand")
			if raw, _ := os.ReadFile(filepath.Join(dir, "index.html")); string(raw) != "my better front" {
				t.Errorf("the page now holds %q", raw)
			}
			noLitter(t, dir)
		})
	}
	t.Run("a removed page changed by hand", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		publish(t, dir, site(1, "old.html"))
		put(t, filepath.Join(dir, "old.html"), "my notes")
		_, err := Write(context.Background(), dir, site(2), Options{})
		refused(t, err, "old.html", "changed by hand")
	})
	t.Run("a damaged list", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "site")
		publish(t, dir, site(1))
		put(t, filepath.Join(dir, listName), "something else\n")
		_, err := Write(context.Background(), dir, site(2), Options{})
		refused(t, err, listName)
		holds(t, dir, site(1))
	})
}

func TestTheIgnoreFileIsCarriedOver(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	put(t, filepath.Join(dir, ignoreName), "*\n!.gitignore\n")
	for turn := range 3 {
		publish(t, dir, site(turn))
		holds(t, dir, site(turn))
		raw, err := os.ReadFile(filepath.Join(dir, ignoreName))
		if err != nil || string(raw) != "*\n!.gitignore\n" {
			t.Fatalf("turn %d: the .gitignore holds %q, %v", turn, raw, err)
		}
	}
	noLitter(t, dir)
}

func TestPlacesUnfitForASite(t *testing.T) {
	top := t.TempDir()
	file := filepath.Join(top, "file")
	put(t, file, "mine")
	content := filepath.Join(top, "lab", "content")
	put(t, filepath.Join(content, "index.md"), "mine")
	linked := filepath.Join(top, "link")
	real := filepath.Join(top, "real")
	needLinks(t)
	if err := errors.Join(os.Mkdir(real, 0o777), os.Symlink(real, linked)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, dir, say string }{
		{"a file", file, "is a file"},
		{"the top of the disk", filepath.VolumeName(top) + string(filepath.Separator), "top of a disk"},
		{"no name", " ", "no folder"},
		{"the content folder", content, "holds the content folder"},
		{"a folder around the content", filepath.Join(top, "lab"), "holds the content folder"},
		{"a folder around the content, by another spelling", filepath.Join(top, "lab", "content", ".."), "holds the content folder"},
		{"a link", linked, real},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Write(context.Background(), c.dir, site(1), Options{Content: content})
			refused(t, err, c.say)
		})
	}
	if got, want := beside(t, file), []string{"lab", "link", "real"}; !slices.Equal(got, want) {
		t.Errorf("the folder now holds %v, want %v", got, want)
	}
	t.Run("through a link further up it works", func(t *testing.T) {
		if _, err := Write(context.Background(), filepath.Join(linked, "site"), site(1), Options{Content: content}); err != nil {
			t.Fatal(err)
		}
		holds(t, filepath.Join(real, "site"), site(1))
	})
	t.Run("inside a file", func(t *testing.T) {
		if _, err := Write(context.Background(), filepath.Join(file, "site"), site(1), Options{}); err == nil {
			t.Error("published into a folder inside a file")
		}
	})
}

func TestNamesThatNoFolderCanHold(t *testing.T) {
	for _, name := range []string{"", ".", "..", "../out.html", "/etc/out", "a//b", "a/", "a\\b", "c:x", "a\nb", listName, ignoreName} {
		dir := filepath.Join(t.TempDir(), "site")
		_, err := Write(context.Background(), dir, Files{name: nil, "index.html": nil}, Options{})
		refused(t, err, fmt.Sprintf("%q", name))
		noLitter(t, dir)
	}
	_, err := Write(context.Background(), filepath.Join(t.TempDir(), "site"), Files{"a": nil, "a/b": nil}, Options{})
	refused(t, err, `"a"`, `"a/b"`)
}

func TestOnePublishAtATime(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	var inner error
	_, err := Write(context.Background(), dir, site(2), Options{step: func(name string) error {
		if name == "locked" {
			_, inner = Write(context.Background(), dir, site(3), Options{})
		}
		return nil
	}})
	if err != nil {
		t.Fatal(err)
	}
	var busy *Busy
	if !errors.As(inner, &busy) {
		t.Fatalf("a second publish was not refused: %v", inner)
	}
	if want := fmt.Sprintf("process %d on ", os.Getpid()); !strings.HasPrefix(busy.Holder, want) {
		t.Errorf("the holder is %q, want %q and so on", busy.Holder, want)
	}
	holds(t, dir, site(2))
	noLitter(t, dir)

	t.Run("a lock file of a dead process holds nobody off", func(t *testing.T) {
		put(t, filepath.Join(filepath.Dir(dir), ".site.publishing"), lockHead+"process 1 on elsewhere, since long ago\n")
		publish(t, dir, site(4))
		noLitter(t, dir)
	})
	t.Run("a stranger's file of that name stays", func(t *testing.T) {
		at := filepath.Join(filepath.Dir(dir), ".site.publishing")
		put(t, at, "my notes")
		_, err := Write(context.Background(), dir, site(5), Options{})
		refused(t, err, at)
		if raw, _ := os.ReadFile(at); string(raw) != "my notes" {
			t.Errorf("it now holds %q", raw)
		}
	})
}

func TestALockWithoutTheSystemsHelp(t *testing.T) {
	p, err := locate(filepath.Join(t.TempDir(), "site"), "")
	if err != nil {
		t.Fatal(err)
	}
	release, err := claim(p)
	if err != nil {
		t.Fatal(err)
	}
	_, err = claim(p)
	var busy *Busy
	if !errors.As(err, &busy) || !strings.Contains(busy.Error(), fmt.Sprint("process ", os.Getpid())) || !strings.Contains(busy.Error(), "delete") {
		t.Errorf("a second claim: %v", err)
	}
	release()
	release, err = claim(p)
	if err != nil {
		t.Fatal(err)
	}
	release()
	noLitter(t, p.target)
}

// The lock file comes and goes with its holder; nobody may hold a lock whose file is gone.
func TestTheLockHasOneHolder(t *testing.T) {
	p, err := locate(filepath.Join(t.TempDir(), "site"), "")
	if err != nil {
		t.Fatal(err)
	}
	var holders, taken atomic.Int32
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 500 {
				release, err := takeLock(p)
				var busy *Busy
				if errors.As(err, &busy) {
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				if n := holders.Add(1); n != 1 {
					t.Errorf("%d hold the lock", n)
				}
				taken.Add(1)
				for range 50 {
					runtime.Gosched() // others try meanwhile
				}
				holders.Add(-1)
				release()
			}
		})
	}
	wg.Wait()
	if taken.Load() == 0 {
		t.Error("nobody held the lock")
	}
	noLitter(t, p.target)
}

func TestEachStopsSoon(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var calls atomic.Int32
	err := each(ctx, 1000, func(int) error {
		calls.Add(1)
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) || calls.Load() > workers {
		t.Errorf("%d calls after a stop, %v", calls.Load(), err)
	}
}

// Many publishes at once: each either gets the folder or the error that it is busy, and in the end
// the folder is one of the sites.
func TestManyPublishesAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	var done atomic.Int32
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := range 25 {
				_, err := Write(context.Background(), dir, site(w*100+i), Options{})
				var busy *Busy
				if err == nil {
					done.Add(1)
				} else if !errors.As(err, &busy) {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	if done.Load() == 0 {
		t.Error("nobody could publish")
	}
	raw, err := os.ReadFile(filepath.Join(dir, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	var turn int
	if _, err := fmt.Sscanf(string(raw), "front, turn %d", &turn); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, site(turn))
	noLitter(t, dir)
}

func TestReadersSeeOneSite(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file keeps its folder where it is: TestOpenFilesAreNamed")
	}
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(0))
	stop := make(chan struct{})
	var wg sync.WaitGroup
	var whole, seen atomic.Int32
	for range 2 {
		wg.Go(func() {
			for last := -1; ; {
				select {
				case <-stop:
					return
				default:
				}
				// A reader who opens paths finds a site at every moment, and each file whole.
				raw, err := os.ReadFile(filepath.Join(dir, "index.html"))
				var turn int
				if _, e := fmt.Sscanf(string(raw), "front, turn %d", &turn); err != nil || e != nil {
					t.Errorf("a reader found %q, %v", raw, err)
					return
				}
				if turn < last {
					t.Errorf("a reader saw turn %d after turn %d", turn, last)
				}
				last = turn
				// A reader who keeps the folder open finds the files of one site.
				root, err := os.OpenRoot(dir)
				if err != nil {
					t.Errorf("a reader found no folder: %v", err)
					return
				}
				a, err1 := root.ReadFile("guides/index.html")
				b, err2 := root.ReadFile("guides/deep/er/one.svg")
				root.Close()
				if err1 != nil || err2 != nil {
					continue // the old site was removed while being read
				}
				whole.Add(1)
				var x, y int
				fmt.Sscanf(string(a), "guides, turn %d", &x)
				fmt.Sscanf(string(b), "<svg/> %d", &y)
				if x != y {
					t.Errorf("a reader saw turn %d and turn %d side by side", x, y)
				}
				if int32(x) > seen.Load() {
					seen.Store(int32(x))
				}
			}
		})
	}
	for turn := range 100 {
		publish(t, dir, site(turn))
	}
	close(stop)
	wg.Wait()
	if whole.Load() == 0 || seen.Load() == 0 {
		t.Errorf("the readers saw %d whole sites, turn %d the last: too few to tell anything", whole.Load(), seen.Load())
	}
}

func TestStoppingAndFailingLeaveTheOldSite(t *testing.T) {
	for name, at := range steps(t) {
		if name == "exchanged" || name == "ignore file moved" || name == "old folder removed" {
			continue // the new site is in place by then
		}
		for _, there := range []bool{true, false} {
			for _, how := range []string{"stop", "fail"} {
				t.Run(fmt.Sprintf("%s at %s, old site %v", how, name, there), func(t *testing.T) {
					if name == "between two renames" && (how == "stop" || !there) {
						t.Skip("too short a moment to look whether to stop, and there is nothing to move away")
					}
					dir := filepath.Join(t.TempDir(), "new", "site")
					if there {
						publish(t, dir, site(1))
						put(t, filepath.Join(dir, ignoreName), "*\n")
					}
					ctx, cancel := context.WithCancel(context.Background())
					defer cancel()
					trouble := errors.New("the disk is full")
					_, err := Write(ctx, dir, site(2), Options{byRenames: at.byRenames, step: func(step string) error {
						if step != name {
							return nil
						}
						if how == "fail" {
							return trouble
						}
						cancel()
						return nil
					}})
					if how == "fail" && !errors.Is(err, trouble) || how == "stop" && !errors.Is(err, context.Canceled) {
						t.Errorf("the error is %v", err)
					}
					if how == "stop" && (err == nil || !strings.Contains(err.Error(), "is as it was")) {
						t.Errorf("the error does not say how the folder is: %v", err)
					}
					if !there {
						// Nor the folder that was to contain it.
						if _, err := os.Lstat(filepath.Dir(dir)); !errors.Is(err, fs.ErrNotExist) {
							t.Errorf("there is a folder now: %v", err)
						}
						return
					}
					holds(t, dir, site(1))
					if raw, _ := os.ReadFile(filepath.Join(dir, ignoreName)); string(raw) != "*\n" {
						t.Errorf("the .gitignore holds %q", raw)
					}
					noLitter(t, dir)
				})
			}
		}
	}
	t.Run("before it begins", func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		dir := filepath.Join(t.TempDir(), "new", "site")
		if _, err := Write(ctx, dir, site(1), Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("the error is %v", err)
		}
		noLitter(t, filepath.Dir(dir))
	})
}

// steps lists all steps of a publish, with options that reach each.
func steps(t *testing.T) map[string]Options {
	t.Helper()
	all := map[string]Options{}
	for _, apart := range []bool{false, true} {
		dir := filepath.Join(t.TempDir(), "site")
		publish(t, dir, site(1, "gone.html"))
		var mu sync.Mutex
		_, err := Write(context.Background(), dir, site(2), Options{byRenames: apart, step: func(name string) error {
			mu.Lock()
			defer mu.Unlock()
			if _, known := all[name]; !known {
				all[name] = Options{byRenames: apart}
			}
			return nil
		}})
		if err != nil {
			t.Fatal(err)
		}
	}
	if want := 15; len(all) != want {
		t.Fatalf("a publish has the steps %v, want %d", slices.Sorted(maps.Keys(all)), want)
	}
	return all
}

func TestForeignFoldersWithHiddenNamesStay(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	near := filepath.Dir(dir)
	put(t, filepath.Join(near, ".site.next-0badcafe", "mine.txt"), "mine")
	put(t, filepath.Join(near, ".site.last-0badcafe", "mine.txt"), "mine")
	put(t, filepath.Join(near, ".site.next-mine", "mine.txt"), "mine")
	put(t, filepath.Join(near, ".site.next-0badf00d"), "mine")
	publish(t, dir, site(1))
	r := publish(t, dir, site(2))
	if got, want := beside(t, dir), []string{".site.last-0badcafe", ".site.next-0badcafe", ".site.next-0badf00d", ".site.next-mine"}; !slices.Equal(got, want) {
		t.Errorf("beside the folder: %v, want %v", got, want)
	}
	if len(r.Left) != 2 {
		t.Errorf("named as left: %v, want two", r.Left)
	}
}

// A folder whose list is ours but that also has somebody else's file stays as it is.
func TestALeftoverWithAStrangersFileStaysWhole(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	old := filepath.Join(filepath.Dir(dir), ".site.next-00000001")
	put(t, filepath.Join(old, listName), string(list{{name: "index.html"}}.bytes()))
	put(t, filepath.Join(old, "index.html"), "")
	put(t, filepath.Join(old, "mine.txt"), "mine")
	r := publish(t, dir, site(1))
	if len(r.Left) != 1 || filepath.Base(r.Left[0]) != filepath.Base(old) {
		t.Errorf("named as left: %v", r.Left)
	}
	holds(t, old, Files{"index.html": nil, "mine.txt": []byte("mine")})
}
