package approval

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// lab is an invented page that draws on another one, calls a bench formula and reads a file.
func lab() *Record {
	return &Record{
		Number: "X-001", Revision: 1, Page: "mixing/fix.md", Title: "Fixer", By: "shop owner", Owner: "process lead", Approved: "2026-09-30", Recorded: "2026-10-01",
		Numbers: []Number{{Name: "salt", Shown: "200 g"}, {Name: "dip", Shown: "4 min"}, {Name: "grid: dip at Bath 20 °C", Shown: "4 min", Of: "dip", Table: "grid"}, {Name: "aged", Moves: "with the day"}},
		Over:    []Over{{Name: "salt", Cases: 10, Sum: "a"}},
		Limits:  []string{"refuse when tank > 2 l: Too much."}, Cautions: []string{"WARNING: Wear gloves."},
		Steps: []string{"Fix; for dip"}, Text: []string{"Fixer", "Stir until clear."}, Checks: []string{"salt is 200 g"},
		Pages: []Page{
			{Path: "mixing/fix.md", Given: []Given{{Name: "tank", Value: "1 l", From: "500 ml", To: "2 l"}, {Name: "strength", Value: "200 g/l"}},
				Figures: []Figure{{Name: "salt", Formula: "tank * strength"}, {Name: "dip", Formula: "slower(film.base, lookup(times.more, times.film, 'slow'))"}},
				Draws:   []Draw{{Name: "film", Page: "film.md", At: []Figure{{Name: "batch", Formula: "tank"}}}}, Data: []Data{{Name: "times", File: "mixing/times.csv"}}},
			{Path: "film.md", Given: []Given{{Name: "batch", Value: "1 l"}, {Name: "pace", Value: "2 min/l"}}, Figures: []Figure{{Name: "base", Formula: "batch * pace"}}},
		},
		Bench:   []Bench{{Name: "slower(a, b)", Formula: "a + b"}},
		Sources: []Source{{Path: "mixing/fix.md", Lines: []string{"---", "---", ""}}, {Path: "mixing/times.csv", Lines: []string{"film,more [min],note", "slow,2,x", "fast,1,y"}}},
	}
}

func TestARecordIsReadAsItWasWritten(t *testing.T) {
	raw, err := Encode(lab())
	if err != nil {
		t.Fatal(err)
	}
	back, err := Decode(raw)
	if err != nil {
		t.Fatal(err)
	}
	again, _ := Encode(back)
	if string(raw) != string(again) {
		t.Errorf("it is written differently the second time:\n%s", again)
	}
	if !strings.Contains(string(raw), `    {"name": "salt", "shown": "200 g"},`+"\n") {
		t.Errorf("a number is not on a line of its own:\n%s", raw)
	}
	if _, err := Decode([]byte(strings.ReplaceAll(string(raw), "\n", "\n\n"))); err != nil {
		t.Errorf("reformatted, it is refused: %v", err)
	}
}

func TestAnEditedRecordIsFound(t *testing.T) {
	raw, _ := Encode(lab())
	for name, edit := range map[string]func(string) string{
		"a number":      func(s string) string { return strings.Replace(s, "200 g", "300 g", 1) },
		"the day":       func(s string) string { return strings.Replace(s, "2026-09-30", "2026-09-29", 1) },
		"a line":        func(s string) string { return strings.Replace(s, `"Stir until clear."`, `"Stir."`, 1) },
		"a source":      func(s string) string { return strings.Replace(s, "slow,2,x", "slow,3,x", 1) },
		"the digest":    func(s string) string { return strings.Replace(s, "sha256 ", "sha256 0", 1) },
		"a key more":    func(s string) string { return strings.Replace(s, `"number"`, `"also": "x", "number"`, 1) },
		"half of it":    func(s string) string { return s[:len(s)/2] },
		"more after it": func(s string) string { return s + "{}" },
		"nothing":       func(string) string { return "" },
		"another file":  func(string) string { return "{}" },
	} {
		if _, err := Decode([]byte(edit(string(raw)))); !errors.Is(err, ErrEdited) && !errors.Is(err, ErrForm) {
			t.Errorf("%s: it is accepted: %v", name, err)
		}
	}
}

func TestWhereARecordLies(t *testing.T) {
	for number, want := range map[string]string{"G-001": "approved/G-001/3.json", "SOP 1/2": "approved/SOP%201%2F2/3.json", "..": "approved/%2E./3.json", ".x": "approved/%2Ex/3.json", "Ä": "approved/%C3%84/3.json"} {
		if got := Path(number, 3); got != want {
			t.Errorf("%s lies at %s, want %s", number, got, want)
		}
		if folder, revision, ok := Of(want); !ok || revision != 3 || !IsFor(folder, number) {
			t.Errorf("%s is not found again: %s %d %v", want, folder, revision, ok)
		}
	}
	for _, p := range []string{"approved/G-001/x.json", "approved/G-001/03.json", "approved/3.json", "approved/a/b/3.json", "pages/G-001/3.json", "approved/G-001/3.txt"} {
		if _, _, ok := Of(p); ok {
			t.Errorf("%s counts as a record", p)
		}
	}
}

// Each case changes one thing and says what is reported, with its causes.
func TestWhatDiffersAndWhy(t *testing.T) {
	number := func(r *Record, name, shown string) {
		for i := range r.Numbers {
			if r.Numbers[i].Name == name {
				r.Numbers[i].Shown = shown
			}
		}
	}
	for name, x := range map[string]struct {
		change func(r *Record)
		want   string
	}{
		"nothing":                  {func(r *Record) {}, ""},
		"spacing of a formula":     {func(r *Record) { r.Pages[0].Figures[0].Formula = "tank*strength" }, ""},
		"a unit spelled otherwise": {func(r *Record) { r.Pages[0].Given[0].To = "2 L" }, ""},
		"more digits":              {func(r *Record) { number(r, "dip", "4.0 min") }, "number dip: 4 min → 4.0 min because "},
		"what moves by itself":     {func(r *Record) { number(r, "aged", "3 day") }, ""},
		"a constant": {func(r *Record) { r.Pages[0].Given[1].Value = "210 g/l"; number(r, "salt", "210 g") },
			"number salt: 200 g → 210 g because strength is 210 g/l and was 200 g/l"},
		"a formula": {func(r *Record) { r.Pages[0].Figures[0].Formula = "tank * strength * 2"; number(r, "salt", "400 g") },
			"number salt: 200 g → 400 g because the formula of salt is tank * strength * 2 and was tank * strength"},
		"a formula without effect": {func(r *Record) { r.Pages[0].Figures[0].Formula = "strength * tank" },
			"formula salt: tank * strength → strength * tank because "},
		"how it is shown": {func(r *Record) { r.Pages[0].Figures[0].Show = "kg"; number(r, "salt", "0.2 kg") },
			"number salt: 200 g → 0.2 kg because salt is shown as kg and was shown as usual"},
		"a page drawn on": {func(r *Record) { r.Pages[1].Given[1].Value = "3 min/l"; number(r, "dip", "5 min") },
			"number dip: 4 min → 5 min because pace of film.md is 3 min/l and was 2 min/l"},
		"what is set there": {func(r *Record) { r.Pages[0].Draws[0].At[0].Formula = "2 * tank"; number(r, "dip", "6 min") },
			"number dip: 4 min → 6 min because the formula of film.batch is 2 * tank and was tank"},
		"its own value there, which is set": {func(r *Record) { r.Pages[1].Given[0].Value = "9 l"; number(r, "dip", "6 min") },
			"number dip: 4 min → 6 min because "},
		"a row": {func(r *Record) { r.Sources[1].Lines[1] = "slow,3,x"; number(r, "dip", "5 min") },
			"number dip: 4 min → 5 min because a row of times.csv is more [min] 3 at slow and was more [min] 2 at slow"},
		"a column that it does not read": {func(r *Record) { r.Sources[1].Lines[1] = "slow,2,z"; number(r, "dip", "5 min") },
			"number dip: 4 min → 5 min because "},
		"a bench formula": {func(r *Record) { r.Bench[0].Formula = "a * 2 + b"; number(r, "dip", "6 min") },
			"number dip: 4 min → 6 min because the bench formula slower has changed"},
		"a cell": {func(r *Record) { r.Pages[1].Given[1].Value = "3 min/l"; number(r, "grid: dip at Bath 20 °C", "5 min") },
			"number grid: dip at Bath 20 °C: 4 min → 5 min because pace of film.md is 3 min/l and was 2 min/l"},
		"a number more and one less": {func(r *Record) { r.Numbers[0] = Number{Name: "water", Shown: "1 l"} },
			"number water:  → 1 l because ; number salt: 200 g →  because "},
		"a range":   {func(r *Record) { r.Pages[0].Given[0].To = "3 l" }, "range tank: 500 ml .. 2 l → 500 ml .. 3 l because "},
		"a limit":   {func(r *Record) { r.Limits[0] = "refuse when tank > 3 l: Too much." }, "limit limit: refuse when tank > 2 l: Too much. → refuse when tank > 3 l: Too much. because "},
		"a caution": {func(r *Record) { r.Cautions = nil }, "caution caution: WARNING: Wear gloves. →  because "},
		"a step":    {func(r *Record) { r.Steps = append(r.Steps, "Wash") }, "step step:  → Wash because "},
		"a text":    {func(r *Record) { r.Text[1] = "Stir." }, "text text: Stir until clear. → Stir. because "},
		"a check":   {func(r *Record) { r.Checks = nil }, "check check: salt is 200 g →  because "},
	} {
		now := lab()
		x.change(now)
		var got []string
		for _, d := range Compare(lab(), now).OtherDifferences() {
			got = append(got, fmt.Sprintf("%s %s: %s → %s because %s", d.Kind, d.Name, d.Before, d.After, d.Because()))
		}
		if text := strings.Join(got, "; "); text != x.want {
			t.Errorf("%s:\ngot  %s\nwant %s", name, text, x.want)
		}
	}
}

func TestTextsThatMoveAndChange(t *testing.T) {
	for _, x := range []struct{ old, now, want string }{
		{"a b c", "a b c", ""},
		{"a b c", "a x c", "b→x"},
		{"a b c", "a c", "b→"},
		{"a c", "a b c", "→b"},
		{"a b", "x a b", "→x"},
		{"a b c d", "b c d a", "a→ →a"},
		{"", "a b", "→a →b"},
	} {
		var got []string
		for _, c := range changedLines(strings.Fields(x.old), strings.Fields(x.now)) {
			got = append(got, c.before+"→"+c.after)
		}
		if text := strings.Join(got, " "); text != x.want {
			t.Errorf("%s | %s: %s, want %s", x.old, x.now, text, x.want)
		}
	}
}

func TestValuesAlikeToAReader(t *testing.T) {
	for _, x := range []struct {
		a, b string
		want bool
	}{
		{"20 day", "20 days", true}, {"0 month", "0 months", true}, {"2 l", "2 L", true}, {"", "", true}, {"yes", "yes", true},
		{"20 day", "21 days", false}, {"5 ml", "5.0 ml", false}, {"1 min", "60 s", false}, {"5 ml", "", false}, {"no number", "5 ml", false},
	} {
		if got := alike(x.a, x.b); got != x.want {
			t.Errorf("%q and %q are alike: %v", x.a, x.b, got)
		}
	}
}
