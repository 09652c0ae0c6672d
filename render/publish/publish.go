package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
)

// Files is a site: paths with forward slashes, relative to the folder, and the
// bytes of each file.
type Files map[string][]byte

// Options are what a caller may set; the zero value is fine.
type Options struct {
	// Content is the folder that the pages were read from. A publish into it, or
	// into a folder that holds it, is refused. Empty if there is none.
	Content string
	// ReadAll reads every old file that stays, instead of trusting the times of
	// those that show untouched.
	ReadAll bool
	// Progress, if set, is called by Write after each file, never twice at the same
	// time. Who hands in the files one by one counts them as well.
	Progress func(done, total int)

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
	// moment of the exchange. They stand in the new folder, where the next publish
	// refuses them.
	Returned []string
}

// Write makes dir hold exactly these files. It is Begin, Put for each, and Finish, for a
// caller that has them all in memory. When it returns an error, dir is as it was before,
// and nothing is left beside it.
//
// It refuses (see Refusal) a dir that is a file, a symbolic link, the top of a
// disk, or a folder around the content, and a folder that holds files which no
// publish wrote or which were changed by hand since; a .gitignore at the top is
// the one exception, and is carried over. Another publish into the same dir is
// refused while this one runs (see Busy). The parent of dir is made if missing.
//
// Folders are made with mode 0777 and files with 0666, less the user's mask; an
// existing dir hands its own mode on.
//
// ctx stops it until the folders change places; after that the work is done and
// only the removal of the old folder is left, which is not stopped.
func Write(ctx context.Context, dir string, files Files, opt Options) (Result, error) {
	s, err := Begin(ctx, dir, opt)
	if err != nil {
		return Result{}, err
	}
	defer s.Abandon()
	names := slices.Sorted(maps.Keys(files))
	var mu sync.Mutex
	done := 0
	err = each(ctx, len(names), func(i int) error {
		if err := s.Put(names[i], files[names[i]]); err != nil || opt.Progress == nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		done++
		opt.Progress(done, len(names))
		return nil
	})
	if err != nil {
		return Result{}, s.orEnded(err)
	}
	return s.Finish()
}

// makeParents makes a folder and what it stands in, and names those that were
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
