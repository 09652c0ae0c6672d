package schema_test

import (
	"bytes"
	"io/fs"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/schema"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

func compiled(t *testing.T, title string, table *tree.Entry) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Of(title, table)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("mem:"+title, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("mem:" + title)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var aNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// plain is a value as other readers of YAML have it, by its core schema.
func plain(v *tree.Value) any {
	switch v.Shape {
	case tree.List:
		out := []any{}
		for _, item := range v.Items {
			out = append(out, plain(item))
		}
		return out
	case tree.Mapping:
		out := map[string]any{}
		for i, k := range v.Keys {
			out[k.Text] = plain(v.Items[i])
		}
		return out
	case tree.Nothing:
		return nil
	}
	written := v.Span.Text()
	switch {
	case strings.HasPrefix(written, `"`), strings.HasPrefix(written, "'"):
	case v.Text == "true", v.Text == "false":
		return v.Text == "true"
	case aNumber.MatchString(v.Text):
		x, _ := strconv.ParseFloat(v.Text, 64)
		return x
	}
	return v.Text
}

func front(t *testing.T, text string) any {
	t.Helper()
	f, _ := source.New("page.md", []byte(text))
	start, end, _, ok := page.Parts(f)
	if !ok {
		t.Fatalf("no front matter in %q", text)
	}
	v, list := tree.Parse(f, start, end)
	if v == nil {
		t.Fatalf("%v", list)
	}
	return plain(v)
}

// Every page of the demo is valid, and so are its settings and substances.
func TestDemoIsValid(t *testing.T) {
	s := compiled(t, "page", page.Front())
	demo := os.DirFS("../../content")
	pages := 0
	fs.WalkDir(demo, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			t.Fatal(err)
		}
		if d.IsDir() || !strings.HasSuffix(p, ".md") {
			return nil
		}
		raw, err := fs.ReadFile(demo, p)
		if err != nil {
			t.Fatal(err)
		}
		pages++
		if err := s.Validate(front(t, string(raw))); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		return nil
	})
	if pages < 20 {
		t.Errorf("only %d pages were tried", pages)
	}
	for name, table := range map[string]*tree.Entry{page.SettingsFile: page.Lab(), hazard.OwnFile: hazard.Own()} {
		raw, err := fs.ReadFile(demo, name)
		if err != nil {
			continue
		}
		f, _ := source.New(name, raw)
		v, list := tree.Parse(f, 0, len(f.Text))
		if v == nil {
			t.Fatal(list)
		}
		if err := compiled(t, name, table).Validate(plain(v)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The example of each key is valid; with an unknown key, or without a key that it needs, it is
// not.
func TestWrongPagesAreNotValid(t *testing.T) {
	s := compiled(t, "page", page.Front())
	for _, k := range page.Keys() {
		text := "---\n" + k.Example + "\n"
		for _, key := range []string{"title", "audience"} {
			if k.Name != key {
				text += key + ": " + map[string]string{"title": "T", "audience": "staff"}[key] + "\n"
			}
		}
		if page.Front().Key(k.Name) == nil {
			t.Errorf("%s is not in the table of the front matter", k.Name)
		}
		if err := s.Validate(front(t, text+"---\n")); err != nil {
			t.Errorf("%s: %v", k.Example, err)
		}
	}
	for _, wrong := range []string{
		"audience: staff", "title: T", "title: T\naudience: stuff", "title: T\naudience: staff\ntilte: X",
		"title: T\naudience: staff\ngiven: [1]", "title: T\naudience: staff\ngiven: {a: {valeu: 1}}", "title: T\naudience: staff\ngiven: {two words: 1}",
		"title: T\naudience: staff\nlimits: {when: a}", "title: T\naudience: staff\nlimits: [{notice: x}]",
		"title: T\naudience: staff\nsteps: [{for: 1 min}]", "title: T\naudience: staff\nsteps: [{do: x, dark: maybe}]",
		"title: T\naudience: staff\ncontrol: {number: 1, revision: one, status: draft}", "title: T\naudience: staff\ncontrol: {number: 1, revision: 1, status: done}",
		"title: T\naudience: staff\ncautions: {a: {word: BEWARE, text: x}}", "title: T\naudience: staff\ntopics: film",
		"title: T\naudience: staff\ncharts: {c: {x: a}}", "title: T\naudience: staff\nfigures: {f: {label: x}}",
		"title: [T]\naudience: staff", "title: T\naudience: staff\nchecks: [{at: [a]}]", "title: T\naudience: staff\ndraws_on: {m: {at: {a: 1}}}",
	} {
		f, _ := source.New("page.md", []byte("---\n"+wrong+"\n---\n"))
		if _, list := page.Decode(f, nil); list.Errors() == 0 {
			t.Errorf("the program takes %q", wrong)
		}
		if err := s.Validate(front(t, "---\n"+wrong+"\n---\n")); err == nil {
			t.Errorf("the schema takes %q", wrong)
		}
	}
}

// Every entry has a sentence for the writer.
func TestEverySentence(t *testing.T) {
	for name, table := range map[string]*tree.Entry{"page": page.Front(), "lab": page.Lab(), "hazards": hazard.Own()} {
		var walk func(at string, e *tree.Entry)
		walk = func(at string, e *tree.Entry) {
			if !strings.HasSuffix(e.Says, ".") {
				t.Errorf("%s: %q is not a sentence", at, e.Says)
			}
			for i := range e.Keys {
				walk(at+"/"+e.Keys[i].Name, &e.Keys[i])
			}
			if e.Item != nil {
				walk(at+"/-", e.Item)
			}
		}
		walk(name, table)
	}
}
