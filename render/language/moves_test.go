package language

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/build/buildtest"
)

// movingLab is a lab whose pages name one another in every possible way.
func movingLab() map[string]string {
	files := twoPages()
	files["index.md"] = "---\ntitle: Lab\naudience: customers\n---\n\nSee [mixing](mixing.md#how-it-goes), [the same](./mixing.md), ![the tank](pictures/the%20tank.svg) and [times](times.csv).\n"
	files["pictures/the tank.svg"] = `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>`
	files["deep/index.md"] = "---\ntitle: Deep\naudience: customers\n---\n"
	files["deep/more.md"] = strings.NewReplacer("Developing", "More", "page: mixing.md", "page: ../mixing.md", "(mixing.md#", "(../mixing.md#").Replace(developing)
	files["deep/third.md"] = strings.Replace(mixing, "Mixing", "Third", 1) // its data file lies in the folder above
	return files
}

// After files are renamed with the server's edits, a check of the folder finds no error, and every
// page still names the same things.
func TestMoves(t *testing.T) {
	for _, c := range []struct {
		name  string
		moves []move
		edits []string // the files that change
	}{
		{"a page", []move{{"mixing.md", "stock.md"}}, []string{"deep/more.md", "developing.md", "index.md"}},
		{"a page into a folder", []move{{"mixing.md", "deep/stock (new).md"}}, []string{"deep/more.md", "developing.md", "index.md"}},
		{"a page out of a folder", []move{{"deep/more.md", "more.md"}}, []string{"deep/more.md"}},
		{"a data file", []move{{"times.csv", "tested.csv"}}, []string{"deep/third.md", "index.md", "mixing.md"}},
		{"a folder", []move{{"deep", "flat"}}, nil},
		{"a folder into another", []move{{"deep", "pictures/deep"}}, []string{"deep/more.md"}},
		{"a picture", []move{{"pictures/the tank.svg", "tank.svg"}}, []string{"index.md"}},
		{"two at once", []move{{"mixing.md", "a/mixing.md"}, {"developing.md", "a/developing.md"}}, []string{"deep/more.md", "index.md"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := buildtest.Lab(t, movingLab())
			if list := errorsIn(t, dir); len(list) > 0 {
				t.Fatalf("before: %v", list)
			}
			e := begin(t, dir)
			var files []map[string]string
			for _, m := range c.moves {
				files = append(files, map[string]string{"oldUri": e.uri(m.from), "newUri": e.uri(m.to)})
			}
			var got workspaceEdit
			e.ask("workspace/willRenameFiles", map[string]any{"files": files}, &got)
			changed := apply(t, e, got.Changes)
			if !slices.Equal(changed, c.edits) {
				t.Errorf("%v change, want %v", changed, c.edits)
			}
			for _, m := range c.moves {
				to := filepath.Join(dir, m.to)
				if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.Rename(filepath.Join(dir, m.from), to); err != nil {
					t.Fatal(err)
				}
			}
			if list := errorsIn(t, dir); len(list) > 0 {
				t.Errorf("after: %v", list)
			}
		})
	}
}

// A page can be renamed from where another names it; impossible renames are refused.
func TestRenamePath(t *testing.T) {
	dir := buildtest.Lab(t, movingLab())
	e := begin(t, dir)
	e.open("index.md")
	ask := func(name string) (json.RawMessage, error) {
		p := e.at("index.md", "](mix‸ing.md#")
		p["newName"] = name
		r, err := e.rpc.Call(context.Background(), "textDocument/rename", p)
		if err != nil {
			return nil, err
		}
		var out json.RawMessage
		return out, r.UnmarshalResult(&out)
	}
	for _, wrong := range []string{"", "mixing.md", "developing.md", "mixing", "mixing.csv", "../mixing.md", "/mixing.md", "con.md", "a:b.md"} {
		if out, err := ask(wrong); err == nil {
			t.Errorf("mixing.md became %q: %s", wrong, out)
		}
	}
	var where any
	if e.ask("textDocument/prepareRename", e.at("index.md", "](mix‸ing.md#"), &where); where == nil {
		t.Error("the path of a page cannot be renamed")
	}
	raw, err := ask("deep/stock.md#how-it-goes")
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		DocumentChanges []struct {
			Kind, OldURI, NewURI string
			TextDocument         versionedIdentifier
			Edits                []textEdit
		}
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	changes := map[string][]textEdit{}
	for _, c := range got.DocumentChanges {
		if c.Kind == "" {
			changes[c.TextDocument.URI] = c.Edits
		}
	}
	last := got.DocumentChanges[len(got.DocumentChanges)-1]
	if last.Kind != "rename" || last.OldURI != e.uri("mixing.md") || last.NewURI != e.uri("deep/stock.md") {
		t.Fatalf("%s", raw)
	}
	apply(t, e, changes)
	if err := os.Rename(filepath.Join(dir, "mixing.md"), filepath.Join(dir, "deep", "stock.md")); err != nil {
		t.Fatal(err)
	}
	if list := errorsIn(t, dir); len(list) > 0 {
		t.Errorf("after: %v", list)
	}
}

// apply writes edits into the files of a folder, and lists those that changed.
func apply(t *testing.T, e *editor, changes map[string][]textEdit) (changed []string) {
	t.Helper()
	for uri, edits := range changes {
		name, ok := strings.CutPrefix(uri, e.uri("")+"/")
		if !ok {
			t.Fatalf("%s is not in the folder", uri)
		}
		raw, err := os.ReadFile(filepath.Join(e.dir, name))
		if err != nil {
			t.Fatal(err)
		}
		changed = append(changed, name)
		if err := os.WriteFile(filepath.Join(e.dir, name), []byte(edited(string(raw), edits)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(changed)
	return changed
}

// errorsIn lists the errors of a folder.
func errorsIn(t *testing.T, dir string) (out source.List) {
	t.Helper()
	site, list := build.Follow(context.Background(), dir, build.Options{Day: testDay, Drafts: true})
	if site == nil {
		t.Fatal(list)
	}
	defer site.Close()
	if err := site.Settle(context.Background()); err != nil {
		t.Fatal(err)
	}
	for _, d := range site.Diagnostics() {
		if d.Severity == source.Error {
			out = append(out, d)
		}
	}
	return out
}
