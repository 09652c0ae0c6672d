// Package site makes a whole site out of a content folder: it reads the pages, works
// them out, checks links and audiences, and fills the theme's templates. The result is
// a set of files in memory.
//
// It writes nothing to a disk, serves nothing and prints nothing: publishing and
// previewing are other packages, and diagnostics are handed to the caller.
package site

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"labsite/recipes/formulary"
	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// Options say how a content folder is read.
type Options struct {
	// Today decides which reviews are overdue.
	Today time.Time
	// Progress, where set, is told how many pages of how many are done.
	Progress func(done, total int)
	// Drafts shows pages that are drafts as well; a published site never does.
	Drafts bool
}

// Site is a content folder that was read and worked out.
type Site struct {
	Settings  sheet.Settings
	Top       *Folder
	Topics    []*Topic // by path
	Today     time.Time
	List      source.List
	templates *Templates
	content   fs.FS
	byPath    map[string]*Topic
	files     map[string]bool // every file that is no page
	pictures  map[string]*picture
	pictureMu sync.Mutex
	tables    tables
	drafts    bool
	// open is what a site that can be updated keeps; nil for one that was loaded.
	open *opened
	// Hazards are the lab's own substances and sheets.
	Hazards *hazard.OwnSheets
	// Formulary are the bench formulas, the lab's own among them.
	Formulary *formulary.Set
	// tradesBroken and hazardsBroken say that the lab's own bench formulas, or substances,
	// have errors, so that some that pages name are not there.
	tradesBroken, hazardsBroken bool
}

// Topic is one page of the content folder.
type Topic struct {
	Path   string // relative to the content folder
	File   *source.File
	Sheet  *sheet.Sheet // nil where the front matter cannot be read
	Body   *markdown.Document
	Proof  *sheet.Proof // nil where the sheet has errors
	Folder *Folder

	list     source.List
	values   *binder
	leaf     *leaf // what its script is written from; nil where a reader can set nothing
	Resolved bool  // all kinds are known and nothing is wrong with the page
	resolved uint8
	working  sync.Once // while a site is loaded: whoever needs the page first works it out

	first  source.List // what was said of the file's bytes
	clash  source.List // what was said beside the other pages: one address or number twice
	drafts bool        // drafts are shown
	sorted string      // what lists are sorted by
	state  topicState
}

// Folder is a folder of the content, a section of the site.
type Folder struct {
	Path    string // "" for the top
	Parent  *Folder
	Index   *Topic // its index.md, or nil
	Topics  []*Topic
	Folders []*Folder
	Staff   bool // everything in it is the staff's
}

// Load reads a content folder and works out all its pages. The site is nil only where
// the folder cannot be read at all or ctx ends.
func Load(ctx context.Context, dir string, opt Options) (*Site, source.List) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, source.List{source.NoContent(dir, systemError(err)).AtFile(dir)}
	}
	defer root.Close()
	s := newSite(root, opt)
	s.readSettings()
	paths := s.walk(root)
	s.readFormulary()
	s.readHazards()
	s.readPages(ctx, paths)
	s.arrange()
	s.loadTheme()
	s.workOut(ctx, opt)
	if ctx.Err() != nil {
		return nil, nil
	}
	s.readPictures()
	for _, t := range s.Topics {
		s.List = append(s.List, t.list...)
	}
	s.List = append(s.List, s.tables.lists(nil)...)
	s.List = s.List.Sorted()
	return s, s.List
}

func newSite(root *os.Root, opt Options) *Site {
	return &Site{Today: opt.Today, Settings: sheet.DefaultSettings(), content: root.FS(), drafts: opt.Drafts,
		byPath: map[string]*Topic{}, files: map[string]bool{}, pictures: map[string]*picture{}}
}

func systemError(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

func (s *Site) report(d source.Diagnostic) { s.List = append(s.List, d) }

func (s *Site) readSettings() {
	raw, err := fs.ReadFile(s.content, sheet.SettingsFile)
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	if err != nil {
		s.report(source.CannotRead(systemError(err)).AtFile(sheet.SettingsFile))
		return
	}
	f, list := source.New(sheet.SettingsFile, raw)
	s.List = append(s.List, list...)
	settings, list := sheet.DecodeSettings(f)
	s.Settings = settings
	s.List = append(s.List, list...)
}

// walk lists the pages, and remembers the other files.
func (s *Site) walk(root *os.Root) []string {
	var pages []string
	fs.WalkDir(s.content, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			s.report(source.CannotRead(systemError(err)).AtFile(p))
			return nil
		}
		if p != "." && strings.HasPrefix(d.Name(), ".") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if d.IsDir() {
			if p != "." && p == path.Clean(s.Settings.Theme) {
				return fs.SkipDir
			}
			return nil
		}
		if d.Type()&fs.ModeSymlink != 0 {
			info, err := root.Stat(p)
			switch {
			case errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ELOOP):
				s.report(source.LinkToNoFile().AtFile(p))
				return nil
			case err != nil:
				s.report(source.LinkOutside().AtFile(p))
				return nil
			case info.IsDir():
				s.report(source.LinkToFolder().AtFile(p))
				return nil
			case !info.Mode().IsRegular(): // a pipe would be waited for
				return nil
			}
			if s.open != nil {
				s.open.links[p] = true
			}
		} else if !d.Type().IsRegular() {
			return nil
		}
		if s.open != nil {
			s.open.stamps[p] = stampOf(root, p)
		}
		if strings.HasSuffix(p, ".md") {
			pages = append(pages, p)
		} else {
			s.files[p] = true
			if name := meantName(p); name != "" {
				s.report(source.NameMeant(name).AtFile(p))
			}
		}
		return nil
	})
	if len(pages) == 0 && s.List.Errors() == 0 {
		s.report(source.NoPages().AtFile("."))
	}
	return pages
}

// meantName is what a file should be called that is passed by for its name alone: a page that
// ends in .MD, settings that end in .yml. It is "" for all others.
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
	case dir == "" && slices.Contains([]string{sheet.SettingsFile, hazard.OwnFile}, strings.ToLower(stem)+".yaml"):
		named = strings.ToLower(stem) + ".yaml"
	}
	if named == base {
		return ""
	}
	return named
}

func (s *Site) readPages(ctx context.Context, paths []string) {
	s.Topics = make([]*Topic, len(paths))
	each(ctx, len(paths), func(i int) { s.Topics[i] = s.readPage(paths[i]) })
	s.Topics = slices.DeleteFunc(s.Topics, func(t *Topic) bool { return t == nil })
	slices.SortFunc(s.Topics, func(a, b *Topic) int { return strings.Compare(a.Path, b.Path) })
	for _, t := range s.Topics {
		s.byPath[t.Path] = t
	}
}

func (s *Site) readPage(p string) *Topic {
	t := &Topic{Path: p, drafts: s.drafts}
	t.File, t.first = s.readFile(p)
	t.read(s)
	return t
}

// read takes the page's text through all that needs no other page.
func (t *Topic) read(library sheet.Library) {
	t.list = slices.Clone(t.first)
	if t.list.Errors() > 0 {
		return
	}
	sh, list := sheet.DecodeWith(t.File, library)
	t.list = append(t.list, list...)
	if sh == nil {
		return
	}
	t.Sheet = sh
	body, list := markdown.Parse(t.File, sh.Body)
	t.Body = body
	t.list = append(t.list, list...)
}

// readFile reads a page's file; it is empty where the list says why.
func (s *Site) readFile(p string) (*source.File, source.List) {
	none := func(problem source.Problem) (*source.File, source.List) {
		file, _ := source.New(p, nil)
		return file, source.List{problem.AtFile(p)}
	}
	f, err := s.content.Open(p)
	if err != nil {
		return none(source.CannotRead(systemError(err)))
	}
	defer f.Close()
	raw, err := io.ReadAll(io.LimitReader(f, sheet.MostBytes+1))
	if err != nil {
		return none(source.CannotRead(systemError(err)))
	}
	if len(raw) >= sheet.MostBytes {
		size := int64(len(raw))
		if info, err := f.Stat(); err == nil {
			size = info.Size()
		}
		return none(source.PageTooLarge(size))
	}
	return source.New(p, raw)
}

// each calls do for 0 … n-1 on as many goroutines as there are processors.
func each(ctx context.Context, n int, do func(i int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(workers, max(1, n)) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
}
