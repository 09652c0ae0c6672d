package theme

import (
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/dop251/goja"

	"labsite/recipes/script"
	"labsite/render/chart"
	"labsite/render/highlight"
	"labsite/themes"
)

// later finds some features that came into ECMAScript after 2020.
var later = regexp.MustCompile(`\?\?=|\|\|=|&&=|Object\.hasOwn\b|\.replaceAll\(|structuredClone`)

// TestSlim parses every script and style sheet of the theme again as it is published: the library must be able to
// minify all that is built in, and names that other scripts use must stay.
func TestSlim(t *testing.T) {
	files := map[string][]byte{RuntimeFile: script.Core(), FurtherFile: script.Further(), "chart.css": []byte(chart.Style), "code.css": []byte(highlight.Style())}
	for folder, joined := range scriptParts {
		if parts, _ := themes.Files.ReadDir(folder); len(parts) != len(joined) {
			t.Errorf("of %d parts in %s %d are joined", len(parts), folder, len(joined))
		}
	}
	for name := range joinedScripts {
		files[name], _ = joinedScript(name)
	}
	entries, err := themes.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if path.Ext(e.Name()) == ".js" || path.Ext(e.Name()) == ".css" {
			files[e.Name()], _ = themes.Files.ReadFile(e.Name())
		}
	}
	for name, raw := range files {
		short := Slim(name, raw)
		if 10*len(short) > 9*len(raw) {
			t.Errorf("%s: of %d bytes %d are left", name, len(raw), len(short))
		}
		if path.Ext(name) == ".js" {
			if _, err := goja.Parse(name, string(short)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if late := later.FindString(string(short)); late != "" {
				t.Errorf("%s: %s came after ECMAScript %d", name, late, scriptsYear)
			}
		}
	}
	if !strings.Contains(string(Slim(RuntimeFile, script.Core())), "var labsite=") {
		t.Error("the runtime is no longer called labsite")
	}
}
