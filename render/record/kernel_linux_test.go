package record

import (
	"errors"
	"path/filepath"
	"syscall"
	"testing"

	"labsite/render/regular/kerneltest"
)

// A really full disk, between two bytes. The test runs in a copy of itself with mounts of its own,
// and is skipped if the machine allows none.
func TestAFullDisk(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	disk := kerneltest.SmallDisk(t, "64k")
	full := error(nil)
	kept := 0
	for minute := 0; full == nil && minute < 60; minute++ {
		if _, full = Write(t.Context(), disk, []*Entry{entry(minute)}); full == nil {
			kept++
		}
	}
	if !errors.Is(full, syscall.ENOSPC) || kept < 2 {
		t.Errorf("after %d records it says %v", kept, full)
	}
	if n := len(rows(t, disk)); n != kept {
		t.Errorf("%d of %d records are kept", n, kept)
	}
	if left, _ := filepath.Glob(filepath.Join(disk, ".*.next-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
