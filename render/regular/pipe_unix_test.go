//go:build unix

package regular

import (
	"errors"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// What is not a file is refused without waiting: opening a pipe without a writer like a file would
// block this test until something ends it.
func TestNothingIsWaitedFor(t *testing.T) {
	dir, f := tree(t)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o666))
	must(os.Symlink("pipe", filepath.Join(dir, "link")))
	t.Chdir(dir) // the address of a socket must be short
	l, err := net.Listen("unix", "socket")
	must(err)
	defer l.Close()
	for name, what := range map[string]string{"pipe": "a named pipe", "link": "a named pipe", "socket": "a socket"} {
		_, err := both(t, dir, f, name, 100)
		var kind *NotRegular
		if !errors.As(err, &kind) || kind.What != what {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err = ReadFile(os.DevNull, 100)
	var kind *NotRegular
	if !errors.As(err, &kind) || kind.What != "a device" {
		t.Errorf("a device: %v", err)
	}
	if _, err := OpenRoot(filepath.Join(dir, "pipe")); err == nil {
		t.Error("a pipe was opened as a folder")
	}
}

// A pipe that takes a file's place after it was looked at does not block either.
func TestAPipeAtTheLastMoment(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o666); err != nil {
		t.Fatal(err)
	}
	plain := filepath.Join(dir, "plain")
	if err := os.WriteFile(plain, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := open(pipe, func(string) (fs.FileInfo, error) { return os.Stat(plain) }, os.OpenFile)
	var kind *NotRegular
	if !errors.As(err, &kind) || kind.What != "a named pipe" {
		t.Errorf("a pipe in the place of a file: %v", err)
	}
}
