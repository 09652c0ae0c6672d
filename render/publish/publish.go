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
	// ReadAll reads every old file that stays, instead of trusting the times of
	// those that show untouched.
	ReadAll bool

	// step is called at each step that a test may want to interrupt; an error
	// that it returns is taken as that step's own failure.
	step func(name string) error
	// byRenames exchanges the folders by two renames, as on a file system that cannot do it in
	// one step.
	byRenames bool
	// copies makes copies instead of hard links, as on a file system without them.
	copies bool
}

// Result says what a publish did.
type Result struct {
	// Written counts the files that are new or have changed, Kept those whose
	// bytes are as they were, Removed those of the old site that the new one
	// does not have.
	Written, Kept, Removed int
	// Bytes is the size of the files counted in Written.
	Bytes int64
	// Left names folders beside the published one, by their full paths, that an
	// earlier publish or this one left there, because they hold files of somebody
	// else.
	Left []string
	// Returned names files, relative to the folder, that somebody put there in the
	// moment of the exchange. They are in the new folder, where the next publish
	// refuses them.
	Returned []string
}

// makeParents makes a folder and what it is in, and names those that were
// not there, the innermost first.
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
