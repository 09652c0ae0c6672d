package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Restore brings back an old site whose publish was killed between two renames, so that no folder
// was at its place (see the package's comment). It reports whether it did; if there is a folder, or a
// publish is at work, it does nothing.
func Restore(dir string) bool {
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return false
	}
	p, err := locate(dir, "")
	if err != nil {
		return false
	}
	former := formerFolders(p)
	if len(former) == 0 {
		return false
	}
	release, err := takeLock(p)
	if err != nil {
		return false
	}
	defer release()
	for _, at := range former {
		if caught(p, at) {
			return os.Rename(at, p.target) == nil
		}
	}
	return false
}

// formerFolders lists the folders that may be an old site under its hidden name.
func formerFolders(p place) (out []string) {
	entries, _ := os.ReadDir(p.parent)
	for _, e := range entries {
		if hidden(e, p.lastPrefix()) {
			out = append(out, filepath.Join(p.parent, e.Name()))
		}
	}
	return out
}
