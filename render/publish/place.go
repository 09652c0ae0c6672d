package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// place is where a site is published: the folder, and the hidden names beside it.
type place struct {
	said   string // as the caller wrote it, for messages
	target string // absolute, the parent's symbolic links resolved
	parent string
	base   string
}

// Names beside the published folder. All start with a dot, so that neither a listing nor a build of
// the folder around them picks them up.
func (p place) lockFile() string   { return filepath.Join(p.parent, "."+p.base+".publishing") }
func (p place) nextPrefix() string { return "." + p.base + ".next-" }
func (p place) lastPrefix() string { return "." + p.base + ".last-" }

// locate checks that dir is a place that may be published into.
func locate(dir, content string) (place, error) {
	if strings.TrimSpace(dir) == "" {
		return place{}, refuse("no folder to publish into was given", "Name one, for example public/customers.")
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return place{}, fmt.Errorf("finding the folder %s: %w", dir, err)
	}
	p := place{said: dir, target: abs, parent: filepath.Dir(abs), base: filepath.Base(abs)}
	if p.parent == p.target {
		return place{}, refuse(fmt.Sprintf("%s is the top of a disk, not a folder to publish into", dir), "Choose a folder inside it.")
	}
	if p.parent, err = resolve(p.parent); err != nil {
		return place{}, p.parentTrouble(err)
	}
	p.target = filepath.Join(p.parent, p.base)

	info, err := os.Lstat(p.target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return place{}, p.parentTrouble(err)
	case info.Mode()&fs.ModeSymlink != 0:
		to, _ := os.Readlink(p.target)
		return place{}, refuse(fmt.Sprintf("%s is a symbolic link to %s, and an exchange would replace the link instead of the folder", dir, to),
			fmt.Sprintf("Publish into %s itself, or delete the link.", to))
	case !info.IsDir():
		return place{}, refuse(fmt.Sprintf("%s is a file, not a folder", dir), "Move the file away, or choose another name for the folder.")
	}
	if content != "" {
		inside, err := within(content, p.target)
		if err != nil {
			return place{}, fmt.Errorf("finding the content folder %s: %w", content, err)
		}
		if inside {
			return place{}, refuse(fmt.Sprintf("%s holds the content folder %s, which a publish would replace", dir, content),
				"Choose a folder of its own for the published site, for example public.")
		}
	}
	return p, nil
}

// resolve follows the symbolic links of a path, part of which may not exist yet.
func resolve(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if err == nil || !errors.Is(err, fs.ErrNotExist) || filepath.Dir(path) == path {
		return real, err
	}
	up, err := resolve(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	return filepath.Join(up, filepath.Base(path)), nil
}

// within reports whether path is the folder around or is inside it. It asks the file system which
// folders are the same, since one folder can have several spellings (case, short names, links).
func within(path, around string) (bool, error) {
	outer, err := os.Stat(around)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return false, err
	}
	if abs, err = resolve(abs); err != nil {
		return false, err
	}
	for ; ; abs = filepath.Dir(abs) {
		if info, err := os.Stat(abs); err == nil && os.SameFile(info, outer) {
			return true, nil
		}
		if filepath.Dir(abs) == abs {
			return false, nil
		}
	}
}
