//go:build browser

package main

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The tests with the build tag browser look at a published folder as its readers
// do: in a real Chromium, on a phone and on a desk, by day and in the dark, from
// the disk and from a server, with scripts and without, and on paper. `make
// browser` installs what they need and runs them.
//
// What is expected of a page, and by what it is judged:
//
//   - WCAG 2.2 level A and AA, as far as axe-core's rules tell, and its best
//     practices (faultsOfAccess)
//   - the HTML standard, as html-validate's recommended rules tell (faultsOfMarkup)
//   - reflow without scrolling in two directions (WCAG 2.2, 1.4.10), here at 390
//     and 1280 CSS pixels (faultsOfLayout), and a layout that stays where it is while the
//     page loads (faultsOfShift)
//   - no breach of the page's own content security policy, nothing on the console,
//     no request that fails or leaves the site (listen)
//   - every link leads to a file and a place in it that are there (faultsOfLinks)
//   - the same text without scripts, and a printed form within its sheet (faultsWithoutScripts,
//     faultsOfSheet, faultsOnPaper)

// fault is one thing that is wrong with a page.
type fault struct {
	page string // path relative to the folder
	look string // how it was looked at, "" if that makes no difference
	text string
}

func (f fault) String() string {
	if f.look == "" {
		return f.page + ": " + f.text
	}
	return fmt.Sprintf("%s (%s): %s", f.page, f.look, f.text)
}

// checkFolder fails the test for every fault of a published folder. Another folder, if there
// is one, is looked at in full elsewhere, so what is the same there is not looked at twice.
func checkFolder(t *testing.T, dir, other string) {
	t.Helper()
	pages, faults := inspect(t, dir, other)
	for _, f := range faults {
		t.Error(f)
	}
	t.Logf("%d pages, %d faults", pages, len(faults))
}

// inspect looks at every page of a folder, in as many tabs as there are workers.
func inspect(t *testing.T, dir, other string) (pages int, faults []fault) {
	t.Helper()
	names := pagesOf(t, dir)
	if len(names) == 0 {
		t.Fatalf("%s holds no page", dir)
	}
	faults = faultsOfMarkup(t, dir)
	outlines := make([]outline, len(names))
	found := make([][]fault, len(names))
	inTabs(t, dir, len(names), func(tab *tab, i int) {
		outlines[i], found[i] = inspectPage(t, tab, names[i], sameAs(t, dir, other, names[i]))
	})
	for _, f := range found {
		faults = append(faults, f...)
	}
	faults = append(faults, faultsOfLinks(dir, names, outlines)...)
	slices.SortFunc(faults, func(a, b fault) int { return strings.Compare(a.String(), b.String()) })
	return len(names), slices.Compact(faults)
}

// inspectPage does all that needs the page open, apart from what was seen elsewhere.
func inspectPage(t *testing.T, tab *tab, name string, seen same) (outline, []fault) {
	var faults []fault
	adder := func(look string) func(string) {
		return func(text string) { faults = append(faults, fault{name, look, text}) }
	}
	var o outline
	var with textOf
	read := false
	if alike(name) || seen == samePage {
		// one look tells of the links and the outline; the rest was looked at in full elsewhere
		tab.visit(t, tab.fileURL(name), phone.looks()[:1], func(l look) {
			o = readOutline(t, tab)
			faultsOfLayout(t, tab, l, adder("from disk, "+l.name()))
		}, adder("from disk"))
		return o, faults
	}

	// From the disk: what a reader has who was handed the folder. The page for a
	// missing address can only be asked of a server, which shows every page in all looks. Each
	// window is once the one in which the page is loaded, and once the one to which it is
	// changed. What is for paper is set alike in every window, so it is looked at once in each.
	fromDisk, fromServer := []look{phone.looks()[0], desk.looks()[1]}, slices.Concat(desk.looks(), phone.looks())
	if isForPaper(name) {
		fromDisk, fromServer = fromDisk[:1], []look{desk.looks()[0], phone.looks()[0]}
	}
	if name != missingPage {
		tab.visit(t, tab.fileURL(name), fromDisk, func(l look) {
			add := adder("from disk, " + l.name())
			tab.tell(add)
			if !read {
				faultsOfShift(t, tab, name, add)
				o, with, read = readOutline(t, tab), readText(t, tab), true
			}
			faultsOfLayout(t, tab, l, add)
		}, adder("from disk"))
		if seen != sameMain { // it compares the text of <main>
			faultsWithoutScripts(t, tab, name, with, adder("without scripts"))
		}
	}

	first, asked := true, false
	tab.visit(t, tab.serverURL(name), fromServer, func(l look) {
		add := adder("from a server, " + l.name())
		tab.tell(add)
		if first {
			first = false
			faultsOfShift(t, tab, name, add)
			faultsOfLoading(t, tab, name, add)
		}
		faultsOfLayout(t, tab, l, add)
		if !read {
			o, read = readOutline(t, tab), true
		}
		if l.scheme != l.schemes[0] || isForPaper(name) && !l.phone {
			return
		}
		faultsOfColour(t, tab, adder(""))
		part := "document"
		if seen == sameMain {
			part = "{exclude: ['main']}"
		}
		if asked {
			faultsOfAccessAgain(t, tab, part, adder(l.name()))
			return
		}
		asked = true
		faultsOfAccessIn(t, tab, part, allRules, adder(l.name()))
		ask[bool](t, tab, shown)
	}, adder("from a server"))
	if seen == sameMain {
		return o, faults // what is on paper is asked of <main> as well
	}
	faultsOfSheet(t, tab, name, adder("on paper"))
	faultsOnPaper(t, tab, adder("on paper"))
	return o, faults
}

// alike tells the pages of bench formulas, more than a hundred from one template, of
// which a few are looked at in full.
func alike(name string) bool {
	entry, ok := strings.CutPrefix(name, "bench-formulas/")
	switch entry {
	case "index.html", "outside.html", "time_at_temperature.html", "long_exposure.html":
		return false
	}
	return ok
}

// same is how much of a page is, to the byte, that of another folder.
type same int

const (
	sameNothing same = iota
	sameMain         // its <main>, with all styles and scripts
	samePage
)

// sameAs compares a page with the one of that name in another folder.
func sameAs(t *testing.T, dir, other, name string) same {
	t.Helper()
	if other == "" {
		return sameNothing
	}
	read := func(dir, name string) string {
		raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil && !os.IsNotExist(err) {
			t.Error(err)
		}
		return string(raw)
	}
	here, there := read(dir, name), read(other, name)
	main := func(text string) string {
		_, text, _ = strings.Cut(text, "<main")
		text, _, _ = strings.Cut(text, "</main>")
		return text
	}
	if main(here) == "" || main(here) != main(there) {
		return sameNothing
	}
	for _, m := range loaded.FindAllStringSubmatch(here, -1) {
		file := path.Join(path.Dir(name), m[1])
		if !strings.Contains(there, m[0]) || read(dir, file) == "" || read(dir, file) != read(other, file) {
			return sameNothing
		}
	}
	if here == there {
		return samePage
	}
	return sameMain
}

// loaded finds the styles and scripts that a page loads.
var loaded = regexp.MustCompile(`(?:src|href)="([^"]+\.(?:js|css))"`)

// pagesOf names the HTML files of a folder, with forward slashes.
func pagesOf(t *testing.T, dir string) []string {
	t.Helper()
	var names []string
	err := filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(at) != ".html" {
			return err
		}
		rel, err := filepath.Rel(dir, at)
		names = append(names, filepath.ToSlash(rel))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// toolFile is a file of what npm has laid.
func toolFile(t *testing.T, name string) string {
	t.Helper()
	at, err := filepath.Abs(filepath.Join("testdata", "tools", "node_modules", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(at); err != nil {
		t.Fatalf("%v: run `make tools` first", err)
	}
	return at
}
