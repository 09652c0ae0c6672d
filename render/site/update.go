package site

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// stamp tells two states of a file apart without reading it.
type stamp struct {
	size int64
	time int64
	info os.FileInfo
}

func (a stamp) same(b stamp) bool {
	return a.size == b.size && a.time == b.time && (a.info == nil) == (b.info == nil) && (a.info == nil || os.SameFile(a.info, b.info))
}

func stampOf(root *os.Root, p string) stamp {
	info, err := root.Stat(p)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime().UnixNano(), info}
}

// Changed says what an update found to be different.
type Changed struct {
	// Files are those whose bytes changed, that came or that went, by path.
	Files []string
	// Pages is how many pages must be worked out again.
	Pages int
	// Style says that style sheets of the lab's theme are among them.
	Style bool
}

// Update looks at files and folders that may have changed, and at all of the content folder
// where it is given none. Paths are relative to it, with slashes. A file is read again only
// if it was named or looks different; the pages that depend on it wait to be worked out
// again until they are asked for, or until Work comes to them.
func (s *Site) Update(paths []string) Changed {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	u := &update{site: s, touched: map[string]bool{}, forgot: map[*Topic]bool{}}
	u.look(paths)
	if len(u.touched) > 0 {
		u.apply()
		s.open.turn()
	}
	var c Changed
	for p := range u.touched {
		c.Files = append(c.Files, p)
	}
	slices.Sort(c.Files)
	c.Pages = len(u.forgot)
	for _, p := range c.Files {
		c.Style = c.Style || s.Settings.Theme != "" && within(p, path.Clean(s.Settings.Theme)) && path.Ext(p) == ".css"
	}
	return c
}

type update struct {
	site    *Site
	touched map[string]bool // files that changed, came or went
	forgot  map[*Topic]bool
	moved   bool // the list of files or the heads of pages changed
}

func within(p, folder string) bool {
	return folder == "." || p == folder || strings.HasPrefix(p, folder+"/")
}

// outOfSight tells paths that begin with a full stop somewhere; nothing looks at them.
func outOfSight(p string) bool {
	for part := range strings.SplitSeq(p, "/") {
		if strings.HasPrefix(part, ".") && part != "." {
			return true
		}
	}
	return false
}

// look finds the files that changed among those named.
func (u *update) look(paths []string) {
	s, o := u.site, u.site.open
	whole := len(paths) == 0
	for _, p := range paths {
		p = path.Clean(p)
		if outOfSight(p) || p == ".." || strings.HasPrefix(p, "../") {
			continue
		}
		if theme := path.Clean(s.Settings.Theme); theme != "." && within(p, theme) {
			u.touched[p] = true
			continue
		}
		info, err := o.root.Lstat(p)
		if err == nil && o.links[p] {
			info, err = o.root.Stat(p)
		}
		_, known := s.byPath[p]
		known = known || s.files[p]
		if err == nil && info.Mode().IsRegular() && known {
			u.touched[p] = true
			o.stamps[p] = stampOf(o.root, p)
			continue
		}
		switch {
		case len(o.walk) > 0: // what was said of the folder may not hold any more
			whole = true
			if known {
				u.touched[p] = true
			}
		case err == nil && info.Mode().IsRegular() && len(s.Topics) > 0 && meantName(p) == "":
			u.admit(p)
		case err != nil && known && len(s.Topics) > 1:
			u.dismiss(p)
		case err != nil && !known && !o.holds(p):
			// an editor's file that came and went
		default:
			whole = true
			if err == nil && !info.IsDir() && known {
				u.touched[p] = true
			}
		}
	}
	if whole {
		u.rewalk()
		return
	}
	for p := range o.links { // nobody tells of a link when its file changes
		if now := stampOf(o.root, p); !now.same(o.stamps[p]) {
			o.stamps[p] = now
			u.touched[p] = true
		}
	}
}

// Again finds what is to be looked at though nobody told of a change: files that the system
// did not give and gives now, as when it had too many open, and files that symbolic links
// lead to. whole says that all of the folder is.
func (s *Site) Again() (paths []string, whole bool) {
	o := s.open
	o.mu.Lock()
	defer o.mu.Unlock()
	for p := range o.links {
		if now := stampOf(o.root, p); !now.same(o.stamps[p]) {
			paths = append(paths, p)
		}
	}
	try := func(list source.List) {
		for _, d := range list {
			if d.Code == unreadCode && s.gives(d.File) {
				paths = append(paths, d.File)
			}
		}
	}
	for _, d := range o.walk {
		whole = whole || d.Code == unreadCode && s.gives(d.File)
	}
	try(slices.Concat(o.settings, o.trades, o.hazards, o.theme))
	for _, t := range s.Topics {
		try(t.first)
	}
	try(s.tables.lists(nil))
	for p, pic := range s.pictures {
		if pic.unread != nil && s.gives(p) {
			paths = append(paths, p)
		}
	}
	return paths, whole
}

var unreadCode = source.CannotRead("").Code

// gives tells whether a file or folder can be read now.
func (s *Site) gives(p string) bool {
	f, err := s.content.Open(p)
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

// holds tells whether anything is known in a folder.
func (o *opened) holds(folder string) bool {
	for p := range o.stamps {
		if strings.HasPrefix(p, folder+"/") {
			return true
		}
	}
	return false
}

// admit takes a new file in.
func (u *update) admit(p string) {
	s := u.site
	u.touched[p], u.moved = true, true
	s.open.stamps[p] = stampOf(s.open.root, p)
	if strings.HasSuffix(p, ".md") {
		s.newcomer(p)
	} else {
		s.files[p] = true
	}
}

// newcomer adds a page that has not been read yet.
func (s *Site) newcomer(p string) {
	t := &Topic{Path: p, drafts: s.drafts}
	t.File, _ = source.New(p, nil)
	s.byPath[p] = t
	at, _ := slices.BinarySearchFunc(s.Topics, p, func(t *Topic, p string) int { return strings.Compare(t.Path, p) })
	s.Topics = slices.Insert(s.Topics, at, t)
}

// dismiss lets go of a file that is gone.
func (u *update) dismiss(p string) {
	s := u.site
	u.touched[p], u.moved = true, true
	delete(s.open.stamps, p)
	delete(s.files, p)
	if t := s.byPath[p]; t != nil {
		s.drop(t)
		s.Topics = slices.DeleteFunc(s.Topics, func(x *Topic) bool { return x == t })
	}
}

// rewalk goes through the folder anew and compares what it finds with what was known.
func (u *update) rewalk() {
	s, o := u.site, u.site.open
	before := o.stamps
	o.stamps, o.links = map[string]stamp{}, map[string]bool{}
	files := s.files
	s.files = map[string]bool{}
	var pages []string
	o.walk = s.gather(func() { pages = s.walk(o.root) })
	s.remember()
	for p, now := range o.stamps {
		if old, was := before[p]; !was || !old.same(now) {
			u.touched[p] = true
		}
	}
	for p := range before {
		if _, is := o.stamps[p]; !is {
			u.touched[p] = true
		}
	}
	for p := range s.files {
		if !files[p] {
			u.touched[p], u.moved = true, true
		}
	}
	for p := range files {
		if !s.files[p] {
			u.touched[p], u.moved = true, true
		}
	}
	there := make(map[string]bool, len(pages))
	for _, p := range pages {
		there[p] = true
		if s.byPath[p] == nil {
			u.touched[p], u.moved = true, true
			s.newcomer(p)
		}
	}
	s.Topics = slices.DeleteFunc(s.Topics, func(t *Topic) bool {
		if there[t.Path] {
			return false
		}
		u.touched[t.Path], u.moved = true, true
		s.drop(t)
		return true
	})
}

// drop takes a page out of the site.
func (s *Site) drop(t *Topic) {
	for p := range t.state.takes {
		delete(s.open.needs[p], t)
	}
	for full := range t.state.placed {
		if p := s.pictures[full]; p != nil {
			p.uses = slices.DeleteFunc(p.uses, func(x use) bool { return x.topic == t })
			if len(p.uses) == 0 {
				delete(s.pictures, full)
			}
		}
	}
	delete(s.byPath, t.Path)
}

// remember keeps the looks of the files of the lab's theme, which the walk passes by.
func (s *Site) remember() {
	theme := path.Clean(s.Settings.Theme)
	if s.Settings.Theme == "" {
		return
	}
	entries, err := fs.ReadDir(s.content, theme)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			p := path.Join(theme, e.Name())
			s.open.stamps[p] = stampOf(s.open.root, p)
		}
	}
}

// apply reads what was touched and forgets what depended on it. Settings and the theme
// change how pages look and nothing that is worked out.
func (u *update) apply() {
	s, o := u.site, u.site.open
	theme := false
	if u.touched[sheet.SettingsFile] {
		old := s.Settings
		s.Settings = sheet.DefaultSettings()
		o.settings = s.gather(s.readSettings)
		if s.Settings.Theme != old.Theme {
			theme = true
			u.rewalk()
		}
	}
	trades := false
	for p := range u.touched {
		if s.Settings.Theme != "" && within(p, path.Clean(s.Settings.Theme)) {
			theme = true
		}
		trades = trades || path.Dir(p) == "formulary"
	}
	if theme || u.touched[sheet.SettingsFile] {
		clear(o.navs)
	}
	if theme {
		o.theme = s.gather(s.loadTheme)
	}
	if trades {
		old, broken := s.Formulary, s.tradesBroken
		o.trades = s.gather(s.readFormulary)
		if broken != s.tradesBroken { // whether those that call one hold is told anew
			u.users(everyCall, false)
			for _, e := range slices.Concat(old.All(), s.Formulary.All()) {
				if e.Own {
					u.users(callPrefix+e.Name, false)
				}
			}
		}
		for _, key := range traded(old, s.Formulary) {
			u.users(key, false)
		}
	}
	if u.touched[hazard.OwnFile] {
		u.rereadHazards()
	}
	var pages []*Topic
	for p := range u.touched {
		if t := s.byPath[p]; t != nil {
			pages = append(pages, t)
			continue
		}
		s.tables.forget(p)
		if pic := s.pictures[p]; pic != nil {
			*pic = picture{uses: pic.uses}
		}
		u.users(p, true)
	}
	heads := u.moved
	faces := map[*Topic]string{}
	for _, t := range pages {
		file, first := s.readFile(t.Path)
		if t.state.known && file.Text == t.File.Text && fmt.Sprint(first) == fmt.Sprint(t.first) {
			continue
		}
		old := t.state.head
		faces[t], t.state.face = t.state.face, "" // not known, until it is worked out
		t.File, t.first = file, first
		t.state.head = readHead(file)
		s.forget(t) // though it may have been forgotten with its old text
		u.forgot[t] = true
		if !sameHead(old, t.state.head) {
			heads = true
		}
		u.users(t.Path, false)
	}
	if u.moved {
		for _, t := range s.Topics {
			if t.state.searched {
				u.forget(t)
			}
		}
	}
	if heads {
		s.arrangeAgain()
	}
	// Pages that lead to a page see no more of it than its face.
	few := len(faces) <= 16
	for t, old := range faces {
		if few && !u.moved {
			s.ready(t)
		}
		if old == "" || t.state.face != old {
			u.users(t.Path, true)
		}
	}
}

// forget says that a page must be worked out again.
func (u *update) forget(t *Topic) {
	if !u.forgot[t] {
		u.forgot[t] = true
		u.site.forget(t)
		u.users(t.Path, false)
	}
}

// users forgets the pages that draw on a file or read it, near and far, and with places
// those that lead to it.
func (u *update) users(p string, places bool) {
	for t := range u.site.open.needs[p] {
		how := t.state.takes[p]
		if how&(takesPage|takesData|takesName) != 0 || places && how&takesPlace != 0 {
			u.forget(t)
		}
	}
}

func (t *tables) forget(p string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.read, p)
}
