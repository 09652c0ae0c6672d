package approve

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
	if _, err := Write(disk, record(1)); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(disk, record(2)); !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("it says %v", err)
	}
	if holds(t, disk, 2) || !holds(t, disk, 1) {
		t.Error("the records are not those before")
	}
	if left, _ := filepath.Glob(filepath.Join(disk, "approved", "X-001", ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
