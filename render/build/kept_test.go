package build

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/page"
)

// dependentLab is a lab whose pages each depend on something, in a way that shows in their files.
func dependentLab() map[string]string {
	files := maps.Clone(keptLab)
	page := func(title, head, body string) string {
		return "---\ntitle: " + title + "\naudience: customers\n" + head + "---\n\n" + body + "\n"
	}
	files["labsite.yaml"] = "name: Brindle Weir Film Lab\naddress: https://brindleweir.example\n"
	files["formulary/own.yaml"] = ownFormulas
	files["hazards.yaml"] = ownHazards
	files["one/index.md"] = page("One", "", "Text.")
	files["one/calls.md"] = callingPage
	files["one/draws.md"] = drawingPage
	files["two/links.md"] = page("Links", "order: 1\n", "See [the part](../three/parts.md#part).")
	files["two/plain.md"] = page("Plain", "order: 2\n", "Text.")
	files["two/shows.md"] = page("Shows", "order: 3\n", "![A shape](../shape.svg)")
	files["three/parts.md"] = page("Parts", "", "## Part\n\nText.")
	files["shape.svg"] = `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="20"/>`
	files["idle.csv"] = "a\n1\n"
	delete(files, "own.md")
	return files
}

// A change writes the files of the pages in which it shows again, and no others; the kept files of
// the others are what would be written.
func TestFilesWrittenAgain(t *testing.T) {
	files := dependentLab()
	pages := []string{"index", "one/index", "mix", "cost", "one/calls", "one/draws", "two/links", "two/plain", "two/shows", "three/parts"}
	edit := func(name, old, new string) func(write func(name, text string)) {
		if !strings.Contains(files[name], old) {
			t.Fatalf("%s lacks %s", name, old)
		}
		return func(write func(name, text string)) { write(name, strings.Replace(files[name], old, new, 1)) }
	}
	for _, x := range []struct {
		what   string
		change func(write func(name, text string))
		day    time.Time
		want   []string
	}{
		{"nothing", func(func(name, text string)) {}, aDay, nil},
		{"a data file", edit("times.csv", "slow,5", "slow,6"), aDay, []string{"mix", "cost"}},
		{"a data file that no page reads", edit("idle.csv", "1", "2"), aDay, nil},
		{"a bench formula that is called", edit("formulary/own.yaml", "volume / 2", "volume / 4"), aDay, []string{"one/calls", "one/draws"}},
		{"one that is not called", edit("formulary/own.yaml", "volume / 10", "volume * 0.1"), aDay, nil},
		{"a substance", edit("hazards.yaml", "[H317]", "[H314]"), aDay, pages},
		{"a heading more where a page links to one", edit("three/parts.md", "Text.", "Text.\n\n## Another part\n\nText."), aDay, []string{"two/links", "three/parts"}},
		{"the text below a linked heading", edit("three/parts.md", "Text.", "Other text."), aDay, []string{"three/parts"}},
		{"the lab's name", edit("labsite.yaml", "Film Lab", "Lab"), aDay, pages},
		{"the lab's address", edit("labsite.yaml", "brindleweir", "other"), aDay, pages},
		{"a theme", func(write func(name, text string)) {
			write("look/lab.css", "p { color: red }\n")
			write("labsite.yaml", files["labsite.yaml"]+"theme: look\n")
		}, aDay, pages},
		{"the day", func(func(name, text string)) {}, aDay.AddDate(0, 0, 1), nil},
		{"a neighbour's title", edit("two/plain.md", "title: Plain", "title: Simple"), aDay, []string{"index", "two/links", "two/plain", "two/shows"}},
		{"a section's title", edit("one/index.md", "title: One", "title: First"), aDay, pages},
		{"a page less", func(write func(name, text string)) { write("two/links.md", "") }, aDay, []string{"index", "two/plain", "two/shows"}},
		{"a page more", func(write func(name, text string)) { write("two/more.md", files["two/plain.md"]) }, aDay, []string{"index", "two/links", "two/more", "two/plain", "two/shows"}},
		{"a page drawn on", edit("mix.md", "tank / 2", "tank / 4"), aDay, []string{"mix", "cost"}},
		{"the title of a page drawn on", edit("one/calls.md", "title: Calls", "title: Called"), aDay, []string{"index", "one/calls", "one/draws", "one/index"}},
		{"a picture", edit("shape.svg", `height="20"`, `height="30"`), aDay, []string{"two/shows"}},
		{"whom a page is for", edit("two/plain.md", "customers", "staff"), aDay, []string{"index", "two/links", "two/shows"}},
	} {
		t.Run(x.what, func(t *testing.T) {
			dir, write := editableLab(t, files)
			cache := filepath.Join(t.TempDir(), "cache")
			_, before, _ := runOf(t, dir, cache, page.Customers, nil)
			x.change(write)
			store := OpenStore(cache, dir)
			s, list := Open(t.Context(), dir, Options{Day: x.day, Store: store})
			if s == nil {
				t.Fatal(told(list))
			}
			defer s.Close()
			to := &folder{old: before.files, files: map[string][]byte{}}
			if list, err := s.Publish(t.Context(), page.Customers, to); err != nil || list.Errors() > 0 || store.loaded == 0 {
				t.Fatal(err, told(list), store.loaded)
			}
			of := func(addresses []string) []string {
				var out []string
				for _, p := range s.Content.Pages {
					if stem := strings.TrimSuffix(p.Path, ".md"); slices.ContainsFunc(addresses, func(a string) bool { return strings.HasPrefix(a, stem+".") }) {
						out = append(out, stem)
					}
				}
				return out
			}
			want := slices.Sorted(slices.Values(x.want))
			if d := cmp.Diff(want, of(to.put)); d != "" {
				t.Errorf("written again (- want, + written):\n%s", d)
			}
			for _, stem := range of(to.kept) {
				if slices.Contains(want, stem) {
					t.Errorf("%s is kept as well", stem)
				}
			}
			sameFiles(t, "without what was kept", publishedOn(t, dir, page.Customers, x.day), to.files)
		})
	}
}

// The day on which a site is published is not in it, so that a phone that keeps it does not fetch
// all of it again each morning.
func TestSameSiteOnAnotherDay(t *testing.T) {
	dir := labOf(t, dependentLab())
	for _, a := range bothAudiences {
		sameFiles(t, string(a), publishedOn(t, dir, a, aDay), publishedOn(t, dir, a, aDay.AddDate(0, 0, 1)))
	}
}

// The published folder is compared with what is kept: a file that is gone or was changed is written
// again, and all others stay.
func TestMissingFilesAreWrittenAgain(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	_, first, _ := runOf(t, dir, cache, page.Customers, nil)
	n := 0
	for gone := range first.files {
		old := maps.Clone(first.files)
		delete(old, gone)
		if n%2 == 0 {
			old[gone] = []byte("changed")
		}
		n++
		_, again, said := runOf(t, dir, cache, page.Customers, old)
		if strings.Contains(said, "error") || !slices.Contains(again.put, gone) {
			t.Errorf("without %s put are %v, printed %s", gone, again.put, said)
		}
		sameFiles(t, "without "+gone, first.files, again.files)
	}
}

// Files published for one audience are never taken for the other's.
func TestFilesOfEachAudience(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	want := map[page.Audience]map[string][]byte{}
	for _, a := range bothAudiences {
		want[a] = published(t, dir, a)
	}
	for i := range 2 {
		for _, a := range bothAudiences {
			_, to, _ := runOf(t, dir, cache, a, want[a])
			sameFiles(t, fmt.Sprintf("run %d for %s", i, a), want[a], to.files)
			if kept := slices.Contains(to.kept, "mix.html"); kept != (i > 0) {
				t.Errorf("run %d for %s: the page is kept: %v", i, a, kept)
			}
		}
	}
}

// If two workers make a page at once, the first result stays, with the files that were written for
// it.
func TestOneResultForAPage(t *testing.T) {
	s, list := Open(t.Context(), labOf(t, keptLab), Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	p := s.Content.Page("mix.md")
	one, other := s.Desk(), s.Desk()
	first := s.Memory.Result(one, p)
	if second := s.Memory.Take(other, other.Make(p)); second != first || s.Memory.Stale(p.Path) != first {
		t.Error("the second result took the place of the first")
	}
}

// A check keeps what it found for the next publish, which still publishes every file, since the
// check wrote none.
func TestPublishAfterACheck(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	for _, a := range bothAudiences {
		want := published(t, dir, a)
		s, list := Open(t.Context(), dir, Options{Day: aDay, Store: OpenStore(cache, dir)})
		if s == nil {
			t.Fatal(told(list))
		}
		if list, err := s.Check(t.Context()); err != nil || list.Errors() > 0 {
			t.Fatal(err, told(list))
		}
		s.Close()
		_, to, _ := runOf(t, dir, cache, a, want)
		sameFiles(t, string(a), want, to.files)
		if len(to.put) > 0 {
			t.Errorf("%s: written again are %v", a, to.put)
		}
		if err := os.RemoveAll(cache); err != nil {
			t.Fatal(err)
		}
	}
}
