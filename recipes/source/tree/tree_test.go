package tree

import (
	"strings"
	"testing"

	"labsite/recipes/source"
)

func parse(t testing.TB, text string) (*Value, source.List) {
	t.Helper()
	f, _ := source.New("a.yaml", []byte(text))
	return Parse(f, 0, len(f.Text))
}

func TestScalarsAsWritten(t *testing.T) {
	v, list := parse(t, "number: 014\nshare: 1_000\nyes: on\nday: 2026-09-30\ntext: \"a: b\"\nnothing:\n")
	if len(list) > 0 {
		t.Fatal(list)
	}
	for key, want := range map[string]string{"number": "014", "share": "1_000", "yes": "on", "day": "2026-09-30", "text": "a: b"} {
		if got := v.Get(key); got == nil || got.Shape != Scalar || got.Text != want {
			t.Errorf("%s: %+v", key, got)
		}
	}
	if v.Get("nothing").Shape != Nothing || v.Get("missing") != nil {
		t.Error("a key without a value and a missing key are mixed up")
	}
}

// Each byte of a scalar has its place, in every style.
func TestPlaces(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"plain", "a: tank * strength\n"},
		{"plain with wide letters", "µ: über tank\n"},
		{"double quotes", "a: \"x, tank\"\n"},
		{"an escape before", "a: \"x \\u00e4 tank\"\n"},
		{"single quotes doubled", "a: 'it''s tank'\n"},
		{"flow", "a: {b: [1, tank]}\n"},
		{"a literal block", "a: |\n  let b = 1;\n  tank * b\n"},
		{"a folded block", "a: >\n  first line\n  tank\n"},
		{"below a comment", "# first\na: 1 # one\nb: tank\n"},
	} {
		v, list := parse(t, c.text)
		if len(list) > 0 {
			t.Errorf("%s: %v", c.name, list)
			continue
		}
		seen := false
		walk(v, func(s *Value) {
			at := strings.Index(s.Text, "tank")
			if s.Shape != Scalar || at < 0 {
				return
			}
			seen = true
			if span := s.Place(at, at+4); span.Text() != "tank" {
				t.Errorf("%s: the place holds %q", c.name, span.Text())
			}
		})
		if !seen {
			t.Errorf("%s: not found", c.name)
		}
	}
}

func walk(v *Value, see func(*Value)) {
	if v == nil {
		return
	}
	see(v)
	for _, k := range v.Keys {
		walk(k, see)
	}
	for _, i := range v.Items {
		walk(i, see)
	}
}

func TestFaults(t *testing.T) {
	for _, c := range []struct {
		text, code   string
		line, column int
	}{
		{"a: 1\na: 2\n", "repeated-key", 2, 1},
		{"a: {b: 1, b: 2}\n", "repeated-key", 1, 11},
		{"a: {b: max(1, 2)}\n", "quote-for-yaml", 1, 13},
		{"a: tank: 2\n", "quote-for-yaml", 1, 8},
		{"a: [1, 2\nb: 3\n", "not-closed", 1, 4},
		{"<<: {a: 1}\n", "no-merge-key", 1, 1},
		{"[a]: 1\n", "quote-for-yaml", 1, 1},
		{"- a\n", "front-matter-map", 1, 1},
		{"a: *b\n", "quote-for-yaml", 1, 4},
		{"a: !b\n", "quote-for-yaml", 1, 4},
		{"a: !b c\n", "quote-for-yaml", 1, 4},
		{"a: " + strings.Repeat("[", 1000), "front-matter-too-large", 1, 68},
	} {
		_, list := parse(t, c.text)
		found := false
		for _, d := range list {
			found = found || d.Code == c.code && d.Line == c.line && d.Column == c.column
		}
		if !found {
			t.Errorf("%q: %v", c.text, list)
		}
	}
}

// A file whose anchors double at each step is read no further than the bound.
func TestDoublingAnchors(t *testing.T) {
	text := "a: &a [x, x, x, x, x, x, x, x]\n"
	for name := 'b'; name <= 'j'; name++ {
		before := string(name - 1)
		text += string(name) + ": &" + string(name) + " [" + strings.Repeat("*"+before+", ", 7) + "*" + before + "]\n"
	}
	if _, list := parse(t, text); list.Errors() == 0 {
		t.Error("no bound")
	}
}

func FuzzParse(f *testing.F) {
	f.Add("a: \"x\\n\\\"y\"\nb: 'it''s'\nc: |\n  d\n  e\nf: {g: [h, i], j: k}\n")
	f.Add("? a\n: b\n- c\n")
	f.Add("a: &x 1\nb: *x\n")
	f.Fuzz(func(t *testing.T, text string) {
		file, _ := source.New("a.yaml", []byte(text))
		findFaults(file, 0, len(file.Text)) // outside Parse, which catches a panic
		v, list := Parse(file, 0, len(file.Text))
		if v == nil && len(list) == 0 {
			t.Error("neither a value nor a report")
		}
		walk(v, func(s *Value) {
			if s.Shape != Scalar {
				return
			}
			for i := range len(s.Text) {
				if span := s.Place(i, i+1); span.Start < 0 || span.End < span.Start || span.End > len(file.Text)+1 {
					t.Fatalf("%q: %d is at %d to %d of %d", s.Text, i, span.Start, span.End, len(file.Text))
				}
			}
		})
	})
}
