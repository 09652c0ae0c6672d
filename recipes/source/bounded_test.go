package source

import (
	"fmt"
	"strings"
	"testing"
)

// A bounded list keeps the first of each file and severity, says at the first place that is
// left out how many there are, counts as many errors as before, and does not change when it is
// bounded again.
func TestBounded(t *testing.T) {
	var list List
	for f := range 30 {
		for i := range 150 {
			d := Diagnostic{File: fmt.Sprintf("p%02d.md", f), Line: i + 1, Column: 1, Severity: Error, Code: "c", Message: "m"}
			if f%3 == 0 {
				d.Severity = Report
			}
			list = append(list, d)
		}
	}
	errors := list.Errors()
	got := list.Sorted().Bounded()
	if got.Errors() != errors {
		t.Errorf("%d errors became %d", errors, got.Errors())
	}
	count := map[string]int{}
	for _, d := range got {
		count[d.Code+" "+string(d.Severity)]++
	}
	if count["c error"] != 991 || count["more-in-file error"] != 9 || count["more-in-all error"] != 1 || count["c report"] != 991 || count["more-in-all report"] != 1 {
		t.Errorf("kept %v", count)
	}
	for _, d := range got {
		if d.Code == "more-in-file" && (d.Line != MostInFile+1 || !strings.Contains(d.Message, "has 50 ")) {
			t.Errorf("at line %d it says %s", d.Line, d.Message)
		}
	}
	if again := got.Sorted().Bounded(); fmt.Sprint(again) != fmt.Sprint(got) || again.Errors() != errors {
		t.Error("bounding the list again changed it")
	}
	if few := list[:MostInFile].Bounded(); len(few) != MostInFile {
		t.Errorf("a short list became one of %d", len(few))
	}
}

// The place of an offset is counted in stretches on a long line, as on a short one.
func TestPlaceOnALongLine(t *testing.T) {
	text := "é\n" + strings.Repeat("aé界😀", 2000) + "\nend"
	f, _ := New("a.md", []byte(text))
	column := 0
	for i := range text {
		if column++; i > 0 && text[i-1] == '\n' {
			column = 1
		}
		if _, got := f.Place(i); got != column {
			t.Fatalf("offset %d is column %d, want %d", i, got, column)
		}
	}
}

// A control character gets longer when it is replaced. Places after it are counted in the new
// text, even if its own place was far out on a long line.
func TestPlaceBehindControlCharacters(t *testing.T) {
	f, list := New("x.md", []byte(strings.Repeat("a", 3*stretch)+strings.Repeat("\x01", stretch)+"b"))
	if len(list) != 1 || list[0].Column != 3*stretch+1 {
		t.Errorf("reported: %v", list)
	}
	if line, column := f.Place(len(f.Text) - 1); line != 1 || column != 4*stretch+1 {
		t.Errorf("the last character is at %d:%d", line, column)
	}
}
