package write

import (
	"io/fs"
	"os"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/themes"
)

// TestBlocks checks that each block of a page has a maker, a template of its name, its name in the README,
// and that nothing else on a page may have that name.
func TestBlocks(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range page.Blocks() {
		if makers[b.Name] == nil {
			t.Errorf("%s: nothing makes it", b.Name)
		}
		if _, err := fs.Stat(themes.Files, b.Name+".html"); err != nil {
			t.Errorf("%s: it has no template", b.Name)
		}
		if !strings.Contains(string(readme), "`{"+b.Name+"}`") {
			t.Errorf("%s: the README does not name it", b.Name)
		}
		if b.Has == nil {
			t.Errorf("%s: nothing tells whether a page has it", b.Name)
		}
		if b.Main && (b.Title == "" || b.Anchor == "") {
			t.Errorf("%s: a page leads to it, and it has no title or anchor", b.Name)
		}
		if b.Told != nil && b.Anchor == "" {
			t.Errorf("%s: a search finds it and cannot lead to it", b.Name)
		}
	}
	if len(makers) != len(page.Blocks()) {
		t.Errorf("there are %d makers for %d blocks", len(makers), len(page.Blocks()))
	}
}
