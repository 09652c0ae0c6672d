package publish

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// clearLeftovers puts right what a killed publish left: it brings back an old
// site caught between two renames, and removes staged or former folders whose
// own list shows that they are ours. Folders with anything else in them stay, and
// are named.
func clearLeftovers(p place) (left []string, err error) {
	entries, err := os.ReadDir(p.parent)
	if err != nil {
		return nil, p.parentTrouble(err)
	}
	for _, e := range entries {
		at := filepath.Join(p.parent, e.Name())
		former := hidden(e, p.lastPrefix())
		if !former && !hidden(e, p.nextPrefix()) {
			continue
		}
		if former && caught(p, at) {
			if err := os.Rename(at, p.target); err != nil {
				return nil, fmt.Errorf("bringing back the old site from %s: %w", at, err)
			}
			continue
		}
		names, ok := ownFolder(p, at)
		if !ok {
			left = append(left, at)
			continue
		}
		keepIgnoreFile(at, p.target)
		if err := dismantle(at, names, false); err != nil {
			left = append(left, at)
		}
	}
	return left, nil
}

func hidden(e fs.DirEntry, prefix string) bool {
	rest, ok := strings.CutPrefix(e.Name(), prefix)
	_, err := hex.DecodeString(rest)
	return ok && err == nil && len(rest) == 2*mark && e.IsDir()
}

// caught tells whether a former folder is an old site whose publish died between
// two renames: there is no folder at its place, and it looks like one that could
// be published into. Foreign files do not count here: back in their place they
// are refused by name.
func caught(p place, dir string) bool {
	if _, err := os.Lstat(p.target); !errors.Is(err, fs.ErrNotExist) {
		return false
	}
	f, err := survey(dir)
	if err != nil {
		return false
	}
	if !f.list {
		return len(f.files) == 0 && len(f.odd) == 0
	}
	raw, err := os.ReadFile(filepath.Join(dir, listName))
	if err != nil {
		return false
	}
	_, err = readList(raw)
	return err == nil
}

// ownFolder tells whether all that stands in a hidden folder is in its list. An
// empty folder is ours, and one with only half a list: so a kill leaves it when
// it comes early.
func ownFolder(p place, dir string) (names map[string]bool, ours bool) {
	f, err := survey(dir)
	if err != nil || len(f.odd) > 0 {
		return nil, false
	}
	if f.ignore && !sameContents(filepath.Join(dir, ignoreName), filepath.Join(p.target, ignoreName)) {
		return nil, false
	}
	if !f.list {
		return nil, len(f.files) == 0 && !f.ignore
	}
	raw, err := os.ReadFile(filepath.Join(dir, listName))
	if err != nil {
		return nil, false
	}
	l, err := readList(raw)
	if errors.Is(err, errHalfList) {
		return nil, len(f.files) == 0
	}
	if err != nil {
		return nil, false
	}
	names = l.names()
	for _, name := range f.files {
		if !names[name] {
			return nil, false
		}
	}
	return names, true
}

func sameContents(a, b string) bool {
	x, err1 := os.ReadFile(a)
	y, err2 := os.ReadFile(b)
	return err1 == nil && err2 == nil && bytes.Equal(x, y)
}

// keepIgnoreFile brings the .gitignore of a former folder over to the new one,
// so that the very file survives, with whatever was written into it meanwhile.
func keepIgnoreFile(former, target string) {
	from, to := filepath.Join(former, ignoreName), filepath.Join(target, ignoreName)
	if os.Rename(from, to) != nil {
		return
	}
	// Between two names of one file a rename does nothing and says so to nobody.
	a, err1 := os.Lstat(from)
	b, err2 := os.Lstat(to)
	if err1 == nil && err2 == nil && os.SameFile(a, b) {
		_ = os.Remove(from)
	}
}

// dismantle removes a folder of ours: the files in the list and the list itself,
// then the folders that are empty. It fails if something else stands in it, which
// then stays. ignore tells it to remove a .gitignore too: that of a staged folder
// is a second name or a copy of the one in the published folder.
//
// It works below an opened folder and follows no link out of it, since a list is
// only a text.
func dismantle(dir string, names map[string]bool, ignore bool) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	f, err := survey(dir)
	if err != nil {
		return err
	}
	for _, name := range f.files {
		if names[name] {
			err = errors.Join(err, root.Remove(filepath.FromSlash(name)))
		}
	}
	if f.ignore && ignore {
		err = errors.Join(err, root.Remove(ignoreName))
	}
	for i := len(f.folders) - 1; i > 0; i-- { // inner ones first; the first is dir itself
		err = errors.Join(err, root.Remove(filepath.FromSlash(f.folders[i])))
	}
	if err != nil {
		return err // the list stays with what it lists
	}
	if f.list {
		if err := root.Remove(listName); err != nil {
			return err
		}
	}
	root.Close()
	return os.Remove(dir)
}
