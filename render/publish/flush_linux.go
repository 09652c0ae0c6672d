package publish

import (
	"os"

	"golang.org/x/sys/unix"
)

// flush makes the staged folder and all in it durable. It flushes the whole file system: one wait
// instead of one for each file.
func flush(staged string, p place) error {
	f, err := os.Open(staged)
	if err != nil {
		return err
	}
	defer f.Close()
	return unix.Syncfs(int(f.Fd()))
}
