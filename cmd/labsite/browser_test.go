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
// browser` installs what they need and runs them. Every page of the staff's site is looked at in
// Chromium's headless shell (theShell); the customers' site, and what a reader does by hand, in
// Chromium itself.
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
//   - the same text without scripts, and a printed form within its sheet, on A4 and on Letter
//     (faultsWithoutScripts, faultsOfSheet, faultsOnPaper)
//   - every control moved, and the results that follow (faultsOfMoves, faultsOfLedger)

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
	inspections, faults := inspect(t, dir, other)
	for _, f := range faults {
		t.Error(f)
	}
	t.Logf("%d pages, %d faults", len(inspections), len(faults))
	if other != "" {
		return
	}
	var pages, tables, reasons, aligned, labels int
	for _, in := range inspections {
		if in.moved {
			pages++
		}
		tables += in.moves.Anew
		reasons += in.moves.Examples
		aligned += in.aligned
		if hasLabels(in.name) {
			labels++
		}
	}
	if pages < 20 || tables == 0 || reasons == 0 {
		t.Errorf("the controls of %d pages were moved, and %d tables written again, with %d reasons that name an example", pages, tables, reasons)
	}
	if aligned < 1000 || labels < 20 {
		t.Errorf("only %d numbers of results and %d pages of labels were looked at", aligned, labels)
	}
}

// inspect looks at every page of a folder, in as many tabs as there are workers.
func inspect(t *testing.T, dir, other string) (inspections []inspection, faults []fault) {
	t.Helper()
	names := pagesOf(t, dir)
	if len(names) == 0 {
		t.Fatalf("%s holds no page", dir)
	}
	faults = faultsOfMarkup(t, dir)
	for _, name := range names {
		inspections = append(inspections, inspection{
			name: name, seen: sameBody(t, dir, other, name), moved: other == "" && hasControls(t, dir, name)})
	}
	browser := theShell(t)
	if other != "" {
		browser = theChromium(t) // so that this has seen guides, fronts and lists too
	}
	// All from the disk, and then all from a server: between the two the browser changes the
	// process in which a page lives.
	inTabs(t, browser, dir, len(names), func(tab *tab, i int) { inspections[i].fromDisk(t, tab) })
	inTabs(t, browser, dir, len(names), func(tab *tab, i int) { inspections[i].fromServer(t, tab) })
	outlines := make([]outline, len(names))
	for i, in := range inspections {
		outlines[i] = in.outline
		faults = append(faults, in.faults...)
	}
	faults = append(faults, faultsOfLinks(dir, names, outlines)...)
	slices.SortFunc(faults, func(a, b fault) int { return strings.Compare(a.String(), b.String()) })
	return inspections, slices.Compact(faults)
}

// inspection is what is found of a page, apart from what was seen elsewhere.
type inspection struct {
	name    string
	seen    bool // in another folder
	moved   bool // its controls are, here and not elsewhere
	moves   moves
	aligned int // numbers of its results that were looked at
	outline outline
	faults  []fault
}

func (in *inspection) adder(look string) func(string) {
	return func(text string) { in.faults = append(in.faults, fault{in.name, look, text}) }
}

// briefly reports whether one look is enough, which tells of the links and the outline: the rest was
// looked at in full elsewhere.
func (in *inspection) briefly() bool { return alike(in.name) || in.seen }

// fromDisk looks at a page as a reader does who was handed the folder. The page for a missing
// address can only be asked of a server.
//
// A server shows every page in all looks. Each window is once the one in which the page is
// loaded, and once the one to which it is changed. What is for paper is set alike in every
// window, so it is looked at once in each.
func (in *inspection) fromDisk(t *testing.T, tab *tab) {
	if in.name == missingPage {
		return
	}
	looks := []look{phone.looks()[0], desk.looks()[1]}
	if in.briefly() || isForPaper(in.name) {
		looks = looks[:1]
	}
	var with textOf
	first := true
	tab.visit(t, tab.fileURL(in.name), looks, func(l look) {
		add := in.adder("from disk, " + l.name())
		tab.tell(add)
		if first {
			first = false
			in.outline = readOutline(t, tab)
			if !in.briefly() {
				faultsOfShift(t, tab, in.name, add)
				with = readText(t, tab)
			}
		}
		faultsOfLayout(t, tab, l, add)
	}, in.adder("from disk"))
	if in.moved {
		in.moves = faultsOfMoves(t, tab, in.adder("moved"))
		if !isForPaper(in.name) {
			in.aligned = faultsOfLedger(t, tab, in.adder("results"))
		}
	}
	if !in.briefly() {
		faultsWithoutScripts(t, tab, in.name, with, in.adder("without scripts"))
	}
}

// fromServer looks at a page as most readers do, asks what it says to those who cannot see it,
// and lays it out for paper.
func (in *inspection) fromServer(t *testing.T, tab *tab) {
	if in.briefly() {
		return
	}
	looks := slices.Concat(desk.looks(), phone.looks())
	if isForPaper(in.name) {
		looks = []look{desk.looks()[0], phone.looks()[0]}
	}
	first, asked := true, false
	tab.visit(t, tab.serverURL(in.name), looks, func(l look) {
		add := in.adder("from a server, " + l.name())
		tab.tell(add)
		if first {
			first = false
			faultsOfShift(t, tab, in.name, add)
			faultsOfLoading(t, tab, in.name, add)
			if in.name == missingPage {
				in.outline = readOutline(t, tab)
			}
		}
		faultsOfLayout(t, tab, l, add)
		if l.scheme != l.schemes[0] || isForPaper(in.name) && !l.phone {
			return
		}
		faultsOfColour(t, tab, in.adder(""))
		if asked {
			faultsOfAccessAgain(t, tab, in.adder(l.name()))
			return
		}
		asked = true
		faultsOfAccess(t, tab, allRules, in.adder(l.name()))
		ask[bool](t, tab, shown)
	}, in.adder("from a server"))
	faultsOfSheet(t, tab, in.name, in.adder("on paper"))
	faultsOnPaper(t, tab, in.name, in.adder("on paper"))
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

// sameBody reports whether a page of that name in another folder has the same <body>, to the byte, and
// loads all styles and scripts that this one loads, with the same bytes. Then the two differ in their
// heads alone, as where a page of the staff's site loads one script more, or in another order:
// whether that makes this page complain is told by the brief look at it.
func sameBody(t *testing.T, dir, other, name string) bool {
	t.Helper()
	if other == "" {
		return false
	}
	read := func(dir, name string) string {
		raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil && !os.IsNotExist(err) {
			t.Error(err)
		}
		return string(raw)
	}
	here, there := read(dir, name), read(other, name)
	_, body, _ := strings.Cut(here, "<body")
	if _, theirs, _ := strings.Cut(there, "<body"); body == "" || body != theirs {
		return false
	}
	for _, m := range loaded.FindAllStringSubmatch(here, -1) {
		file := path.Join(path.Dir(name), m[1])
		if !strings.Contains(there, m[0]) || read(dir, file) == "" || read(dir, file) != read(other, file) {
			return false
		}
	}
	return true
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
