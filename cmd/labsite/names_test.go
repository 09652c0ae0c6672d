package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// No name and no text of a page controls a terminal: control characters are written out.
func TestNothingActsOnATerminal(t *testing.T) {
	dir := writeLab(t, map[string]string{
		"a\x1b]0;b\x07\u202e.md":   "---\ntitle: T\naudience: customers\n---\n\n{nobody\u202e} \u009b31m {zzz}\n",
		"b.md":                     "---\ntitle: T\naudience: customers\n\u2066k: 1\n---\n\n[x](\u202egone.md) \u2067 {zzz}\n",
		"formulary/\u202eown.yaml": "- \u202e: 1\n",
	})
	for _, args := range [][]string{{"check", "--from", dir}, {"figure", "a\x1b[2J", "--from", dir}, {"publish", "--from", dir, "--to", filepath.Join(t.TempDir(), "\x1b[2J\u202e")}, {"\x1b[2J"}} {
		var out, errs bytes.Buffer
		run(t.Context(), args, &out, &errs)
		text := out.String() + errs.String()
		if i := strings.IndexAny(text, "\x1b\x07\u009b\u202e\u2066\u2067"); i >= 0 || text == "" {
			t.Errorf("%q prints %q", args, text[max(0, i-60):min(len(text), i+20)])
		}
	}
}

// A page is started only within the folder, even if a symbolic link leads out of it.
func TestNewPageStaysWithin(t *testing.T) {
	dir, outside := writeLab(t, map[string]string{"a.md": "---\ntitle: T\naudience: customers\n---\n"}), t.TempDir()
	if err := os.Symlink(outside, filepath.Join(dir, "out")); err != nil {
		t.Skip(err)
	}
	for _, in := range []string{"out", "out/deeper"} {
		var out, errs bytes.Buffer
		if run(t.Context(), []string{"page", "guide", "Stop bath", "--from", dir, "--in", in}, &out, &errs) == good || !strings.Contains(errs.String(), "leads out of the folder") {
			t.Errorf("--in %s: %s", in, errs.String())
		}
	}
	if entries, _ := os.ReadDir(outside); len(entries) > 0 {
		t.Errorf("outside lies %s", entries[0].Name())
	}
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"page", "guide", "Stop bath", "--from", dir, "--in", "new/deep"}, &out, &errs) != good {
		t.Error(errs.String())
	}
}
