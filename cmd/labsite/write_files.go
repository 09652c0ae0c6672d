package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// taken is the refusal to overwrite files.
type taken struct{ paths []string }

func (t *taken) Error() string {
	if len(t.paths) == 1 {
		return t.paths[0] + " already exists; nothing was written"
	}
	return strings.Join(t.paths, ", ") + " already exist; nothing was written"
}

// whyUnwritten says why files were not written; only names that are taken count as wrong use.
func (s *screen) whyUnwritten(err error) error {
	var t *taken
	if errors.As(err, &t) {
		return err
	}
	return s.broken(err)
}

// writeAndList writes files and lists their paths; more goes into the JSON object.
func (s *screen) writeAndList(dir string, files map[string][]byte, more map[string]any) (written []string, err error) {
	if written, err = writeFiles(dir, files); err != nil {
		return nil, s.whyUnwritten(err)
	}
	if s.json {
		object := map[string]any{"diagnostics": []any{}, "written": written}
		maps.Copy(object, more)
		s.object(object)
		return written, nil
	}
	for _, p := range written {
		fmt.Fprintln(s.out, p)
	}
	return written, nil
}

// read reads all files of a tree, by path.
func read(tree fs.FS) (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(tree, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files[p], err = fs.ReadFile(tree, p)
		return err
	})
	return files, err
}

// writeFiles writes files into a folder, which it makes if there is none, and returns their paths.
// It writes nothing if a name is taken, and removes what it wrote if anything else goes wrong.
func writeFiles(dir string, files map[string][]byte) (written []string, err error) {
	var made []string // folders, the outermost first
	defer func() {
		if err == nil {
			return
		}
		for i := len(written) - 1; i >= 0; i-- {
			os.Remove(written[i])
		}
		for i := len(made) - 1; i >= 0; i-- {
			os.Remove(made[i]) // fails, as it should, if somebody else has put a file into it
		}
	}()
	names := slices.Sorted(maps.Keys(files))
	var held taken
	for _, p := range names {
		if err := staysWithin(dir, p); err != nil {
			return nil, err
		}
		at, there, err := place(dir, p)
		if err != nil {
			return nil, err
		}
		if there {
			held.paths = append(held.paths, at)
		}
	}
	if len(held.paths) > 0 {
		return nil, &held
	}
	for _, p := range names {
		at := filepath.Join(dir, filepath.FromSlash(p))
		more, err := makeFolders(filepath.Dir(at))
		made = append(made, more...)
		if err != nil {
			return written, err
		}
		if err := writeNew(at, files[p]); err != nil {
			if !errors.Is(err, fs.ErrExist) {
				written = append(written, at) // part of it may be there
			}
			return written, err
		}
		written = append(written, at)
	}
	return written, nil
}

// staysWithin refuses a path that leads out of the folder by a symbolic link.
func staysWithin(dir, p string) error {
	root, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil // the folder does not exist yet
	}
	for above := path.Dir(p); above != "."; above = path.Dir(above) {
		real, err := filepath.EvalSymlinks(filepath.Join(dir, filepath.FromSlash(above)))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		if rest, err := filepath.Rel(root, real); err != nil || !filepath.IsLocal(rest) {
			return &fs.PathError{Op: "write", Path: filepath.Join(dir, filepath.FromSlash(p)), Err: errors.New("a symbolic link leads out of the folder there")}
		}
		return nil
	}
	return nil
}

// place tells where a file goes, and whether anything is there, even under a name that differs only
// in case, since some disks do not tell the two apart.
func place(dir, p string) (at string, there bool, err error) {
	at = filepath.Join(dir, filepath.FromSlash(p))
	entries, err := os.ReadDir(filepath.Dir(at))
	if errors.Is(err, fs.ErrNotExist) {
		return at, false, nil
	}
	for _, e := range entries {
		if strings.EqualFold(e.Name(), path.Base(p)) {
			return filepath.Join(filepath.Dir(at), e.Name()), true, nil
		}
	}
	return at, false, err
}

// makeFolders makes a folder and those above it, and returns those that were missing.
func makeFolders(dir string) (made []string, err error) {
	if info, err := os.Stat(dir); err == nil {
		if !info.IsDir() {
			return nil, &fs.PathError{Op: "mkdir", Path: dir, Err: errors.New("it is a file")}
		}
		return nil, nil
	}
	if above := filepath.Dir(dir); above != dir {
		if made, err = makeFolders(above); err != nil {
			return made, err
		}
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return made, nil // somebody else was quicker
		}
		return made, err
	}
	return append(made, dir), nil
}

// writeNew writes a file that must not exist yet.
func writeNew(at string, raw []byte) error {
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(raw)
	return errors.Join(err, f.Close())
}
