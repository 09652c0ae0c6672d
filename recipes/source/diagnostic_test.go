package source

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// The mark is under the place: tabs count as one space, and what an editor counts
// as one character is one here.
func TestExcerpt(t *testing.T) {
	for _, c := range []struct {
		name, text string
		start, end int
		line, mark string
	}{
		{"a word", "tank: 500mll", 6, 12, "tank: 500mll", "      ^^^^^^"},
		{"the first character", "x", 0, 1, "x", "^"},
		{"nothing, at the end", "abc", 3, 3, "abc", "   ^"},
		{"tabs", "\ttank:\t5mm", 7, 10, "→tank:→5mm", "       ^^^"},
		{"several bytes a character", "µé: µµ x", 5, 9, "µé: µµ x", "   ^^^"},
		{"wide characters", "名: 界 x", 5, 8, "名: 界 x", "   ^"},
		{"beyond the end of the line", "ab\ncd", 1, 5, "ab", " ^"},
		{"an empty line", "\n", 0, 0, "", ""},
		{"the second line", "ab\ncd", 4, 5, "cd", " ^"},
	} {
		f, _ := New("p.md", []byte(c.text))
		line, mark := fault("code", "message", "hint").At(f.Span(c.start, c.end)).Excerpt()
		if line != c.line || mark != c.mark {
			t.Errorf("%s:\n%q\n%q\nwant\n%q\n%q", c.name, line, mark, c.line, c.mark)
		}
	}
}

// Of a long line the part around the place is shown, with the mark still under it.
func TestExcerptOfLongLines(t *testing.T) {
	for _, at := range []int{0, 1, 100, 159, 160, 161, 5000, 9990, 9994} {
		text := strings.Repeat("é", at) + "HERE" + strings.Repeat("x", 9994-at)
		f, _ := New("p.md", []byte(text))
		start := 2 * at
		d := fault("code", "message", "hint").At(f.Span(start, start+4))
		line, mark := d.Excerpt()
		if n := utf8.RuneCountInString(line); n > 160 {
			t.Errorf("at %d the line has %d characters", at, n)
		}
		if utf8.RuneCountInString(mark) > utf8.RuneCountInString(line) {
			t.Errorf("at %d the mark is longer than its line", at)
		}
		from := strings.IndexByte(mark, '^')
		if from < 0 {
			t.Fatalf("at %d there is no mark: %q", at, mark)
		}
		under := string([]rune(line)[from : from+strings.Count(mark, "^")])
		if under != "HERE" {
			t.Errorf("at %d the mark is under %q", at, under)
		}
		if d.Column != at+1 {
			t.Errorf("column %d, want %d", d.Column, at+1)
		}
	}
	// a mark as wide as the line ends where the line ends
	f, _ := New("p.md", []byte(strings.Repeat("x", 5000)))
	line, mark := fault("code", "message", "hint").At(f.Span(0, 5000)).Excerpt()
	if len(mark) != len(line) || len(line) != 160 {
		t.Errorf("a line of %d, a mark of %d", len(line), len(mark))
	}
}

func TestDiagnosticString(t *testing.T) {
	f, _ := New("guides/mix.md", []byte("---\ntitle: x\nfigures:\n  water: tnak - 1 ml\n---\n"))
	start := strings.Index(f.Text, "tnak")
	d := UnknownName("tnak", "tank").At(f.Span(start, start+4))
	want := `guides/mix.md:4:10: error: there is no tnak on this page
  4 |   water: tnak - 1 ml
    |          ^^^^
  Did you mean tank?
`
	if diff := cmp.Diff(want, d.String()); diff != "" {
		t.Error(diff)
	}
	if got := (Diagnostic{File: "a", Line: 1, Column: 1, Severity: Report, Message: "m"}).String(); got != "a:1:1: report: m\n" {
		t.Errorf("without excerpt and hint: %q", got)
	}
	if got := FormulaEmpty().AtFile("a.md"); got.File != "a.md" || got.Line != 1 || got.Column != 1 || got.Code != "formula-empty" {
		t.Errorf("at a file: %+v", got)
	}
	if got := FormulaEmpty().At(Span{}); got.File != "" || got.Line != 0 || got.Code != "formula-empty" {
		t.Errorf("at no place: %+v", got)
	}
}

// The fields of the machine output, and no others.
func TestDiagnosticJSON(t *testing.T) {
	f, _ := New("a.md", []byte("x"))
	out, err := json.Marshal(fault("code", "message", "hint").At(f.Span(0, 1)))
	want := `{"file":"a.md","line":1,"column":1,"severity":"error","code":"code","message":"message","hint":"hint"}`
	if err != nil || string(out) != want {
		t.Errorf("got %s, %v", out, err)
	}
}

func TestList(t *testing.T) {
	at := func(file string, line, column int, code string, s Severity) Diagnostic {
		return Diagnostic{File: file, Line: line, Column: column, Code: code, Severity: s}
	}
	list := List{at("b", 1, 1, "x", Error), at("a", 2, 1, "x", Report), at("a", 1, 9, "y", Error), at("a", 1, 9, "x", Error), at("b", 1, 1, "x", Error), at("a", 10, 1, "x", Error)}
	var order []string
	for _, d := range list.Sorted() {
		order = append(order, d.File+strings.Repeat("'", d.Line)+d.Code)
	}
	want := []string{"a'x", "a'y", "a''x", "a''''''''''x", "b'x"}
	if diff := cmp.Diff(want, order); diff != "" {
		t.Error(diff)
	}
	if list[0].File != "b" {
		t.Error("sorting changed the list itself")
	}
	if list.Errors() != 5 || list.Firm().Errors() != 6 || list.Errors() != 5 {
		t.Errorf("%d errors, %d firmly", list.Errors(), list.Firm().Errors())
	}
}

// The hint for a bare number where a kind is wanted says how that kind is written.
func TestWantsKind(t *testing.T) {
	for want, hint := range map[string]string{
		"a time":             "Give it a unit, such as 30 s or 10 min, or look for a factor that is missing.",
		"a quantity in m²/s": "Put a quantity in m²/s here, or look for a factor too many or one that is missing.",
		"yes or no":          "Write a comparison, such as tank > 500 ml.",
	} {
		if p := WantsKind("for", want, "a plain number"); p.Hint != hint {
			t.Errorf("%s: %s", want, p.Hint)
		}
	}
}
