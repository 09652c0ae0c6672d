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

	"labsite/render/regular"
)

// clearLeftovers clears up after a killed publish: it brings back an old site caught between two
// renames, and removes staged or former folders whose own list shows that they are ours. Folders
// with anything else in them stay, and are named.
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
		if _, err := dismantle(at, names, nil, false); err != nil {
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

// caught reports whether a former folder is an old site whose publish died between two renames:
// nothing is at the site's path, and the folder looks like one that could be published into.
// Foreign files do not matter here: once the folder is back, the publish refuses them by name.
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
	raw, err := regular.ReadFile(filepath.Join(dir, listName), mostList)
	if err != nil {
		return false
	}
	_, err = readList(raw)
	return err == nil
}

// ownFolder reports whether everything in a hidden folder is ours, and names its files. In a folder
// that was being built, that is what its journal or its list names, whole or not; in one that was
// complete, each file must have the bytes of the list, since a former site may hold what somebody
// changed by hand while it was published again. An empty folder is ours, and so is one with only
// half a list: an early kill leaves such.
func ownFolder(p place, dir string) (names []string, ours bool) {
	f, err := survey(dir)
	if err != nil || len(f.odd) > 0 {
		return nil, false
	}
	if f.ignore && !sameContents(filepath.Join(dir, ignoreName), filepath.Join(p.target, ignoreName)) {
		return nil, false
	}
	known := map[string]entry{}
	for _, l := range []struct {
		name   string
		exists bool
	}{{journalName, f.journal}, {listName, f.list}} {
		if !l.exists {
			continue
		}
		raw, err := regular.ReadFile(filepath.Join(dir, l.name), mostList)
		if err != nil {
			return nil, false
		}
		part, err := readList(raw)
		if err != nil && !errors.Is(err, errHalfList) {
			return nil, false
		}
		for _, e := range part {
			known[e.name] = e
		}
	}
	if !f.list && !f.journal {
		return nil, len(f.files) == 0 && !f.ignore
	}
	root, err := regular.OpenRoot(dir)
	if err != nil {
		return nil, false
	}
	defer root.Close()
	for _, name := range f.files {
		e, listed := known[name]
		if !listed {
			return nil, false
		}
		if f.journal {
			continue
		}
		info, err := root.Lstat(filepath.FromSlash(name))
		if err != nil || !ownFile(p, root, e, name, info) {
			return nil, false
		}
	}
	return f.files, true
}

func sameContents(a, b string) bool {
	x, err1 := regular.ReadFile(a, mostIgnore)
	y, err2 := regular.ReadFile(b, mostIgnore)
	return err1 == nil && err2 == nil && bytes.Equal(x, y)
}

// keepIgnoreFile moves the .gitignore of a former folder to the new one, so that the very file
// survives, with whatever was written into it meanwhile.
func keepIgnoreFile(former, target string) {
	from, to := filepath.Join(former, ignoreName), filepath.Join(target, ignoreName)
	if os.Rename(from, to) != nil {
		return
	}
	// If both names are of one file, a rename does nothing and returns no error.
	a, err1 := os.Lstat(from)
	b, err2 := os.Lstat(to)
	if err1 == nil && err2 == nil && os.SameFile(a, b) {
		_ = os.Remove(from)
	}
}
