package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Options are what a caller may set; the zero value is fine.
type Options struct {
	// Content is the folder that the pages were read from. A publish into it, or
	// into a folder that holds it, is refused. Empty if there is none.
	Content string
	// ReadAll reads every old file that stays, instead of trusting times that show it untouched.
	ReadAll bool

	// step is called at each step that a test may want to interrupt; an error from it counts as a
	// failure of that step.
	step func(name string) error
	// byRenames exchanges the folders by two renames, as where the file system cannot do it in one
	// step.
	byRenames bool
	// copies makes copies instead of hard links, as on a file system without them.
	copies bool
}

// Result says what a publish did.
type Result struct {
	// Written counts the files that are new or have changed, Kept those whose bytes are the same,
	// Removed those of the old site that the new one does not have.
	Written, Kept, Removed int
	// Bytes is the size of the files counted in Written.
	Bytes int64
	// Left names the hidden folders, by their full paths, that this publish or an earlier one left
	// beside the published one because they hold somebody else's files.
	Left []string
	// Returned names files, relative to the folder, that somebody put there just as the folders
	// were exchanged. They are in the new folder, where the next publish refuses them.
	Returned []string
}

// makeParents makes a folder and its parents, and names those that were missing, the innermost
// first.
func makeParents(dir string) (made []string, err error) {
	for d := dir; ; d = filepath.Dir(d) {
		_, err := os.Stat(d)
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		made = append(made, d)
		if filepath.Dir(d) == d {
			break
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		for _, d := range made {
			_ = os.Remove(d)
		}
		return nil, fmt.Errorf("making the folder %s: %w", dir, err)
	}
	return made, nil
}
