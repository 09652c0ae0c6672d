// Package publish turns files in memory into a published folder, all or
// nothing: whoever reads the folder finds the old site or the new one, and a
// publish that fails, is stopped or is killed leaves the old one whole.
//
// It knows nothing of pages: it is handed paths and bytes. It does not upload,
// does not serve, and never touches a file that it did not write itself.
//
// # How it is done
//
// The new folder is built beside the old one, under a hidden name in the same
// parent. A file whose bytes did not change is linked from the old folder, so
// that it takes no new room and keeps its date. When the new folder is complete
// and on the disk, the two folders change places in one step (renameat2 with
// RENAME_EXCHANGE on Linux, renamex_np with RENAME_SWAP on macOS). Where the
// system or the file system cannot do that, two renames follow one another, and
// for the moment between them there is no folder at that path: a reader may find
// nothing then, but never a mixture. A publish killed in that moment is put right
// by the next one. Then the old folder is taken apart, file by file as its own
// list names them.
//
// A reader who opens the folder once and reads through that handle sees one site
// for as long as the files last; one who opens two paths may, like anyone, come
// once before the exchange and once after it.
//
// # What is flushed, and why not every file
//
// The promise is all or nothing against the death of the program, and that needs
// no flush at all: the exchange is one step in the kernel. Against the loss of
// power the order matters: contents first, then the exchange, then the removal.
// On Linux one syncfs call makes the whole staged folder durable before the
// exchange: one wait for the disk, where a flush for each file is a wait for each
// file. (On the virtual disk it was measured on, BenchmarkFlush shows both within
// the noise of no flush at all; what makes 2,000 files slow there is making them,
// and a publish takes as long as plain writes do.) Elsewhere only the list and the
// folder are flushed, and what a power cut may leave behind, an empty file or one
// of zero bytes, is recognised and written again by the next publish.
package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Files is a site: paths with forward slashes, relative to the folder, and the
// bytes of each file.
type Files map[string][]byte

// Options are what a caller may set; the zero value is fine.
type Options struct {
	// Content is the folder that the pages were read from. A publish into it, or
	// into a folder that holds it, is refused. Empty if there is none.
	Content string
	// Progress, if set, is called after each file that stands in the new folder,
	// never twice at the same time.
	Progress func(done, total int)

	// step is called at each step that a test may want to interrupt; an error
	// that it returns is taken as that step's own failure.
	step func(name string) error
	// apart makes the exchange two renames, as on a file system without better.
	apart bool
}

// Result says what a publish did.
type Result struct {
	// Written counts the files that are new or have changed, Kept those whose
	// bytes are as they were, Removed those of the old site that the new one
	// does not have.
	Written, Kept, Removed int
	// Bytes is the size of the files counted in Written.
	Bytes int64
	// Left names folders beside the published one that an earlier publish left
	// and that hold files of somebody else, so that they were not removed.
	Left []string
}

// Write makes dir hold exactly these files. When it returns an error, dir is as
// it was before, and nothing is left beside it.
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
	place, err := locate(dir, opt.Content)
	if err != nil {
		return Result{}, err
	}
	names, err := files.names()
	if err != nil {
		return Result{}, err
	}
	if err := context.Cause(ctx); err != nil {
		return Result{}, place.stopped(err)
	}
	made, err := makeParents(place.parent)
	if err != nil {
		return Result{}, place.parentTrouble(err)
	}
	result, err := writeLocked(ctx, place, names, files, opt)
	if err != nil {
		for _, d := range made {
			_ = os.Remove(d) // fails, as it should, if someone has put a file there
		}
		if cause := context.Cause(ctx); cause != nil && errors.Is(err, cause) {
			err = place.stopped(cause)
		}
		return Result{}, err
	}
	return result, nil
}

func writeLocked(ctx context.Context, place place, names []string, files Files, opt Options) (result Result, err error) {
	step := opt.step
	if step == nil {
		step = func(string) error { return nil }
	}
	release, err := takeLock(place)
	if err != nil {
		return Result{}, err
	}
	defer release()
	if err := step("locked"); err != nil {
		return Result{}, err
	}

	left, err := clearLeftovers(place)
	if err != nil {
		return Result{}, err
	}
	if err := step("leftovers cleared"); err != nil {
		return Result{}, err
	}

	old, err := readOld(place)
	if err != nil {
		return Result{}, err
	}
	change, err := compare(ctx, place, old, names, files)
	if err != nil {
		return Result{}, err
	}
	if err := step("compared"); err != nil {
		return Result{}, err
	}
	result = change.result()
	result.Left = left
	if old.tidy && slices.Equal(old.list, change.list) && change.none() {
		if opt.Progress != nil {
			opt.Progress(len(names), len(names))
		}
		return result, nil
	}

	staged, err := stage(ctx, place, old, change, files, opt.Progress, step)
	if err == nil {
		if err = step("staged"); err == nil {
			err = flush(staged, place)
		}
	}
	if err == nil {
		err = step("flushed")
	}
	if err == nil {
		err = context.Cause(ctx)
	}
	former := ""
	if err == nil {
		former, err = swap(place, staged, old.exists, opt.apart, step)
	}
	if err != nil {
		if staged != "" {
			_ = dismantle(staged, change.list.names(), true)
		}
		return Result{}, err
	}

	// From here on the new site stands, and nothing that goes wrong is an error.
	flushFolder(place.parent)
	_ = step("exchanged")
	if former != "" {
		keepIgnoreFile(former, place.target)
		_ = step("ignore file moved")
		if err := dismantle(former, old.list.names(), false); err != nil {
			result.Left = append(result.Left, former)
		}
		_ = step("old folder removed")
	}
	return result, nil
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
