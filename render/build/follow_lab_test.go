package build

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/page"
	"labsite/render/search"
	"labsite/render/work"
)

// labFiles are files of a lab that many pages depend on, and pages that use them: each in its first
// and in other versions, "" for none. Everything in them is invented.
var labFiles = map[string][]string{
	"formulary/own.yaml": {ownFormulas,
		strings.Replace(ownFormulas, "volume / 2", "volume / 4", 1),
		strings.Replace(ownFormulas, "half_of(volume) * times", "volume * times", 1),
		strings.Replace(ownFormulas, "The half of it.", "One half of it.", 1),
		strings.Replace(ownFormulas, "  half_of:", "  halve_of:", 1),
		strings.Replace(ownFormulas, "to: 5 l", "to: 300 ml", 1),
		"# a line more\n" + ownFormulas,
		strings.Replace(ownFormulas, "volume / 2", "volume / (2", 1), ""},
	"formulary/more.yaml": {"", moreFormulas, strings.Replace(moreFormulas, "double_of", "half_of", 1)},
	"hazards.yaml": {ownHazards,
		strings.Replace(ownHazards, "[H317]", "[H314]", 1),
		strings.Replace(ownHazards, "name: Rinse aid", "name: Rinsing aid", 1),
		strings.Replace(ownHazards, "synonyms: [Bath Ä]", "synonyms: [Bath Ä, odd liquid]", 1),
		strings.Replace(ownHazards, "contains: [hydroquinone]", "contains: [borax]", 1),
		strings.Replace(ownHazards, "cas: 123-31-9", "note: ours", 1),
		strings.Replace(ownHazards, "review: 18 months", "review: 60 months", 1),
		strings.Replace(ownHazards, "statements: []", "statements: [", 1), ""},
	"labsite.yaml": {"name: Brindle Weir Film Lab\naddress: https://brindleweir.example\n",
		"name: Brindle Weir\naddress: https://brindleweir.example\ntheme: look\n",
		"units: us\nnotice: Ask at the counter.\n", "language: de\nhtml: true\naddress: https://other.example/lab/\n",
		"theme: looks\n", "name: [\n", ""},
	"look/lab.css":         {"body { color: black }\n", "body { color: grey }\n", ""},
	"look/neighbours.html": {"", "<p>Neighbours of our own</p>\n", "{{.Nothing}}\n", "{{\n"},
	"own/loud.MD":          {"", "---\ntitle: Loud\naudience: staff\n---\n"},
	"hazards.yml":          {"", "substances: []\n"},
	"own/calls.md":         {callingPage, strings.Replace(callingPage, "times_half(tank, 3)", "half_of(tank)", 1)},
	"own/draws.md":         {drawingPage},
	"own/places.md":        {placingPage, strings.Replace(placingPage, "half_of(tank)", "halve_of(tank)", 1), strings.Replace(placingPage, "half_of(tank)", "double_ov(tank)", 1)},
	"own/bath.md":          {bathPage, strings.Replace(bathPage, "Shelf bath", "Bath Ä", 1), strings.Replace(bathPage, "Shelf bath", "Rinsing aid", 1), strings.Replace(bathPage, "Shelf bath", "odd liquids", 1)},
	"own/names.md":         {namingPage},
	"own/plain.md":         {"---\ntitle: Plain\naudience: staff\ngiven:\n  tank: {value: 500 ml, source: measured here 2025-03-01, owner: process lead, review: 12 months}\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\n{part}\n"},
}

const (
	ownFormulas = `group: ours
formulas:
  half_of:
    sentence: The half of it.
    takes:
      volume: {label: Volume, kind: volume, above: 0 ml, to: 5 l}
    gives: volume
    formula: volume / 2
    source: measured here 2026-09-14
    checks:
      - {at: {volume: 200 ml}, expect: 100 ml ± 60 ml, source: measured here 2026-09-14}
  times_half:
    sentence: Several halves.
    takes:
      volume: {label: Volume, kind: volume, above: 0 ml, to: 9 l}
      times: {label: How often, kind: number, from: 1}
    gives: volume
    formula: half_of(volume) * times
    source: measured here 2026-09-14
    checks:
      - {at: {volume: 200 ml, times: 2}, expect: 300 ml ± 300 ml, source: measured here 2026-09-14}
  other_part:
    sentence: A tenth of it.
    takes:
      volume: {label: Volume, kind: volume, above: 0 ml}
    gives: volume
    formula: volume / 10
    source: measured here 2026-09-14
    checks:
      - {at: {volume: 200 ml}, expect: 20 ml, source: measured here 2026-09-14}
`
	moreFormulas = `group: ours
formulas:
  double_of:
    sentence: Twice as much.
    takes:
      volume: {label: Volume, kind: volume, above: 0 ml}
    gives: volume
    formula: volume * 2
    source: measured here 2026-09-14
    checks:
      - {at: {volume: 200 ml}, expect: 400 ml, source: measured here 2026-09-14}
`
	ownHazards = `substances:
  - name: Shelf bath
    synonyms: [Bath Ä]
    cas: 123-31-9
    contains: [hydroquinone]
    statements: [H317]
    sheet: {author: Example Supplies, date: 2025-08-31, review: 18 months}
  - name: Rinse aid
    statements: []
    sheet: {author: Example Supplies, date: 2026-01-15}
`
	callingPage = "---\ntitle: Calls\naudience: customers\ngiven:\n  tank: {label: Tank, value: 400 ml, from: 100 ml, to: 1 l}\nfigures:\n  much: {label: Much, formula: \"times_half(tank, 3)\"}\n---\n\n{much}\n"
	drawingPage = "---\ntitle: Draws\naudience: customers\ndraws_on: {calls: calls.md}\nfigures:\n  more: {label: More, formula: calls.much * 2}\n---\n\n{more}\n"
	placingPage = "---\ntitle: Places\naudience: customers\ngiven:\n  tank: {label: Tank, value: 400 ml, from: 100 ml, to: 1 l}\n---\n\nTake {half_of(tank)}.\n"
	bathPage    = "---\ntitle: Bath\naudience: customers\nsubstances: [Shelf bath]\ngiven:\n  tank: 500 ml\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\nMix {part} of hydroquinone, borax and Bath ä.\n"
	namingPage  = "---\ntitle: Names\naudience: customers\n---\n\nA drop of ri*nse* aid, or of [rin](calls.md)sing aid, or of an odd\nliquid.\n"
)

// A change of something that many pages depend on touches only those that could show it.
func TestChangeTouchesOnlyDependents(t *testing.T) {
	dir := t.TempDir()
	write := func(p, text string) {
		t.Helper()
		full := filepath.Join(dir, p)
		os.MkdirAll(filepath.Dir(full), 0o777)
		if text == "" {
			os.Remove(full)
		} else if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for p, versions := range labFiles {
		write(p, versions[0])
	}
	ctx := context.Background()
	s, list := Follow(ctx, dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	replace := func(p, old, new string) {
		t.Helper()
		raw, err := os.ReadFile(filepath.Join(dir, p))
		if err != nil || !strings.Contains(string(raw), old) {
			t.Fatal(p, err)
		}
		write(p, strings.Replace(string(raw), old, new, 1))
	}
	same := newComparer(t, s, dir)
	for i, x := range []struct {
		what, file, old, new string
		want                 []string
		// a page that is wrong meanwhile
		page, right, wrong string
	}{
		{"another value of a bench formula that another calls", "formulary/own.yaml", "volume / 2", "volume / 4", []string{"own/calls.md", "own/draws.md", "own/places.md"}, "", "", ""},
		{"its range", "formulary/own.yaml", "to: 5 l", "to: 4 l", []string{"own/calls.md", "own/draws.md", "own/places.md"}, "", "", ""},
		{"a bench formula that nobody calls", "formulary/own.yaml", "volume / 10", "volume * 0.1", nil, "", "", ""},
		{"what a bench formula says of itself", "formulary/own.yaml", "The half of it.", "Half of it.", nil, "", "", ""},
		{"a line more", "formulary/own.yaml", "group: ours\n", "# one\ngroup: ours\n", nil, "", "", ""},
		{"a bench formula that is not called any more", "formulary/own.yaml", "half_of(volume) * times", "volume * times", []string{"own/calls.md", "own/draws.md"}, "", "", ""},
		{"a bench formula that one was offered for", "formulary/more.yaml", "", moreFormulas, []string{"own/places.md"}, "own/places.md", "half_of(tank)", "double_ov(tank)"},
		{"what the hazards of a substance are", "hazards.yaml", "[H317]", "[H314]", nil, "", "", ""},
		{"another name of a substance", "hazards.yaml", "name: Rinse aid", "name: Rinsing aid", []string{"own/names.md"}, "", "", ""},
		{"a name that one was offered for", "hazards.yaml", "synonyms: [Bath Ä]", "synonyms: [Bath Ä, odd liquid]", []string{"own/bath.md", "own/names.md"}, "own/bath.md", "[Shelf bath]", "[odd liquids]"},
		{"what a mixture holds", "hazards.yaml", "contains: [hydroquinone]", "contains: [borax]", []string{"own/bath.md", "own/names.md"}, "", "", ""},
		{"the lab's name", "labsite.yaml", "name: Brindle Weir Film Lab", "name: Brindle Weir", nil, "", "", ""},
		{"the first units", "labsite.yaml", "name:", "units: us\nname:", nil, "", "", ""},
		{"the lab's theme", "labsite.yaml", "name:", "theme: look\nname:", nil, "", "", ""},
		{"a part of the theme", "look/neighbours.html", "", "<p>Neighbours of our own</p>\n", nil, "", "", ""},
	} {
		if x.page != "" {
			replace(x.page, x.right, x.wrong)
			s.Update([]string{x.page})
		}
		if err := s.Settle(ctx); err != nil {
			t.Fatal(err)
		}
		if x.old == "" {
			write(x.file, x.new)
		} else {
			replace(x.file, x.old, x.new)
		}
		c := s.Update([]string{x.file})
		var got []string
		for _, p := range s.site.Content.Pages {
			if s.site.Memory.Kept(looking(s), p) == nil {
				got = append(got, p.Path)
			}
		}
		if !slices.Equal(got, x.want) || c.Pages != len(x.want) || !slices.Contains(c.Files, x.file) {
			t.Errorf("%s: %d pages, files %v; to be worked out again:\n%s", x.what, c.Pages, c.Files, cmp.Diff(x.want, got))
		}
		audiences := bothAudiences
		if i%3 > 0 { // the staff's site holds a page for each built-in bench formula
			audiences = audiences[:1]
		}
		same.compare(x.what, audiences...)
		if x.page != "" {
			replace(x.page, x.wrong, x.right)
			s.Update([]string{x.page})
		}
	}
	// the day decides only reviews
	if err := s.Settle(ctx); err != nil {
		t.Fatal(err)
	}
	plain := s.site.Content.Page("own/plain.md")
	s.Turn(time.Date(2026, 2, 20, 0, 0, 0, 0, time.UTC))
	if s.site.Memory.Kept(looking(s), plain) != nil {
		t.Error("a page whose value is not overdue yet was left alone")
	}
	same.compare("a day before a review", bothAudiences...)
	if c := s.Turn(time.Date(2026, 2, 21, 0, 0, 0, 0, time.UTC)); c.Pages != 0 {
		t.Errorf("a day on which nothing falls due touches %d pages", c.Pages)
	}
	same.compare("a day later", bothAudiences...)
}

// The search of a followed site covers all pages, however many, and follows changes.
func TestSearchCoversAllPages(t *testing.T) {
	const n = 1100
	dir := t.TempDir()
	writeOne := func(i int, word string) {
		t.Helper()
		text := fmt.Sprintf("---\ntitle: Sheet %d\naudience: customers\n---\n\nThe word is %s.\n", i, word)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("sheet-%04d.md", i)), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for i := range n {
		writeOne(i, fmt.Sprintf("word%d", i))
	}
	s, list := Follow(context.Background(), dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	s.Work(5)
	entries := func() string {
		t.Helper()
		a, ok := s.Answer(page.Customers, search.File, true)
		if !ok {
			t.Fatal("there are no entries")
		}
		return string(a.Bytes)
	}
	text := entries()
	for i := range n {
		if !strings.Contains(text, fmt.Sprintf("The word is word%d.", i)) {
			t.Fatalf("sheet %d is not found", i)
		}
	}
	if held := s.desk.Count(); held > 3*s.desk.Keep {
		t.Errorf("%d pages are held in full", held)
	}
	writeOne(n-1, "another")
	s.Update([]string{fmt.Sprintf("sheet-%04d.md", n-1)})
	if text = entries(); !strings.Contains(text, "The word is another.") || strings.Contains(text, fmt.Sprintf("word%d.", n-1)) {
		t.Error("the search does not follow what was written")
	}
}

// A panic while a page is worked out is reported at that page; all others go on, and so does the
// page when it is worked out again.
func TestPanicIsReported(t *testing.T) {
	dir := t.TempDir()
	write := func(p, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, p), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	text := "---\ntitle: Page\naudience: customers\ngiven:\n  tank: {value: 500 ml, from: 100 ml, to: 1 l}\nfigures:\n  part: {label: Part, formula: \"concentrate_in(tank, 0.1)\"}\n---\n\n{part}\n"
	write("page.md", text)
	write("other.md", "---\ntitle: Other\naudience: customers\n---\n\nText.\n")
	s, list := Follow(context.Background(), dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	kept := s.site.Content.Formulas
	s.site.Content.Formulas = nil // whoever asks it for a bench formula panics
	s.Settle(context.Background())
	if a, _ := s.Answer(page.Customers, "page.html", true); a.List.Errors() == 0 || a.List[0].Code != "page-fails" || a.List[0].File != "page.md" || a.Bytes != nil {
		t.Errorf("reported:\n%s%s", told(a.List), a.Bytes)
	}
	if a, ok := s.Answer(page.Customers, "other.html", true); !ok || a.List.Errors() > 0 || !strings.Contains(string(a.Bytes), "Text.") {
		t.Errorf("the other page: %s", told(a.List))
	}
	s.site.Content.Formulas = kept
	write("page.md", text+"\nMore.\n")
	s.Update([]string{"page.md"})
	if a, _ := s.Answer(page.Customers, "page.html", true); a.List.Errors() > 0 || !strings.Contains(string(a.Bytes), "More.") {
		t.Errorf("the page afterwards: %s", told(a.List))
	}
}

// looking returns a desk that makes nothing.
func looking(s *Followed) *work.Desk {
	d := s.site.Desk()
	d.Looking = true
	return d
}
