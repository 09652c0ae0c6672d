package publish

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// oldSite is the published folder as a publish finds it.
type oldSite struct {
	exists  bool
	mode    fs.FileMode
	list    list            // what the last publish wrote
	present map[string]bool // which of those files still stand there
	ignore  bool            // a .gitignore stands there
	tidy    bool            // no folder stands there that holds no file
}

// readOld looks at the published folder and refuses it if it holds anything that
// no publish wrote. It opens only the list.
func readOld(p place) (oldSite, error) {
	info, err := os.Lstat(p.target)
	if errors.Is(err, fs.ErrNotExist) {
		return oldSite{}, nil
	}
	if err != nil {
		return oldSite{}, p.parentTrouble(err)
	}
	found, err := survey(p.target)
	if err != nil {
		return oldSite{}, err
	}
	old := oldSite{exists: true, mode: info.Mode().Perm(), present: map[string]bool{}, ignore: found.ignore}
	var listTrouble error
	if found.list {
		raw, err := os.ReadFile(filepath.Join(p.target, listName))
		if err != nil {
			return oldSite{}, err
		}
		if old.list, listTrouble = readList(raw); listTrouble != nil && len(found.files) > 0 {
			return oldSite{}, p.unreadableList(found.files, listTrouble)
		}
	}
	ours := old.list.names()
	var foreign []string
	used := map[string]bool{".": true}
	for _, f := range found.files {
		if !ours[f] {
			foreign = append(foreign, f)
			continue
		}
		old.present[f] = true
		for d := path.Dir(f); d != "."; d = path.Dir(d) {
			used[d] = true
		}
	}
	foreign = append(foreign, found.odd...)
	if len(foreign) > 0 {
		return oldSite{}, p.foreign(foreign)
	}
	old.tidy = found.list && listTrouble == nil
	for _, d := range found.folders {
		old.tidy = old.tidy && used[d]
	}
	return old, nil
}

// survey is what stands in a folder, in paths with forward slashes, sorted. It
// follows no links.
type found struct {
	files   []string // regular files, less the list and the .gitignore at the top
	odd     []string // links, devices and the like
	folders []string
	list    bool
	ignore  bool
}

func survey(dir string) (found, error) {
	var f found
	err := filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, at)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		switch {
		case d.IsDir():
			f.folders = append(f.folders, name)
		case !d.Type().IsRegular():
			f.odd = append(f.odd, name)
		case name == listName:
			f.list = true
		case name == ignoreName:
			f.ignore = true
		default:
			f.files = append(f.files, name)
		}
		return nil
	})
	return f, err
}
