package hazard

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"labsite/recipes/source"
)

func read(t testing.TB, text string) (*OwnSheets, source.List) {
	t.Helper()
	file, list := source.New(OwnFile, []byte(text))
	own, more := ReadOwn(file)
	if own == nil {
		t.Fatal("no sheets at all")
	}
	return own, append(list, more...)
}

const shelf = `# what stands on the shelf
precautionary: clp
reviewed:
  - {name: pyrogallol, by: process lead, date: 2026-10-01}
substances:
  - name: Shelf bath Ä
    synonyms: [bath a]
    cas: 123-31-9
    formula: C6H6O2
    molar_mass: 110.11
    contains: [hydroquinone, sodium sulphite]
    statements: [H317, H318, H412]
    signal_word: Danger
    pictograms: [GHS05, GHS07]
    advice: {gloves: "nitrile, long cuff", eyes: goggles}
    remarks:
      - Never heat it.
    keep_apart: [acids, oxidisers]
    waste: organic-developer
    sheet:
      author: Example Supplies
      date: 2024-08-31
      edition: 3
      review: 18 months
    reviewed: {by: shop owner, date: 2026-09-01}
  - name: Rinse aid
    statements: []
    sheet: {author: Example Supplies, date: 2026-01-15}
`

func TestReadOwn(t *testing.T) {
	own, list := read(t, shelf)
	if len(list) > 0 {
		t.Fatalf("%v", list)
	}
	if n := len(own.Substances()); n != 2 {
		t.Fatalf("%d substances", n)
	}
	s, _ := own.Find("SHELF BATH ä")
	if s == nil || s.Sheet == nil || s.Sheet.Author != "Example Supplies" || s.Sheet.Edition != "3" || s.Advice.Gloves != "nitrile, long cuff" {
		t.Fatalf("%+v", s)
	}
	if due := s.Sheet.Due.Format(time.DateOnly); due != "2026-02-28" {
		t.Errorf("18 months after 2024-08-31 is %s, want the last day of February", due)
	}
	if !slices.Equal(s.Contains, []string{"hydroquinone", "sodium-sulfite"}) {
		t.Errorf("contains %v", s.Contains)
	}
	if other, _ := own.Find("pyrogallol"); other == nil || other.ID != "pyrogallol" {
		t.Errorf("the list is lost: %v", other)
	}
	if _, near := own.Find("shelf bth ä"); near != "Shelf bath Ä" {
		t.Errorf("offers %q", near)
	}

	b := BlockFor([]Use{{Name: "bath a"}, {Name: "pyrogallol"}, {Name: "rinse aid"}, {Name: "citric acid"}}, own)
	it := b.Items[0]
	if it.Basis != "Safety data sheet of Example Supplies, 2024-08-31, edition 3" || it.Review != "reviewed by the shop owner on 2026-09-01" || !it.Signed {
		t.Errorf("%q, %q", it.Basis, it.Review)
	}
	if b.Items[1].Review != "reviewed by the process lead on 2026-10-01" {
		t.Errorf("pyrogallol: %s", b.Items[1].Review)
	}
	if b.Items[2].Review != NotReviewed || !strings.Contains(strings.Join(b.Items[2].Doubts, " "), "Its sheet gives no hazard statement. That does not mean that it is harmless.") {
		t.Errorf("rinse aid: %+v", b.Items[2])
	}
	// Only what the sheet says is shown: nothing of hydroquinone's H351 or H341.
	if got := codes(it.Hazards); got != "H318 H317 H412" {
		t.Errorf("statements %s", got)
	}
	if ids(b.Meet) != "acid-sulfite" || !slices.Equal(b.Meet[0].Other, []string{"Shelf bath Ä"}) {
		t.Errorf("%+v", b.Meet)
	}
	if len(b.SheetWarnings) != 1 || !slices.Equal(b.SheetWarnings[0].From, []string{"acids", "oxidisers"}) {
		t.Errorf("%+v", b.SheetWarnings)
	}
	if got := strings.Join(b.Unknown, " "); !strings.Contains(got, "Rinse aid: no kind of waste is known") {
		t.Errorf("unknown: %s", got)
	}
	if got := named("Mix shelf bath ä with hydroquinone and borax.", []string{"bath a"}, own); got != "borax=borax" {
		t.Errorf("mentions: %s", got)
	}
	if got := named("Mix Shelf Bath Ä.", nil, own); got != "Shelf Bath Ä=own:shelf bath ä" {
		t.Errorf("mentions: %s", got)
	}
}

func TestOverdue(t *testing.T) {
	own, _ := read(t, shelf)
	for day, want := range map[string]string{
		"2026-02-28": "",
		"2026-03-01": "24:15 sheet-overdue",
		"2026-01-14": "28:45 sheet-not-yet",
		"2024-08-30": "22:13 sheet-not-yet 28:45 sheet-not-yet",
	} {
		d, _ := time.Parse(time.DateOnly, day)
		var got []string
		for _, p := range own.Overdue(d) {
			got = append(got, fmt.Sprintf("%d:%d %s", p.Line, p.Column, p.Code))
		}
		if g := strings.Join(got, " "); g != want {
			t.Errorf("%s: %q, want %q", day, g, want)
		}
	}
	if (*OwnSheets)(nil).Overdue(time.Now()) != nil {
		t.Error("a shop without sheets has overdue ones")
	}
}

// Each fault at its place: the mark ^ under the line names the code.
func TestFaultsHaveTheirPlace(t *testing.T) {
	const sheet = "\n    sheet: {author: a, date: 2026-01-01}\n"
	for _, text := range []string{
		"substance: []\n^ sheet-unknown-key",
		"precautionary: un\n               ^ sheet-choice",
		"substances: {}\n            ^ sheet-shape",
		"- a\n^ front-matter-map",
		"substances:\n  - 5\n    ^ sheet-shape",
		"substances:\n  - name: Ä\n    statements: [H999]\n                 ^ sheet-unknown-code" + sheet,
		"substances:\n  - name: Ä\n    statements: [H302, 'H3O2']\n                        ^ sheet-unknown-code" + sheet,
		"substances:\n  - name: x\n    statements: [H302]\n    signal_word: Caution\n                 ^ sheet-choice" + sheet,
		"substances:\n  - name: x\n    statements: [H314]\n    signal_word: Warning\n                 ^ sheet-word-low" + sheet,
		"substances:\n  - name: x\n    statements: [H314]\n    signal_word: none\n                 ^ sheet-word-low" + sheet,
		"substances:\n  - name: x\n    statements: [H314]\n    pictograms: [GHS07]\n                ^ sheet-pictograms-low" + sheet,
		"substances:\n  - name: x\n    statements: [H302]\n    pictograms: [GHS07, GHS10]\n                        ^ sheet-unknown-code" + sheet,
		"substances:\n  - name: x\n    statements: [H302]\n    precautionary: [P280, P999]\n                          ^ sheet-unknown-code" + sheet,
		"substances:\n  - name: x\n    statements: []\n    cas: 123-31-8\n         ^ sheet-cas-digit" + sheet,
		"substances:\n  - name: x\n    statements: []\n    cas: 12331-9\n         ^ sheet-cas-shape" + sheet,
		"substances:\n  - name: x\n    statements: []\n    formula: Na2Xx3\n             ^ sheet-formula" + sheet,
		"substances:\n  - name: x\n    statements: []\n    formula: KBr\n    molar_mass: 120\n                ^ sheet-mass-differs" + sheet,
		"substances:\n  - name: x\n    statements: []\n    molar_mass: 119\n                ^ sheet-mass-alone" + sheet,
		"substances:\n  - name: x\n    statements: []\n    contains: [pyrogallol, pyrogalol]\n                           ^ unknown-substance" + sheet,
		"substances:\n  - name: x\n    statements: []\n    waste: organic\n           ^ sheet-unknown-waste" + sheet,
		"substances:\n  - name: x\n    statements: []\n    advise: {}\n    ^ sheet-unknown-key" + sheet,
		"substances:\n  - name: x\n    statements: []\n    note: a\n    note: b\n    ^ repeated-key" + sheet,
		"substances:\n  - name: x\n    ^ sheet-missing\n    statements: []\n",
		"substances:\n  - name: x\n    ^ sheet-missing" + sheet,
		"substances:\n  - statements: []\n    ^ sheet-missing" + sheet,
		"substances:\n  - name: x\n    statements: []\n    sheet: {date: 2026-01-01}\n           ^ sheet-missing\n",
		"substances:\n  - name: x\n    statements: []\n    sheet: {author: a}\n           ^ sheet-missing\n",
		"substances:\n  - name: x\n    statements: []\n    sheet: {author: a, date: 1.1.2026}\n                             ^ sheet-day\n",
		"substances:\n  - name: x\n    statements: []\n    sheet: {author: a, date: 2026-02-30}\n                             ^ sheet-day\n",
		"substances:\n  - name: x\n    statements: []\n    sheet:\n      author: a\n      date: 2026-02-01\n      review: yearly\n              ^ sheet-period\n",
		"substances:\n  - name: Ä ö\n    statements: []\n    synonyms: [ü, \"Ä  Ö\"]\n                   ^ sheet-name-twice" + sheet,
		"substances:\n  - name: x\n    statements: []\n    reviewed: {by: a}\n              ^ sheet-missing" + sheet,
		"reviewed:\n  - {name: pyrogalol, by: a, date: 2026-01-01}\n           ^ unknown-substance",
		"reviewed:\n  - name: borax\n    by: a\n    date: 2026-01-01\n  - name: 1303-96-4\n          ^ sheet-name-twice\n    by: a\n    date: 2026-01-01",
		"note: 'a\n      ^ not-closed",
		"a: b\n--- \nc: d\n^ bad-yaml",
	} {
		var lines, want []string
		for line := range strings.SplitSeq(text, "\n") {
			if mark := strings.TrimLeft(line, " "); strings.HasPrefix(mark, "^ ") {
				want = append(want, fmt.Sprintf("%d:%d %s", len(lines), len(line)-len(mark)+1, mark[2:]))
				continue
			}
			lines = append(lines, line)
		}
		_, list := read(t, strings.Join(lines, "\n"))
		var got []string
		for _, d := range list {
			got = append(got, fmt.Sprintf("%d:%d %s", d.Line, d.Column, d.Code))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s\n got %v\nwant %v", strings.Join(lines, "\n"), got, want)
		}
	}
}

// Half a signature signs nothing.
func TestHalfASignature(t *testing.T) {
	own, _ := read(t, "reviewed:\n  - {name: borax, by: process lead}\n")
	if b := BlockFor([]Use{{Name: "borax"}}, own); b.Items[0].Signed || b.Items[0].Review != NotReviewed {
		t.Errorf("%+v", b.Items[0])
	}
}

// A sheet whose label is weaker than its statements require is raised to that.
func TestWeakLabelIsRaised(t *testing.T) {
	own, list := read(t, "substances:\n  - name: x\n    statements: [H314, H302]\n    signal_word: Warning\n    pictograms: []\n    sheet: {author: a, date: 2026-01-01}\n"+
		"  - name: y\n    statements: [H272]\n    signal_word: Warning\n    pictograms: [GHS03]\n    sheet: {author: a, date: 2026-01-01}\n"+
		"  - name: z\n    statements: [H228]\n    sheet: {author: a, date: 2026-01-01}\n")
	if len(list) != 2 || list.Errors() != 0 {
		t.Errorf("%v", list)
	}
	for name, want := range map[string]string{"x": "Danger GHS05 GHS07", "y": "Warning GHS03", "z": "Danger GHS02"} {
		b := BlockFor([]Use{{Name: name}}, own)
		if got := b.SignalWord + " " + symbols(b); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
		if b.Hazards[0].SignalWord != b.SignalWord {
			t.Errorf("%s: the statement is %q in a block that is %q", name, b.Hazards[0].SignalWord, b.SignalWord)
		}
	}
}

// The shop's own row takes precedence over the list's of the same name.
func TestSheetOverrulesTheList(t *testing.T) {
	own, list := read(t, "substances:\n  - name: sulfuric acid\n    statements: [H290, H314]\n    precautionary: [P280]\n    sheet: {author: a, date: 2026-01-01}\n")
	if len(list) != 0 {
		t.Fatal(list)
	}
	b := BlockFor([]Use{{"Sulphuric acid", share100(5)}}, own)
	if codes(b.Hazards) != "H314 H290" || len(b.Precautions) != 1 || len(b.Precautions[0].Items) != 1 || b.Precautions[0].Items[0].Code != "P280" {
		t.Errorf("%s %+v", codes(b.Hazards), b.Precautions)
	}
}

func TestWhichPrecautionsAreLaw(t *testing.T) {
	own, _ := read(t, "precautionary: un-rev-10\n")
	for _, c := range []struct {
		own       *OwnSheets
		has, hasn string
	}{{nil, "P310", "P316"}, {own, "P316", "P310"}} {
		var all []string
		for _, g := range BlockFor([]Use{{Name: "lye"}}, c.own).Precautions {
			for _, p := range g.Items {
				all = append(all, p.Code)
			}
		}
		if !slices.Contains(all, c.has) || slices.Contains(all, c.hasn) {
			t.Errorf("%v", all)
		}
	}
}

func TestUnlistedPrecautionsAreReported(t *testing.T) {
	own, _ := read(t, "substances:\n  - name: can\n    statements: [H222]\n    sheet: {author: a, date: 2026-01-01}\n")
	if got := strings.Join(BlockFor([]Use{{Name: "can"}}, own).Unknown, " "); !strings.Contains(got, "no text for P211, P251 and P410+P412") {
		t.Error(got)
	}
}

func TestHostileFiles(t *testing.T) {
	for name, text := range map[string]string{
		"brackets": strings.Repeat("[", 4000),
		"braces":   strings.Repeat("{a: ", 1000),
		"dashes":   strings.Repeat("- ", 2000),
		"indents": func() string {
			var b strings.Builder
			for i := range 1000 {
				b.WriteString(strings.Repeat(" ", i) + "a:\n")
			}
			return b.String()
		}(),
		"marks":   strings.Repeat("? ", 2000),
		"large":   strings.Repeat("# a comment\n", 100000),
		"bangs":   strings.Repeat("!a ", 1300),
		"anchors": strings.Repeat("&a ", 1300),
		"line":    strings.Repeat("[", 100000),
		"lines":   strings.Repeat("a: b\n", 3000),
		"items":   strings.Repeat("- a: &b c\n", 3000),
		"quotes":  strings.Repeat("- 'a''\n", 3000),
		"colons":  strings.Repeat("a: ", 1300),
		"empty":   "",
		"comment": "# nothing\n",
		"null":    "~\n",
	} {
		own, list := read(t, text)
		if len(own.Substances()) > 0 || (len(list) == 0) != (name == "empty" || name == "comment") {
			t.Errorf("%s: %v, %v", name, own.Substances(), list)
		}
	}
}

func TestPeriods(t *testing.T) {
	from := time.Date(2024, 1, 31, 0, 0, 0, 0, time.UTC)
	for text, want := range map[string]string{
		"1 month": "2024-02-29", "12 months": "2025-01-31", "1 year": "2025-01-31", "49 months": "2028-02-29",
		"30 days": "2024-03-01", "2 weeks": "2024-02-14", "13 months": "2025-02-28",
	} {
		if got, ok := after(from, text); !ok || got.Format(time.DateOnly) != want {
			t.Errorf("%s after %s: %s, want %s", text, from.Format(time.DateOnly), got.Format(time.DateOnly), want)
		}
	}
	for _, text := range []string{"", "1", "0 months", "1.5 years", "-1 month", "12months", "1 fortnight"} {
		if _, ok := after(from, text); ok {
			t.Errorf("%q passes", text)
		}
	}
}

// The keys in the package comment are the keys that are read.
func TestDocumentedKeys(t *testing.T) {
	raw, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var example strings.Builder
	for line := range strings.Lines(string(raw)) {
		if strings.HasPrefix(line, "//\t") {
			example.WriteString(strings.TrimPrefix(line, "//\t"))
		}
	}
	own, list := read(t, example.String())
	if len(list) != 0 || len(own.Substances()) != 1 || len(own.reviews) != 2 {
		t.Errorf("%v %v", own, list)
	}
	for _, key := range ownSubstance.Known() {
		if !strings.Contains(example.String(), key+":") {
			t.Errorf("%s is not documented", key)
		}
	}
}

func FuzzReadOwn(f *testing.F) {
	f.Add(shelf)
	f.Add("a: [b, {c: d}]\n- e")
	f.Add("substances:\n  - name: |\n      a\n    cas: \"1\\\n    2\"")
	f.Add("? a\n: b\n<<: *c\n!!x y")
	f.Add("\t- é: \"\\u00e9\"\n...\n---\n%TAG ! x")
	f.Fuzz(func(t *testing.T, text string) {
		file, _ := source.New(OwnFile, []byte(text))
		own, list := ReadOwn(file)
		if own == nil {
			t.Fatal("nothing is returned")
		}
		for _, d := range list {
			if d.Line < 1 || d.Line > file.Lines() || d.Column < 1 || d.Column > len([]rune(file.Line(d.Line)))+1 {
				t.Fatalf("%d:%d is not in the file: %s", d.Line, d.Column, d.Message)
			}
			d.Excerpt()
		}
		own.Overdue(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		for _, s := range own.Substances() {
			b := BlockFor([]Use{{Name: s.Name}}, own)
			if len(b.Bounds) == 0 {
				t.Fatalf("%q looks safe", s.Name)
			}
		}
		NewLookout(nil, own).NamedInText(text)
	})
}
