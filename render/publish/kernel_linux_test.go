package publish

import (
	"context"
	"errors"
	"path/filepath"
	"syscall"
	"testing"

	"labsite/render/regular/kerneltest"
)

// A really full disk in the middle of a publish. The test runs in a copy of itself with mounts of
// its own, and is skipped if the machine allows none.
func TestAFullDisk(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	disk := kerneltest.SmallDisk(t, "256k")
	dir := filepath.Join(disk, "site")
	publish(t, dir, site(1))
	for _, n := range []int{1, 7} { // the disk fills up within the first file, and after several
		s := begin(t, dir, Options{})
		var err error
		for i := range n {
			if err = s.Put(string(rune('a'+i))+"/page.html", make([]byte, (512<<10)/n)); err != nil {
				break
			}
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("it says %v", err)
		}
		if _, err := s.Finish(); !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("the end says %v", err)
		}
		holds(t, dir, site(1))
		noLitter(t, dir)
	}
	// Or there is no space for the list of a site of many empty files.
	many := Files{}
	for i := range 4000 {
		many["a-rather-long-name-of-a-page-"+string(rune('\u4e00'+i))+".html"] = nil
	}
	if _, err := Write(context.Background(), dir, many, Options{}); !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("of many files it says %v", err)
	}
	holds(t, dir, site(1))
	noLitter(t, dir)
	publish(t, dir, site(2))
	holds(t, dir, site(2))
}
