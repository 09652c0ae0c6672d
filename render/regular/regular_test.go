package regular

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func tree(t *testing.T) (string, Folder) {
	t.Helper()
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return dir, Below(root)
}

// both reads a file through a tree and by its path, which must agree.
func both(t *testing.T, dir string, f Folder, name string, most int64) (string, error) {
	t.Helper()
	a, err1 := Read(f, name, most)
	b, err2 := ReadFile(filepath.Join(dir, name), most)
	if string(a) != string(b) || (err1 == nil) != (err2 == nil) {
		t.Fatalf("%s: %q %v by the tree, %q %v by its path", name, a, err1, b, err2)
	}
	return string(a), err1
}

func TestReadsUpToTheBound(t *testing.T) {
	dir, f := tree(t)
	for _, size := range []int{0, 1, 99, 100} {
		if err := os.WriteFile(filepath.Join(dir, "a"), []byte(strings.Repeat("x", size)), 0o666); err != nil {
			t.Fatal(err)
		}
		if got, err := both(t, dir, f, "a", 100); err != nil || len(got) != size {
			t.Errorf("%d bytes were read as %d: %v", size, len(got), err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "a"), []byte(strings.Repeat("x", 101)), 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := both(t, dir, f, "a", 100)
	var large *TooLarge
	if !errors.As(err, &large) || large.Size != 101 || large.Most != 100 {
		t.Errorf("101 bytes where at most 100 are allowed: %v", err)
	}
}

func TestAFolderIsNoFile(t *testing.T) {
	dir, f := tree(t)
	if err := os.Mkdir(filepath.Join(dir, "a"), 0o777); err != nil {
		t.Fatal(err)
	}
	_, err := both(t, dir, f, "a", 100)
	var kind *NotRegular
	if !errors.As(err, &kind) || kind.What != "a folder" {
		t.Errorf("a folder: %v", err)
	}
	if _, err := f.Open("../a"); err == nil {
		t.Error("a path that leads out was opened")
	}
}
