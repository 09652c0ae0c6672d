//go:build !linux

package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// flush makes the files of the staged folder durable, one by one, and its folders as far as it can:
// a file of which a power cut leaves half would count as changed by hand.
func flush(staged string, p place) error {
	return filepath.WalkDir(staged, func(at string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			flushFolder(at)
			return nil
		}
		f, err := os.OpenFile(at, os.O_WRONLY, 0)
		if errors.Is(err, fs.ErrPermission) { // read-only, so it was not written just now
			return nil
		}
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}
