package publish

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync"
)

// stage builds the new folder beside the old one. The list is written first, so
// that whatever is left by a kill can be known for ours. On error the folder's
// path is still returned if the folder is there.
func stage(ctx context.Context, p place, old oldSite, c change, files Files, progress func(done, total int), step func(string) error) (string, error) {
	mode := fs.FileMode(0o777)
	if old.exists {
		mode = old.mode // no wider than the old folder, at no moment
	}
	dir, err := makeHidden(p, p.nextPrefix(), mode)
	if err != nil {
		return "", p.parentTrouble(err)
	}
	if old.exists {
		// The user's mask may have taken something away that the old folder has;
		// what mask and mode leave must do for writing, too.
		if err := os.Chmod(dir, mode|0o700); err != nil {
			return dir, err
		}
	}
	if err := step("folder made"); err != nil {
		return dir, err
	}
	if err := write(filepath.Join(dir, listName), c.list.bytes()); err != nil {
		return dir, err
	}
	if err := step("list written"); err != nil {
		return dir, err
	}
	if old.ignore {
		if err := carry(filepath.Join(p.target, ignoreName), filepath.Join(dir, ignoreName)); err != nil {
			return dir, err
		}
	}
	for _, d := range folders(c.list) {
		if err := os.Mkdir(filepath.Join(dir, filepath.FromSlash(d)), 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
			return dir, err
		}
	}
	if err := step("folders made"); err != nil {
		return dir, err
	}
	var mu sync.Mutex
	done := 0
	err = each(ctx, len(c.list), func(i int) error {
		e := c.list[i]
		to := filepath.Join(dir, filepath.FromSlash(e.name))
		kept := c.keep[i] && os.Link(filepath.Join(p.target, filepath.FromSlash(e.name)), to) == nil
		if !kept {
			// New, changed, or on a file system that has no hard links.
			if err := write(to, files[e.name]); err != nil {
				if errors.Is(err, fs.ErrExist) {
					return refuse(fmt.Sprintf("%s cannot be published beside a file whose name is the same to this disk (capitals, accents)", e.name),
						"Rename one of the two pages or files.")
				}
				return err
			}
		}
		if progress != nil {
			mu.Lock()
			done++
			progress(done, len(c.list))
			mu.Unlock()
		}
		return step("file")
	})
	return dir, err
}

// folders are those that the files need, outer ones first.
func folders(l list) []string {
	seen := map[string]bool{}
	var all []string
	for _, e := range l {
		for d := path.Dir(e.name); d != "." && !seen[d]; d = path.Dir(d) {
			seen[d] = true
			all = append(all, d)
		}
	}
	slices.Sort(all)
	return all
}

// write makes a file that must not exist yet.
func write(at string, data []byte) error {
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// carry makes a second name for a file, or a copy where there are no hard links.
func carry(from, to string) error {
	if os.Link(from, to) == nil {
		return nil
	}
	raw, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return write(to, raw)
}

// makeHidden makes a folder beside the target under a name that is not taken.
func makeHidden(p place, prefix string, mode fs.FileMode) (string, error) {
	for {
		at := filepath.Join(p.parent, hiddenName(prefix))
		err := os.Mkdir(at, mode)
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return at, err
		}
	}
}

// mark is the number of random bytes in a hidden name.
const mark = 4

func hiddenName(prefix string) string {
	var b [mark]byte
	rand.Read(b[:]) // never fails
	return prefix + hex.EncodeToString(b[:])
}
