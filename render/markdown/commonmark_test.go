package markdown

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
)

type example struct {
	Markdown, HTML, Section string
	Example                 int
}

// examples reads the 652 examples of CommonMark 0.31.2 (John MacFarlane,
// 2024-01-28, https://spec.commonmark.org/0.31.2/spec.json), which the goldmark
// module carries.
func examples(t testing.TB) []example {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/yuin/goldmark").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	raw, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "_test", "spec.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []example
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != 652 {
		t.Fatalf("%d examples, want 652", len(all))
	}
	return all
}

// asInHTML writes empty elements as in HTML; the examples close them.
func asInHTML(html string) string { return strings.ReplaceAll(html, " />", ">") }

func asWritten(html string) string { return html }

func newDocument(text string) *Document {
	f, _ := source.New("page.md", []byte(text))
	return &Document{root: ast.NewDocument(), source: []byte(f.Text), place: f.Span}
}

// Bare addresses are links here, as in the GFM specification 0.29, section
// 6.9; CommonMark alone leaves them as text.
var bareAddresses = map[int]string{
	608: `<p>&lt; <a href="https://foo.bar">https://foo.bar</a> &gt;</p>` + "\n",
	611: `<p><a href="https://example.com">https://example.com</a></p>` + "\n",
	612: `<p><a href="mailto:foo@bar.example.com">foo@bar.example.com</a></p>` + "\n",
}

func TestCommonMarkExamples(t *testing.T) {
	core := newReader(features{blocks: true, notes: true})
	for _, e := range examples(t) {
		try := func(reader parser.Parser, html string) {
			d := newDocument(e.Markdown)
			d.parse(reader, true)
			got := render(t, d, RenderOptions{RawHTML: asWritten, plainElements: true})
			if got, want := asInHTML(got), asInHTML(html); got != want {
				t.Errorf("example %d (%s)\n%s\ngot:\n%s\nwant:\n%s", e.Example, e.Section, e.Markdown, got, want)
			}
		}
		try(core, e.HTML)
		want := e.HTML
		if as, ok := bareAddresses[e.Example]; ok {
			want = as
		}
		try(bodyReader, want)
	}
}

func render(t testing.TB, d *Document, opt RenderOptions) string {
	t.Helper()
	var b strings.Builder
	if err := d.Render(&b, opt); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
