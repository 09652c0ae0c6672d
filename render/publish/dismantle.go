package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
)

// dismantle removes a folder of ours: the named files, the folders that are then empty, the list
// and the folder itself. Anything else in it stays, with the list, and rest names it. own, if set,
// is asked about each file by its folder and its name there; a file that it disowns counts as
// something else. ignore has a .gitignore removed too: that of a staged folder is a second name or
// a copy of the one in the published folder.
//
// It works below an opened folder and follows no link out of it, since a list is only text that
// anybody can write.
func dismantle(dir string, names []string, own func(folder *os.Root, name, base string) bool, ignore bool) (rest []string, err error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	failed := removeFiles(root, names, own)
	f, err := survey(dir)
	if err != nil {
		return nil, errors.Join(failed, err)
	}
	for i := len(f.folders) - 1; i > 0; i-- { // inner ones first; the first is dir itself
		_ = root.Remove(filepath.FromSlash(f.folders[i])) // fails if something is in it
	}
	rest = append(f.files, f.odd...)
	if len(rest) > 0 || failed != nil {
		slices.Sort(rest)
		return rest, errors.Join(failed, fmt.Errorf("%s is not empty", dir))
	}
	if f.ignore && ignore {
		if err := root.Remove(ignoreName); err != nil {
			return nil, err
		}
	}
	if f.journal { // before the list, so that after a kill here the list decides
		if err := root.Remove(journalName); err != nil {
			return nil, err
		}
	}
	if f.list {
		if err := root.Remove(listName); err != nil {
			return nil, err
		}
	}
	root.Close()
	return nil, os.Remove(dir)
}

// removeFiles removes files, folder by folder, so that each folder is looked up once. A file that
// is not there, or that own disowns, is no error.
func removeFiles(root *os.Root, names []string, own func(folder *os.Root, name, base string) bool) error {
	var folders [][]string
	for _, name := range names {
		last := len(folders) - 1
		if last < 0 || path.Dir(folders[last][0]) != path.Dir(name) {
			folders = append(folders, nil)
			last++
		}
		folders[last] = append(folders[last], name)
	}
	return each(context.Background(), len(folders), func(i int) error {
		folder, err := root.OpenRoot(filepath.FromSlash(path.Dir(folders[i][0])))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		defer folder.Close()
		for _, name := range folders[i] {
			base := path.Base(name)
			if own != nil && !own(folder, name, base) {
				continue
			}
			if e := folder.Remove(base); e != nil && !errors.Is(e, fs.ErrNotExist) {
				err = errors.Join(err, e)
			}
		}
		return err
	})
}

// carryBack moves what somebody put into the old folder during the exchange into the new one, at
// the same place. It names what was moved; a file whose place the new site takes stays where it is.
func carryBack(p place, former string, names []string) (moved []string) {
	root, err := os.OpenRoot(p.parent)
	if err != nil {
		return nil
	}
	defer root.Close()
	for _, name := range names {
		name := filepath.FromSlash(name)
		from, to := filepath.Join(filepath.Base(former), name), filepath.Join(p.base, name)
		if err := root.MkdirAll(filepath.Dir(to), 0o777); err != nil {
			continue
		}
		if _, err := root.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if root.Rename(from, to) == nil {
			moved = append(moved, filepath.ToSlash(name))
		}
	}
	return moved
}
