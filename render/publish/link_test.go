package publish

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// needLinks skips a test if the system makes no symbolic links: some need a permission for that,
// and some emulated systems make one that does not read back as a link.
func needLinks(t *testing.T) {
	t.Helper()
	at := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(t.TempDir(), at); err != nil {
		t.Skip(err)
	}
	if info, err := os.Lstat(at); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Skip("what was made as a link does not read as one", err)
	}
}
