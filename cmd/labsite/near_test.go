package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"labsite/content"
)

// The script tries every command that takes --from inside a lab without it.
func TestEveryCommandFindsTheLab(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("testdata", "scripts", "near.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, c := range newRoot(&screen{}).Commands() {
		if c.Flags().Lookup("from") == nil {
			continue
		}
		tried++
		if !regexp.MustCompile(`(?m)exec labsite ` + c.Name() + `\b.*$`).Match(script) {
			t.Errorf("near.txtar does not try %s", c.Name())
		}
	}
	if tried < 10 {
		t.Errorf("only %d commands take --from", tried)
	}
}

// The script tries every pattern of a page, and each pattern has its files.
func TestPatterns(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("testdata", "scripts", "begin.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range content.Patterns() {
		files := content.New(p.Name, "new", []byte("New"))
		if !strings.Contains(string(files["new.md"]), "title: New\n") {
			t.Errorf("%s has the files %v", p.Name, files)
		}
		for name, raw := range files {
			if strings.Contains(string(raw), "NAME") || strings.Contains(string(raw), "TITLE") {
				t.Errorf("%s of %s has a place that was not filled in", name, p.Name)
			}
		}
		if !strings.Contains(string(script), "labsite page "+p.Name+" ") {
			t.Errorf("begin.txtar does not try %s", p.Name)
		}
	}
	if files := content.New("nothing", "new", nil); files != nil {
		t.Errorf("a pattern that there is not has the files %v", files)
	}
}
