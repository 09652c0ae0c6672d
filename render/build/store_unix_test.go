//go:build unix

package build

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"labsite/recipes/page"
)

// A named pipe in place of the store, to which nobody writes, holds up no command.
func TestStoreThatIsAPipe(t *testing.T) {
	dir, cache := labOf(t, keptLab), filepath.Join(t.TempDir(), "cache")
	if err := os.Mkdir(cache, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(OpenStore(cache, dir).file, 0o600); err != nil {
		t.Skip("there are no named pipes here:", err)
	}
	s, to, _ := runOf(t, dir, cache, page.Customers, nil)
	if s.loaded != 0 || !strings.Contains(s.trouble, "a named pipe") {
		t.Errorf("%d pages are loaded, reported %q", s.loaded, s.trouble)
	}
	sameFiles(t, "the site", published(t, dir, page.Customers), to.files)
	if s, _, _ := runOf(t, dir, cache, page.Customers, nil); s.loaded != 4 || s.trouble != "" {
		t.Errorf("in the next run %d pages are loaded, %q", s.loaded, s.trouble)
	}
}
