package source

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestNewFile(t *testing.T) {
	for _, c := range []struct {
		name, raw, text string
		codes           []string // code at line:column
	}{
		{"plain", "a\nb\n", "a\nb\n", nil},
		{"byte-order mark", "\ufeffa\n", "a\n", nil},
		{"CRLF", "a\r\nb\r\n", "a\nb\n", nil},
		{"CR", "a\rb\r", "a\nb\n", nil},
		{"mixed", "a\r\nb\rc\nd\n\r", "a\nb\nc\nd\n\n", nil},
		{"tab stays", "a\tb", "a\tb", nil},
		{"NUL", "ab\n é\x00c", "ab\n é\ufffdc", []string{"control-character 2:3"}},
		{"delete sign", "a\x7f", "a\ufffd", []string{"control-character 1:2"}},
		{"escape sign", "\x1b[31m", "\ufffd[31m", []string{"control-character 1:1"}},
		{"no UTF-8", "a\nb\xff\xfec", "a\nb\ufffdc", []string{"not-utf8 2:2"}},
		{"both", "\xffa\x00", "\ufffda\ufffd", []string{"not-utf8 1:1", "control-character 1:3"}},
		{"a written replacement sign", "a\ufffdb", "a\ufffdb", nil},
		{"empty", "", "", nil},
	} {
		f, list := New("p.md", []byte(c.raw))
		if f.Text != c.text {
			t.Errorf("%s: text %q, want %q", c.name, f.Text, c.text)
		}
		var codes []string
		for _, d := range list {
			codes = append(codes, d.Code+" "+place(d))
		}
		if diff := cmp.Diff(c.codes, codes); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func place(d Diagnostic) string {
	return strings.TrimPrefix(strings.SplitN(d.String(), ": ", 2)[0], d.File+":")
}

func TestPlaces(t *testing.T) {
	f, _ := New("p.md", []byte("ab\nµé\n\nx"))
	for _, c := range []struct{ offset, line, column int }{
		{0, 1, 1}, {2, 1, 3}, {3, 2, 1}, {5, 2, 2}, {7, 2, 3}, {8, 3, 1}, {9, 4, 1}, {10, 4, 2}, {99, 4, 2}, {-5, 1, 1},
	} {
		if line, column := f.Place(c.offset); line != c.line || column != c.column {
			t.Errorf("offset %d is %d:%d, want %d:%d", c.offset, line, column, c.line, c.column)
		}
	}
	for n, want := range []string{"", "ab", "µé", "", "x", ""} {
		if got := f.Line(n); got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
	}
	if f.Lines() != 4 || f.Offset(2) != 3 || f.Offset(0) != 0 || f.Offset(9) != 9 {
		t.Errorf("%d lines, line 2 at %d", f.Lines(), f.Offset(2))
	}
	if got := f.Span(3, 7).Text(); got != "µé" {
		t.Errorf("the span holds %q", got)
	}
	if got := f.Span(3, 7).Sub(2, 4).Text(); got != "é" {
		t.Errorf("its part holds %q", got)
	}
	if got := f.Span(-3, 900).Text(); got != f.Text {
		t.Errorf("a span beyond both ends holds %q", got)
	}
	if got := (Span{}).Text(); got != "" {
		t.Errorf("no span holds %q", got)
	}
}

// Line and column lead back to the offset, in any text.
func TestPlaceLeadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, _ := New("p.md", []byte(rapid.StringOf(rapid.RuneFrom([]rune("aµ界\n\r\t "))).Draw(t, "text")))
		at := rapid.IntRange(0, len(f.Text)).Draw(t, "at")
		for at > 0 && at < len(f.Text) && f.Text[at]&0xC0 == 0x80 {
			at--
		}
		line, column := f.Place(at)
		if got := f.Offset(line) + len(string([]rune(f.Line(line))[:column-1])); got != at {
			t.Fatalf("%d is %d:%d, which is %d", at, line, column, got)
		}
	})
}

// Reading never panics and always gives text that later stages can trust.
func FuzzFile(f *testing.F) {
	for _, s := range []string{"---\ntitle: a\n---\n", "\ufeffa\r\nb\r", "\x00\xff\xfe", "é\x7f"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		file, list := New("p.md", raw)
		if strings.ContainsAny(file.Text, "\r\x00\x7f") || strings.ToValidUTF8(file.Text, "") != file.Text {
			t.Fatalf("%q became %q", raw, file.Text)
		}
		for _, d := range list {
			_ = d.String()
			if d.Line < 1 || d.Line > file.Lines() || d.Column < 1 {
				t.Fatalf("%q: placed at %d:%d of %d lines", raw, d.Line, d.Column, file.Lines())
			}
		}
	})
}
