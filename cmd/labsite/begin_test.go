package main

import (
	"os"
	"path/filepath"
	"testing"
)

// Files are written all or none: here the second file's folder is the first file.
func TestFilesAreWrittenAllOrNone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "lab", "inner")
	written, err := writeFiles(dir, map[string][]byte{"a": []byte("a file"), "a/b": []byte("cannot be")})
	if err == nil {
		t.Fatalf("it wrote %q", written)
	}
	if _, err := os.Stat(filepath.Dir(dir)); !os.IsNotExist(err) {
		t.Errorf("the folder is left behind: %v", err)
	}
}

func TestFileName(t *testing.T) {
	for title, want := range map[string]string{
		"Mixing a stop bath":     "mixing-a-stop-bath",
		"  What's 1+100 — now? ": "whats-1-100-now",
		"Größe & Übergröße":      "grosse-ubergrosse",
		"½ litre":                "1-2-litre",
		"../../etc":              "etc",
		"暗室":                     "",
		"CON":                    "con-page",
	} {
		if got := fileName(title); got != want {
			t.Errorf("%q is %q, not %q", title, got, want)
		}
	}
}
