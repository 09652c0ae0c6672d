package tree

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"labsite/recipes/source"
)

// bothWays reads the front matter of a page plainly and with the library; plainly is nil
// where the text is not plain.
func bothWays(text string) (plainly, library *Value, list source.List) {
	f, bad := source.New("x.md", []byte(text))
	if bad.Errors() > 0 {
		return nil, nil, bad
	}
	start := len("---\n")
	n := strings.Index(f.Text[start:], "\n---")
	end := start + n + 1
	if n < 0 || tooNested(f, start, end) != nil {
		return nil, nil, nil
	}
	line, _ := f.Place(start)
	plainly = readPlain(f, start, end)
	library, list = (&converter{file: f, offset: start, line: line}).readYAML(f.Text[start:end], nil)
	return plainly, library, list
}

// describe writes a value with all that the other stages can see of it, a line each.
func describe(v *Value, indent string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%d %q %d-%d %v, key %d-%d %v", indent, v.Shape, v.Text, v.Span.Start, v.Span.End, v.Flow, v.Key.Start, v.Key.End, v.Key.File != nil)
	if v.Shape == Scalar {
		for i := range len(v.Text) + 1 {
			at := v.Place(i, i)
			fmt.Fprintf(&b, " %d-%d", at.Start, at.End)
			if i < len(v.Text) {
				at = v.Place(i, i+1)
				fmt.Fprintf(&b, " %d-%d", at.Start, at.End)
			}
		}
	}
	b.WriteString("\n")
	for i, x := range v.Items {
		if v.Shape == Mapping {
			b.WriteString(describe(v.Keys[i], indent+"  key "))
		}
		b.WriteString(describe(x, indent+"  "))
	}
	return b.String()
}

// agree fails where a text that is plain is read otherwise by the library.
func agree(t *testing.T, text string) (isPlain bool) {
	t.Helper()
	plainly, library, list := bothWays(text)
	if plainly == nil {
		return false
	}
	if list.Errors() > 0 {
		t.Errorf("read plainly, though the library says: %v\n%s", list, text)
	} else if want, got := strings.Split(describe(library, ""), "\n"), strings.Split(describe(plainly, ""), "\n"); !slices.Equal(got, want) {
		for i := range want {
			if i >= len(got) || got[i] != want[i] {
				t.Errorf("the library reads\n%s\nbut plainly it is\n%s\nin\n%s", want[i], strings.Join(got[min(i, len(got)):min(i+1, len(got))], ""), text)
				break
			}
		}
	}
	return true
}

func TestPlainAgreesWithTheLibrary(t *testing.T) {
	pages, plain := 0, 0
	err := filepath.WalkDir("../../../content", func(path string, _ os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".md") {
			return err
		}
		raw, err := os.ReadFile(path)
		pages++
		if agree(t, string(raw)) {
			plain++
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if plain < pages/2 {
		t.Errorf("only %d of %d pages are plain: the plain reader is not worth its lines", plain, pages)
	}
	t.Logf("%d of %d pages are plain", plain, pages)
}

// plainSamples are texts that are plain, and texts close to them that are not.
var plainSamples = []struct {
	text  string
	plain bool
}{
	{"a: b", true},
	{"a: \"b c\"", true},
	{"a: 500 ml\nb: 014\nc: 1_000\nd: 0x1F\ne: true\nf: 2026-10-01\ng: 1.0e3\nh: yes", true},
	{"a:\n  b: c\n  d: e\nf: g", true},
	{"a:\n    b: c", true},
	{"a:\n  - b\n  - c", true},
	{"a:\n  - b: c\n    d: e\n  - b: c", true},
	{"a:\n  -   b: c\n      d: e", true},
	{"a: {b: c, d: [e, f, {g: h}], i: \"j, k: l\"}", true},
	{"a: [1+50, 1+100]", true},
	{"a: {b: 20 °C, c: Ä ö, d: (x - y) / z}", true},
	{"1: a\n2: b", true},
	{"a: don't", true},
	{"a: say \"this\"", true},
	{"a: -5 °C", true},
	{"a: b\n\n\nc: d", true},
	{"a: \"\"", true},
	{"a: \" b \"", true},
	{"a: b, c", true},
	{"b:\n  c: \"a\"\na: d", true},
	{"a: (b) [c] {d}", true},

	{"a: b  \n\nc: d", false},
	{"a:", false},
	{"a: null", false},
	{"a: ~", false},
	{"a: b: c", false},
	{"a: b #c", false},
	{"# a\nb: c", false},
	{"a: \"", false},
	{"a: 'b'", false},
	{"a: \"b\\n\"", false},
	{"a: |\n  b", false},
	{"a: >\n  b", false},
	{"a: b\n  c", false},
	{"a: &x b\nc: *x", false},
	{"a: !x b", false},
	{"a: b\na: c", false},
	{"a: {b: c, b: d}", false},
	{"a: {}", false},
	{"a: []", false},
	{"a: {b: c,}", false},
	{"a: {b}", false},
	{"a: {b: c\n  , d: e}", false},
	{"a: [b] c", false},
	{"a: \"b\" c", false},
	{"a: \"b\n  c\"", false},
	{"a:\n- b", false},
	{"a:\n  - - b", false},
	{"a:\n  b: c\n d: e", false},
	{"a:\n  b: c\n    d: e", false},
	{" a: b", false},
	{"<<: b", false},
	{"a: b\n...\nc: d", false},
	{"- a", false},
	{"a\tb: c", false},
	{"a: b\tc", false},
	{"a: - b", false},
	{"a: ? b", false},
	{"a: @b", false},
	{"a: b:", false},
	{"null: a", false},
}

func TestPlainSamples(t *testing.T) {
	for _, s := range plainSamples {
		if got := agree(t, "---\n"+s.text+"\n---\n"); got != s.plain {
			t.Errorf("plain is %v for\n%s", got, s.text)
		}
	}
}

func FuzzPlain(f *testing.F) {
	for _, s := range plainSamples {
		f.Add(s.text)
	}
	f.Fuzz(func(t *testing.T, text string) { agree(t, "---\n"+text+"\n---\n") })
}

// Texts made of all that the plain style knows, and of what it must leave alone.
func TestPlainProperty(t *testing.T) {
	bare := rapid.StringOfN(rapid.SampledFrom([]rune("ab Z09 .,-+*/()[]{}°µ é€'\"<>=!?%&|@`~^_;$:#")), 1, 12, -1)
	name := rapid.StringMatching(`[a-z0-9_]{1,4}`)
	text := rapid.Custom(func(t *rapid.T) string {
		s := bare.Draw(t, "text")
		if rapid.Bool().Draw(t, "quoted") {
			return `"` + s + `"`
		}
		return s
	})
	var flow func(depth int) *rapid.Generator[string]
	flow = func(depth int) *rapid.Generator[string] {
		return rapid.Custom(func(t *rapid.T) string {
			shape := rapid.IntRange(0, 3).Draw(t, "shape")
			if depth == 0 || shape > 1 {
				return text.Draw(t, "text")
			}
			var items []string
			for range rapid.IntRange(1, 3).Draw(t, "count") {
				item := flow(depth-1).Draw(t, "item")
				if shape == 0 {
					item = name.Draw(t, "name") + ": " + item
				}
				items = append(items, item)
			}
			joint := rapid.SampledFrom([]string{", ", ",", "  ,  "}).Draw(t, "joint")
			blank := rapid.SampledFrom([]string{"", " "}).Draw(t, "blank")
			if shape == 0 {
				return "{" + blank + strings.Join(items, joint) + blank + "}"
			}
			return "[" + blank + strings.Join(items, joint) + blank + "]"
		})
	}
	var block func(depth, indent int) *rapid.Generator[string]
	block = func(depth, indent int) *rapid.Generator[string] {
		return rapid.Custom(func(t *rapid.T) string {
			var b strings.Builder
			pad := strings.Repeat(" ", indent)
			list := indent > 0 && rapid.Bool().Draw(t, "list")
			for range rapid.IntRange(1, 3).Draw(t, "count") {
				b.WriteString(pad)
				at := indent
				if list {
					b.WriteString("- ")
					at += 2
				}
				if !list || rapid.Bool().Draw(t, "mapping") {
					b.WriteString(name.Draw(t, "name") + ":")
					if depth > 0 && rapid.Bool().Draw(t, "deeper") {
						b.WriteString("\n" + block(depth-1, at+rapid.SampledFrom([]int{2, 2, 4}).Draw(t, "indent")).Draw(t, "block"))
						continue
					}
					b.WriteString(" ")
				}
				b.WriteString(flow(2).Draw(t, "value") + "\n")
			}
			return b.String()
		})
	}
	read, all := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		all++
		if agree(t, "---\n"+block(2, 0).Draw(r, "page")+"---\n") {
			read++
		}
		if t.Failed() {
			r.FailNow()
		}
	})
	t.Logf("%d of %d are plain", read, all)
}
