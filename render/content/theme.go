package content

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// themeFolder is the lab's own theme, as its settings name it and as it was found.
type themeFolder struct {
	// named is the folder's path in the content folder; "" if the settings name none, or
	// one that can never be a theme.
	named string
	// path is the same as named if the folder may be a theme, and "" if wrong says why not. The
	// folder is then read like any other, so that its pages are not reported as missing.
	path  string
	wrong source.List
}

// holds reports whether a file is, or would be, one of the theme's.
func (t *themeFolder) holds(p string) bool { return t.named != "" && Within(p, t.named) }

// chooseTheme finds the theme folder that the settings name. All files of a theme reach readers of both
// audiences, so a folder with a page in it cannot be a theme.
func (c *Content) chooseTheme() {
	c.theme = themeFolder{}
	name := c.Settings.Theme
	if name == "" {
		return
	}
	clean := path.Clean(name)
	var problem *source.Problem
	switch {
	case path.IsAbs(clean) || Within(clean, ".."):
		problem = new(source.PathOutside(name))
	case clean == ".":
		problem = new(source.ThemeTop(name))
	default:
		c.theme.named = clean
		problem = c.notTheme(clean)
	}
	if problem != nil {
		c.theme.wrong = source.List{problem.At(c.Settings.ThemeAt)}
		return
	}
	c.theme.path = clean
}

// notTheme says why a folder cannot be a theme; nil if it can.
func (c *Content) notTheme(folder string) *source.Problem {
	if isIgnored(folder) {
		return new(source.ThemeHidden(folder))
	}
	for end := range len(folder) + 1 {
		if end < len(folder) && folder[end] != '/' {
			continue
		}
		if problem := c.notFolder(folder[:end]); problem != nil {
			return problem
		}
	}
	page, err := firstPage(c.fsys, folder)
	switch {
	case errors.Is(err, errMany):
		return new(source.ThemeMany(folder, mostThemeFiles))
	case err != nil:
		return new(source.ThemeFolder(systemError(err)))
	case page != "":
		return new(source.ThemePages(folder, page))
	}
	return nil
}

// notFolder says why a path is not a real folder; nil if it is. The name is compared with the entries of
// the folder above: a disk that does not tell Bench from bench would open either, but the pages in it
// have only one of these paths.
func (c *Content) notFolder(p string) *source.Problem {
	entries, err := fs.ReadDir(c.fsys, path.Dir(p))
	if err != nil {
		return new(source.ThemeFolder(systemError(err)))
	}
	var folders []string
	for _, e := range entries {
		switch {
		case e.Name() != path.Base(p):
			if e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
				folders = append(folders, path.Join(path.Dir(p), e.Name()))
			}
		case e.Type()&fs.ModeSymlink != 0:
			return new(source.ThemeLinked(p))
		case !e.IsDir():
			return new(source.ThemeNoFolder(p))
		default:
			return nil
		}
	}
	return new(source.ThemeNowhere(p, source.Nearest(p, folders)))
}

// mostThemeFiles is how many files a theme may have.
const mostThemeFiles = 200

var errMany = errors.New("more files than a theme has")

// firstPage finds a page in a folder or its subfolders; "" if there is none.
func firstPage(fsys fs.FS, folder string) (string, error) {
	page, files := "", 0
	err := fs.WalkDir(fsys, folder, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case strings.HasPrefix(d.Name(), "."):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			return nil
		}
		switch strings.ToLower(path.Ext(p)) {
		case ".md", ".markdown":
			page = p
			return fs.SkipAll
		}
		if files++; files > mostThemeFiles {
			return errMany
		}
		return nil
	})
	return page, err
}

// rechooseTheme looks at the theme folder again if the settings or its files changed, and reports whether
// the theme must be loaded again.
func (u *update) rechooseTheme() bool {
	c := u.content
	changed := false
	for p := range u.touched {
		changed = changed || c.theme.holds(p)
	}
	if !changed && !u.touched[page.SettingsFile] {
		return false
	}
	old := c.theme
	c.chooseTheme()
	if old.path != c.theme.path {
		u.rewalk()
	}
	return changed || old.path != c.theme.path || fmt.Sprint(old.wrong) != fmt.Sprint(c.theme.wrong)
}

// Theme returns the folder of the lab's own theme, its path, and its errors; the folder is nil if there
// is none.
func (c *Content) Theme() (folder fs.FS, path string, wrong source.List) {
	if c.theme.path == "" {
		return nil, "", c.theme.wrong
	}
	sub, err := fs.Sub(c.fsys, c.theme.path)
	if err != nil {
		return nil, "", source.List{source.ThemeFolder(systemError(err)).AtFile(c.theme.path)}
	}
	return sub, c.theme.path, c.theme.wrong
}
