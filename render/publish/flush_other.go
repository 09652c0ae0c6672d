//go:build !linux

package publish

import (
	"os"
	"path/filepath"
)

// flush makes the list durable and asks the same for the folder. The files are
// not flushed one by one: see the package's comment.
func flush(staged string, p place) error {
	f, err := os.OpenFile(filepath.Join(staged, listName), os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	if e := f.Close(); err == nil {
		err = e
	}
	flushFolder(staged)
	return err
}
