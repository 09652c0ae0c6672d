package content

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// stamp tells two states of a file apart without reading it. It decides only whether a file is read
// again; whether a page must be made again depends on sums of bytes.
type stamp struct {
	size int64
	time int64
	info os.FileInfo
}

func (a stamp) same(b stamp) bool {
	return a.size == b.size && a.time == b.time && (a.info == nil) == (b.info == nil) && (a.info == nil || os.SameFile(a.info, b.info))
}

func (c *Content) stampOf(p string) stamp {
	info, err := c.root.Stat(p)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime().UnixNano(), info}
}

// Touched is what an update found to have changed.
type Touched struct {
	// Files are those that changed, came or went, by path.
	Files []string
	// Theme says that the lab's theme must be loaded again; Style that its style sheets changed.
	Theme, Style bool
}

// Update looks at files and folders that may have changed, or at the whole folder if it is given none.
// Paths are relative to the folder, with slashes.
func (c *Content) Update(paths []string) Touched {
	u := &update{content: c, touched: map[string]bool{}}
	u.look(paths)
	if len(u.touched) > 0 {
		u.apply()
	}
	out := Touched{Theme: u.theme}
	for p := range u.touched {
		out.Files = append(out.Files, p)
		out.Style = out.Style || c.theme.holds(p) && path.Ext(p) == ".css"
	}
	slices.Sort(out.Files)
	return out
}

// Turn sets the day.
func (c *Content) Turn(day time.Time) {
	c.Day = day
	c.readSubstances()
	c.settleRevisions()
	c.arrange()
}

type update struct {
	content *Content
	touched map[string]bool // files that changed, came or went
	theme   bool
}

// isIgnored reports whether a part of a path begins with a full stop; such files are ignored.
func isIgnored(p string) bool {
	for part := range strings.SplitSeq(p, "/") {
		if strings.HasPrefix(part, ".") && part != "." {
			return true
		}
	}
	return false
}

// look finds the files that changed among those named.
func (u *update) look(paths []string) {
	c := u.content
	whole := len(paths) == 0
	for _, p := range paths {
		p = path.Clean(p)
		if isIgnored(p) || p == ".." || strings.HasPrefix(p, "../") {
			continue
		}
		if c.theme.holds(p) {
			u.touched[p] = true
			if c.theme.path != "" {
				continue
			} // otherwise it is read like an ordinary folder
		}
		whole = u.lookAt(p) || whole
	}
	if whole {
		u.rewalk()
		return
	}
	for p := range c.links { // a change of the file behind a link is not reported
		if now := c.stampOf(p); !now.same(c.stamps[p]) {
			c.stamps[p] = now
			u.touched[p] = true
		}
	}
}

// lookAt looks at one path; it is true if the whole folder must be walked again.
func (u *update) lookAt(p string) bool {
	c := u.content
	info, err := c.root.Lstat(p)
	if err == nil && c.links[p] {
		info, err = c.root.Stat(p)
	}
	if isRecord(p) {
		return true
	}
	known := c.byPath[p] != nil || c.files[p]
	regular := err == nil && info.Mode().IsRegular() || c.unsaved[p] != nil
	switch {
	case regular && known:
		u.touched[p] = true
		c.stamps[p] = c.stampOf(p)
		return false
	case len(c.walkSaid) > 0: // what was reported about the folder may no longer hold
		u.touched[p] = u.touched[p] || known
		return true
	case regular && len(c.Pages) > 0 && meantName(p) == "":
		u.admit(p)
		return false
	case err != nil && known && len(c.Pages) > 1:
		u.dismiss(p)
		return false
	case err != nil && !known && !c.holds(p):
		return false // an editor's file that came and went
	}
	if err == nil && !info.IsDir() && known {
		u.touched[p] = true
	}
	return true
}

// holds reports whether any known file is in a folder.
func (c *Content) holds(folder string) bool {
	for p := range c.stamps {
		if strings.HasPrefix(p, folder+"/") {
			return true
		}
	}
	return false
}

// admit adds a new file.
func (u *update) admit(p string) {
	c := u.content
	u.touched[p] = true
	c.stamps[p] = c.stampOf(p)
	if strings.HasSuffix(p, ".md") {
		c.insert(&Page{Path: p})
	} else {
		c.files[p] = true
	}
}

// insert adds a page, or replaces the one with its path.
func (c *Content) insert(p *Page) {
	at, is := slices.BinarySearchFunc(c.Pages, p.Path, func(x *Page, path string) int { return strings.Compare(x.Path, path) })
	if is {
		c.Pages[at] = p
	} else {
		c.Pages = slices.Insert(c.Pages, at, p)
	}
	c.byPath[p.Path] = p
}

// dismiss removes a file that is gone.
func (u *update) dismiss(p string) {
	c := u.content
	u.touched[p] = true
	delete(c.stamps, p)
	delete(c.files, p)
	if c.byPath[p] != nil {
		delete(c.byPath, p)
		c.Pages = slices.DeleteFunc(c.Pages, func(x *Page) bool { return x.Path == p })
	}
}

// rewalk walks the folder again and compares what it finds with what was known.
func (u *update) rewalk() {
	c := u.content
	stamps, files, said := c.stamps, c.files, c.walkSaid
	c.stamps, c.links, c.files, c.recorded = map[string]stamp{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	pages := c.walk()
	c.rememberTheme()
	u.touchSaid(said, c.walkSaid)
	u.touchSaid(c.walkSaid, said)
	for p, now := range c.stamps {
		if old, was := stamps[p]; !was || !old.same(now) {
			u.touched[p] = true
		}
	}
	for p := range stamps {
		if _, is := c.stamps[p]; !is {
			u.touched[p] = true
		}
	}
	for p := range c.files {
		u.touched[p] = u.touched[p] || !files[p]
	}
	for p := range files {
		u.touched[p] = u.touched[p] || !c.files[p]
	}
	for p := range u.touched {
		if !u.touched[p] {
			delete(u.touched, p)
		}
	}
	there := make(map[string]bool, len(pages))
	for _, p := range pages {
		there[p] = true
		if c.byPath[p] == nil {
			u.touched[p] = true
			c.insert(&Page{Path: p})
		}
	}
	for _, p := range slices.Clone(c.Pages) {
		if !there[p.Path] {
			u.dismissPage(p)
		}
	}
}

// touchSaid touches the paths of reports that are gone: these may never have been files, such as a link
// that led outside.
func (u *update) touchSaid(before, now source.List) {
	for _, d := range before {
		if !slices.Contains(now, d) {
			u.touched[d.File] = true
		}
	}
}

func (u *update) dismissPage(p *Page) {
	u.touched[p.Path] = true
	delete(u.content.byPath, p.Path)
	u.content.Pages = slices.DeleteFunc(u.content.Pages, func(x *Page) bool { return x == p })
}

// rememberTheme keeps the stamps of the lab's theme files, which the walk skips.
func (c *Content) rememberTheme() {
	theme := c.theme.path
	if theme == "" {
		return
	}
	entries, err := fs.ReadDir(c.fsys, theme)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			p := path.Join(theme, e.Name())
			c.stamps[p] = c.stampOf(p)
		}
	}
}

// apply reads what was touched again, and settles sections, audiences and numbers anew.
func (u *update) apply() {
	c := u.content
	if u.touched[page.SettingsFile] {
		c.readSettings()
	}
	u.theme = u.rechooseTheme()
	formulas := false
	for p := range u.touched {
		formulas = formulas || path.Dir(p) == formulasFolder
	}
	if formulas {
		c.readFormulas()
	}
	if u.touched[hazard.OwnFile] {
		c.readSubstances()
	}
	for p := range u.touched {
		if old := c.byPath[p]; old != nil {
			if old.Waiting != nil {
				old = old.Waiting
			}
			if now := c.readPage(p); now.Sum != old.Sum || old.File == nil {
				c.insert(now)
			}
			continue
		}
		c.tables.forget(p)
		c.placed.forget(p)
		c.sums.forget(p)
		if isRecord(p) {
			c.forgetRecord(p)
		}
	}
	c.settleRevisions()
	c.arrange()
}

// Again finds what must be looked at although no change was reported: files that could not be read
// and now can, as after too many were open, and files behind symbolic links. whole says that it is
// the whole folder.
func (c *Content) Again() (paths []string, whole bool) {
	for p := range c.links {
		if now := c.stampOf(p); !now.same(c.stamps[p]) {
			paths = append(paths, p)
		}
	}
	try := func(list source.List) {
		for _, d := range list {
			if d.Code == unreadCode && c.canRead(d.File) {
				paths = append(paths, d.File)
			}
		}
	}
	for _, d := range c.walkSaid {
		whole = whole || d.Code == unreadCode && c.canRead(d.File)
	}
	try(slices.Concat(c.settingsSaid, c.formulasSaid, c.substancesSaid))
	for _, p := range c.Pages {
		try(p.Said)
	}
	try(c.tables.allErrors())
	for _, p := range c.placed.unread() {
		if c.canRead(p) {
			paths = append(paths, p)
		}
	}
	return paths, whole
}

var unreadCode = source.CannotRead("").Code

// canRead reports whether a file or folder can now be read.
func (c *Content) canRead(p string) bool {
	f, err := c.fsys.Open(p)
	if err != nil {
		return false
	}
	defer f.Close()
	if folder, is := f.(fs.ReadDirFile); is {
		if info, err := f.Stat(); err == nil && info.IsDir() {
			_, err := folder.ReadDir(1)
			return err == nil || errors.Is(err, io.EOF)
		}
	}
	_, err = f.Read(make([]byte, 1))
	return err == nil || errors.Is(err, io.EOF)
}

// Same reports whether a folder is the one that was read.
func (c *Content) Same(folder os.FileInfo) bool {
	own, err := c.root.Stat(".")
	return err == nil && os.SameFile(own, folder)
}
