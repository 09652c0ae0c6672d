package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// A signal stops a command while pages are being proved: it is sent as soon as the kernel reports
// that the last page has been read, when most of the work is still to come. A command that ignored
// it would end successfully, much later.
func TestASignalStopsAPublish(t *testing.T) {
	from := laborious(t)
	above := t.TempDir()
	watch, err := unix.InotifyInit1(unix.IN_CLOEXEC)
	if err != nil {
		t.Skip(err)
	}
	defer unix.Close(watch)
	if _, err := unix.InotifyAddWatch(watch, filepath.Join(from, "work99.md"), unix.IN_CLOSE_NOWRITE); err != nil {
		t.Skip(err)
	}
	cmd, _ := process(t, "labsite", "publish", "--from", from, "--to", filepath.Join(above, "site"))
	if _, err := unix.Read(watch, make([]byte, 4096)); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if status := exitStatus(t, cmd.Wait()); status != wrong {
		t.Errorf("it ends with %d", status)
	}
	if left, err := os.ReadDir(above); err != nil || len(left) > 0 {
		t.Errorf("it leaves %v %v", left, err)
	}
	if said := cmd.Stderr.(*bytes.Buffer).String(); !strings.Contains(said, "stopped; nothing was changed") {
		t.Errorf("it says %s", said)
	}
}
