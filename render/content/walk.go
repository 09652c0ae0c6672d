package content

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"syscall"

	"labsite/recipes/approval"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// walk lists the pages, and notes the other files. Names that begin with a full stop are ignored, and
// so is the folder of the lab's own theme.
func (c *Content) walk() []string {
	var pages []string
	c.walkSaid = nil
	say := func(p source.Problem, file string) { c.walkSaid = append(c.walkSaid, p.AtFile(file)) }
	fs.WalkDir(c.fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			say(source.CannotRead(systemError(err)), p)
			return nil
		}
		if p != "." && strings.HasPrefix(d.Name(), ".") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if d.IsDir() {
			if p == c.theme.path {
				return fs.SkipDir
			}
			return nil
		}
		if !c.admissible(p, d, say) {
			return nil
		}
		c.stamps[p] = c.stampOf(p)
		if isRecord(p) {
			c.recorded[p] = true
			if _, _, is := approval.Of(p); !is {
				say(source.NoRecordFile(p), p)
			}
			return nil
		}
		if strings.HasSuffix(p, ".md") {
			pages = append(pages, p)
			return nil
		}
		c.files[p] = true
		if name := meantName(p); name != "" {
			say(source.NameMeant(name), p)
		}
		return nil
	})
	pages = c.addUnsaved(pages)
	if len(pages) == 0 && c.walkSaid.Errors() == 0 && c.settingsSaid.Errors() == 0 {
		say(source.NoPages(), ".")
	}
	return pages
}

// admissible reports whether a name counts as a file, and reports it if not: a symbolic link to a folder,
// to nothing or to a place outside does not. A pipe or a device does, and is reported when it is read.
func (c *Content) admissible(p string, d fs.DirEntry, say func(source.Problem, string)) bool {
	if d.Type()&fs.ModeSymlink == 0 {
		return true
	}
	info, err := c.root.Stat(p)
	switch {
	case errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ELOOP):
		say(source.LinkToNoFile(), p)
		return false
	case err != nil:
		say(source.LinkOutside(), p)
		return false
	case info.IsDir():
		say(source.LinkToFolder(), p)
		return false
	}
	c.links[p] = true
	return true
}

// meantName is what a file should be called that is ignored only because of its name, such as a page
// that ends in .MD or settings that end in .yml; "" for all others.
func meantName(p string) string {
	dir, base := path.Split(p)
	stem, ending := base[:len(base)-len(path.Ext(base))], strings.ToLower(path.Ext(base))
	named := ""
	switch {
	case ending == ".md" || ending == ".markdown":
		named = stem + ".md"
	case ending != ".yaml" && ending != ".yml":
	case dir == "formulary/":
		named = stem + ".yaml"
	case dir == "" && slices.Contains([]string{page.SettingsFile, hazard.OwnFile}, strings.ToLower(stem)+".yaml"):
		named = strings.ToLower(stem) + ".yaml"
	}
	if named == base {
		return ""
	}
	return named
}
