package publish

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"labsite/render/regular"
)

// oldSite is the published folder as a publish finds it.
type oldSite struct {
	looker
	exists bool
	mode   fs.FileMode
	files  []oldFile      // what the last publish wrote, in the order of its list
	at     map[string]int // the index in files of each name
	ignore bool           // a .gitignore is there
	tidy   bool           // the list is whole, and every folder holds a file
}

// oldFile is a file of the old site's list.
type oldFile struct {
	entry
	present bool  // it is still there
	claimed bool  // the new site has a file of its name
	looked  bool  // seen is set
	seen    stamp // written by the one goroutine that hands in the file
}

// file returns a listed file if it is still there, else nil.
func (o *oldSite) file(name string) *oldFile {
	if i, ok := o.at[name]; ok && o.files[i].present {
		return &o.files[i]
	}
	return nil
}

// foreign names what is in the folder but not in its list.
func (o *oldSite) foreign(f found) []string {
	var names []string
	for _, name := range f.files {
		if _, ours := o.at[name]; !ours {
			names = append(names, name)
		}
	}
	if f.journal {
		names = append(names, journalName)
	}
	return append(names, f.odd...)
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
	old := oldSite{exists: true, mode: info.Mode().Perm(), at: map[string]int{}, ignore: found.ignore}
	var listTrouble error
	if found.list {
		raw, err := regular.ReadFile(filepath.Join(p.target, listName), mostList)
		var l list
		var large *regular.TooLarge
		switch {
		case errors.As(err, &large):
			listTrouble = large
		case err != nil:
			return oldSite{}, err
		default:
			l, listTrouble = readList(raw)
		}
		if listTrouble != nil && len(found.files) > 0 {
			return oldSite{}, p.unreadableList(found.files, listTrouble)
		}
		old.files = make([]oldFile, 0, len(l))
		for _, e := range l {
			old.at[e.name] = len(old.files)
			old.files = append(old.files, oldFile{entry: e})
		}
	}
	if foreign := old.foreign(found); len(foreign) > 0 {
		return oldSite{}, p.foreign(foreign)
	}
	used := map[string]bool{".": true}
	for _, f := range found.files {
		old.files[old.at[f]].present = true
		for d := path.Dir(f); !used[d]; d = path.Dir(d) {
			used[d] = true
		}
	}
	old.tidy = found.list && listTrouble == nil
	for _, d := range found.folders {
		old.tidy = old.tidy && used[d]
	}
	return old, old.open(p.target)
}

// found is what is in a folder, as paths with forward slashes, each folder before its contents. No
// links are followed.
type found struct {
	files   []string // regular files, without the list, the journal and the .gitignore at the top
	odd     []string // links, devices and the like
	folders []string
	list    bool
	journal bool
	ignore  bool
}

func survey(dir string) (found, error) {
	info, err := os.Lstat(dir)
	if err != nil {
		return found{}, err
	}
	f := found{folders: []string{"."}}
	if !info.IsDir() {
		f.odd = []string{"."}
		return f, nil
	}
	return f, f.enter(dir, "")
}

// enter adds what is in a folder; prefix is its path below the top, with a slash.
func (f *found) enter(dir, prefix string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, d := range entries {
		name := prefix + d.Name()
		switch {
		case d.IsDir():
			f.folders = append(f.folders, name)
			if err := f.enter(filepath.Join(dir, d.Name()), name+"/"); err != nil {
				return err
			}
		case !d.Type().IsRegular():
			f.odd = append(f.odd, name)
		case name == listName:
			f.list = true
		case name == journalName:
			f.journal = true
		case name == ignoreName:
			f.ignore = true
		default:
			f.files = append(f.files, name)
		}
	}
	return nil
}
