package durable

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"testing"
)

func TestBegin(t *testing.T) {
	root, err := os.OpenRoot(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	var steps []string
	if err := Begin(root, "a", []byte("text"), 0o644, func(s string) { steps = append(steps, s) }); err != nil {
		t.Fatal(err)
	}
	if raw, err := root.ReadFile("a"); string(raw) != "text" || strings.Join(steps, " ") != "begun half" {
		t.Errorf("%q %v after %v", raw, err, steps)
	}
	if err := Begin(root, "a", []byte("other"), 0o644, nil); !errors.Is(err, fs.ErrExist) {
		t.Errorf("an existing file is overwritten: %v", err)
	}
	if err := Begin(root, "b", nil, 0o644, nil); err != nil {
		t.Error(err)
	}
	Settle(root, ".")
	Clear(root, ".", func(i fs.FileInfo) bool { return i.Name() == "a" })
	if _, err := root.Stat("a"); !errors.Is(err, fs.ErrNotExist) {
		t.Error("what was left stays")
	}
	if _, err := root.Stat("b"); err != nil {
		t.Error("what does not belong to it is gone")
	}
	if a, b := Random(), Random(); a == b || len(a) != 16 {
		t.Errorf("%s and %s", a, b)
	}
}
