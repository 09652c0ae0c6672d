package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"labsite/recipes/formula"
)

// The README names every function of the language.
func TestReadmeNamesFunctions(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range formula.Functions() {
		if !bytes.Contains(readme, []byte("`"+name+"`")) && !bytes.Contains(readme, []byte("`"+name+"(")) {
			t.Errorf("%s is not told", name)
		}
	}
}

// TestReadme publishes the two pages and the data that the README shows: what newcomers copy must
// work.
func TestReadme(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string][][]byte{}
	for _, m := range regexp.MustCompile("(?s)```(\\w+)\n(.*?)```").FindAllSubmatch(readme, -1) {
		shown[string(m[1])] = append(shown[string(m[1])], m[2])
	}
	if len(shown["markdown"]) != 2 || len(shown["csv"]) != 1 {
		t.Fatalf("the README shows %d pages and %d data files", len(shown["markdown"]), len(shown["csv"]))
	}
	lab := t.TempDir()
	for name, text := range map[string][]byte{"mixing.md": shown["markdown"][0], "developing.md": shown["markdown"][1], "one-shot-times.csv": shown["csv"][0]} {
		if err := os.WriteFile(filepath.Join(lab, name), text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), []string{"check", "--firm", "--from", lab}, &stdout, &stderr); status != 0 {
		t.Errorf("status %d\n%s%s", status, &stdout, &stderr)
	}
}
