package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"path"
	"slices"
	"strings"
	"testing"
)

// homes are the packages that may import a library, with the packages inside them; all others go
// through those.
var homes = map[string][]string{
	"github.com/yuin/goldmark":           {"render/markdown"},
	"github.com/alecthomas/chroma/v2":    {"render/highlight"},
	"github.com/expr-lang/expr":          {"recipes/formula"},
	"github.com/fsnotify/fsnotify":       {"render/preview"},
	"github.com/spf13/cobra":             {"cmd/labsite"},
	"github.com/spf13/pflag":             {"cmd/labsite"},
	"github.com/goccy/go-yaml":           {"recipes/source"},
	"github.com/creachadair/jrpc2":       {"render/language"},
	"github.com/klauspost/compress":      {"render/build"},
	"github.com/kljensen/snowball":       {"render/search"},
	"github.com/dop251/goja":             {"recipes/script", "render/search/searchtest"},
	"github.com/microcosm-cc/bluemonday": {"render/write"},
	"github.com/piglig/go-qr":            {"render/write"},
	"github.com/schollz/progressbar/v3":  {"cmd/labsite"},
	"gonum.org/v1/gonum":                 {"recipes/control"},
	"github.com/bep/imagemeta":           {"render/asset"},
	"golang.org/x/image":                 {"render/asset"},
	"github.com/tdewolff/minify/v2":      {"render/theme"},
	"labsite/themes":                     {"render/theme"},
}

// tops are the only folders with Go files at the top of the tree; a package may
// import those of its own row and of the rows below.
var tops = [][]string{{"cmd"}, {"render"}, {"recipes", "themes", "content"}}

// layers are the packages of render in the order in which data goes through them: a package may
// import from rows above its own, and never from its own row or below.
var layers = [][]string{
	{"regular", "durable", "markdown", "highlight", "chart", "search", "shelf", "publish"},
	{"asset"}, {"content"}, {"work"}, {"theme"}, {"write"}, {"machine"}, {"routes"}, {"build"}, {"preview", "approve", "record", "language"},
}

func TestLayersImportOneWay(t *testing.T) {
	at := func(p string) int {
		name, is := strings.CutPrefix(p, "labsite/render/")
		if !is {
			return -1
		}
		name, _, _ = strings.Cut(name, "/") // what is inside a folder belongs to it
		return slices.IndexFunc(layers, func(names []string) bool { return slices.Contains(names, name) })
	}
	for _, p := range ownPackages(t) {
		own := at(p.ImportPath)
		if strings.HasPrefix(p.ImportPath, "labsite/render/") && own < 0 {
			t.Errorf("%s is in no row of layers", p.ImportPath)
		}
		for _, imported := range p.Imports {
			other := at(imported)
			sameRow := own == 0 && other == 0 && imported == "labsite/render/regular"
			forTests := strings.HasSuffix(p.ImportPath, "test") && inside(p.ImportPath, imported)
			if own >= 0 && other >= own && !sameRow && !forTests {
				t.Errorf("%s imports %s, which comes later on the way of the data", p.ImportPath, imported)
			}
		}
	}
}

// vague are names that do not say what a package is for.
var vague = []string{"util", "utils", "common", "helper", "helpers", "misc", "base"}

func TestImports(t *testing.T) {
	const module = "labsite/"
	for _, p := range ownPackages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		own := row(name)
		if own < 0 {
			t.Errorf("%s stands in a new folder at the top of the tree", name)
		}
		if slices.Contains(vague, path.Base(name)) {
			t.Errorf("%s: the name does not say what the package is for", name)
		}
		for _, imported := range slices.Concat(p.Imports, p.TestImports, p.XTestImports) {
			if other, ok := strings.CutPrefix(imported, module); ok && row(other) < own {
				t.Errorf("%s imports %s: it goes cmd, render, recipes, and never back", name, other)
			}
		}
		for _, imported := range p.Imports { // only a test may compare results with a library's
			for library, home := range homes {
				if inside(imported, library) && !slices.ContainsFunc(home, func(h string) bool { return inside(name, h) }) {
					t.Errorf("%s imports %s, which only %s may", name, imported, strings.Join(home, ", "))
				}
			}
		}
	}
}

// inside reports whether a package is the given one or in its folder.
func inside(name, around string) bool { return name == around || strings.HasPrefix(name, around+"/") }

// row is how far down a package is in tops, -1 if it is in none of them.
func row(name string) int {
	top, _, _ := strings.Cut(name, "/")
	return slices.IndexFunc(tops, func(names []string) bool { return slices.Contains(names, top) })
}

type goPackage struct {
	ImportPath                         string
	Imports, TestImports, XTestImports []string
}

func ownPackages(t *testing.T) (all []goPackage) {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports,TestImports,XTestImports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	for in := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		err := in.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 5 {
		t.Fatalf("go list names %d packages: too few to be the whole tree", len(all))
	}
	return all
}
