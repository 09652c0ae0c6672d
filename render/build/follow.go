package build

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
	"labsite/render/write"
)

// Followed is a site that follows its folder: it reads the heads of all pages at once, makes a page
// when somebody asks for it, and works out again only what a change touches. One lock guards all of
// it; every method takes it.
type Followed struct {
	mu      sync.Mutex
	site    *Site
	desk    *work.Desk
	version int
	closed  bool
	cache   map[cacheKey]Answer
	shown   map[shownKey]*shown
	search  searched
	// todo lists pages that may have to be made, the next one last. Those that were made before
	// come first in line: somebody may have one open.
	todo    []*content.Page
	again   int // how many pages, at the end of todo, were made before
	changed map[string]*PageChange
	before  map[string][]work.Number // of the last correct state, for pages that have errors now
}

// Follow reads a content folder and follows it. It returns as soon as every page can be asked for;
// Settle makes all pages, Work a few at a time. The result is nil only if the folder cannot be read
// at all.
func Follow(ctx context.Context, dir string, opt Options) (*Followed, source.List) {
	opt.followed = true
	s, list := Open(ctx, dir, opt)
	if s == nil {
		return nil, list
	}
	f := &Followed{site: s, desk: s.Desk(), cache: map[cacheKey]Answer{}, before: map[string][]work.Number{}}
	s.Memory.replaced = f.replaced
	f.desk.KeepLast = true
	f.todo = slices.Clone(s.Content.Pages)
	slices.Reverse(f.todo)
	return f, nil
}

// Close releases the folder.
func (f *Followed) Close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.closed = true
	return f.site.Close()
}

// Day is the day for which reviews are judged.
func (f *Followed) Day() time.Time {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.site.Content.Day
}

// Same reports whether a folder is the one that the site follows.
func (f *Followed) Same(folder os.FileInfo) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.site.Content.Same(folder)
}

// Changed says what an update found to be different.
type Changed struct {
	// Files are those that were changed, added or removed, by path.
	Files []string
	// Pages is how many pages must be worked out again.
	Pages int
	// Style says that style sheets of the lab's theme are among them.
	Style bool
}

// Update looks at files and folders that may have changed, or at the whole content folder if it
// is given none. Paths are relative to it, with slashes. Pages whose inputs changed are made
// again when somebody asks for them, or when Work comes to them.
func (f *Followed) Update(paths []string) Changed {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(paths)
}

func (f *Followed) update(paths []string) Changed {
	touched := f.site.Content.Update(paths)
	if len(touched.Files) == 0 {
		return Changed{}
	}
	if touched.Theme {
		f.site.loadTheme()
	}
	f.restart()
	return Changed{Files: touched.Files, Style: touched.Style, Pages: f.again}
}

// Turn sets the day. Everything is written again, since even a page that does not depend on the day
// may show it.
func (f *Followed) Turn(now time.Time) Changed {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.site.Content.Turn(now)
	f.restart()
	return Changed{Pages: f.again}
}

// Again lists what must be looked at again though nothing announced a change; see content.Again.
func (f *Followed) Again() (paths []string, whole bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.site.Content.Again()
}

// restart throws away everything written, after a change of the folder or the day, and queues the
// pages whose inputs changed.
func (f *Followed) restart() {
	c, m := f.site.Content, f.site.Memory
	f.version++
	clear(f.cache)
	f.shown = nil
	m.forgetOthers(c)
	m.FolderChanged()
	f.desk.FolderChanged()
	f.desk.Looking = true
	defer func() { f.desk.Looking = false }()
	f.todo, f.again = nil, 0
	var again []*content.Page
	for _, p := range slices.Backward(c.Pages) {
		switch r := m.Stale(p.Path); {
		case r == nil:
			f.todo = append(f.todo, p)
		case !m.holds(f.desk, p, r):
			again = append(again, p)
		}
	}
	f.todo = append(f.todo, again...)
	f.again = len(again)
}

// Work makes up to n of the waiting pages, and says how many are left.
func (f *Followed) Work(n int) (left int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.work(n)
}

// WorkOne makes one of the waiting pages, and says how many are left and how many of those were
// made before.
func (f *Followed) WorkOne() (left, again int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.work(1), f.again
}

// Urgent reports whether pages are waiting that were made before, so that somebody may have one open.
func (f *Followed) Urgent() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.again > 0
}

func (f *Followed) work(n int) int {
	c, m := f.site.Content, f.site.Memory
	for n > 0 && len(f.todo) > 0 {
		last := len(f.todo) - 1
		p := f.todo[last]
		f.todo, f.again = f.todo[:last], max(0, f.again-1)
		if c.Page(p.Path) != p || m.Kept(f.desk, p) != nil {
			continue
		}
		m.Result(f.desk, p)
		f.desk.Trim()
		n--
	}
	return len(f.todo)
}

// Settle makes all waiting pages.
func (f *Followed) Settle(ctx context.Context) error {
	for f.Work(16) > 0 {
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return nil
}

// Diagnostics lists what is known to be wrong so far.
func (f *Followed) Diagnostics() source.List {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.known().Sorted().Bounded()
}

func (f *Followed) known() source.List {
	out := f.site.said()
	for _, p := range f.site.Content.Pages {
		if r := f.site.Memory.Kept(f.desk, p); r != nil {
			out = append(out, r.List...)
			out = append(out, r.DataSaid...)
		}
	}
	return out
}

// Version changes whenever the site may look different.
func (f *Followed) Version() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.version
}

// Advice is the advice on a page, by its path; nil if the desk does not hold the page in full.
func (f *Followed) Advice(page string) source.List {
	f.mu.Lock()
	defer f.mu.Unlock()
	if full := f.held(page); full != nil {
		return full.Advice()
	}
	return nil
}

// Named finds the given or the figure to which a line of a page's file belongs, if the desk holds
// the page in full.
func (f *Followed) Named(page string, line int) (given, figure string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if full := f.held(page); full != nil {
		return full.Named(line)
	}
	return "", ""
}

func (f *Followed) held(path string) *work.Page {
	if p := f.site.Content.Page(path); p != nil {
		return f.desk.Held(p)
	}
	return nil
}

// Tree is how a number of a page came about; see write.Tree.
func (f *Followed) Tree(ask write.Ask) (write.Branch, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	defer f.desk.Trim()
	return write.Tree(f.desk, ask)
}

// Fault counts the errors of one file.
type Fault struct {
	File, Address string
	Errors        int
}

// Faulty lists the files that are known to have errors, by path.
func (f *Followed) Faulty() []Fault {
	f.mu.Lock()
	defer f.mu.Unlock()
	counts := map[string]int{}
	for _, d := range f.known().Sorted() {
		if n := (source.List{d}).Errors(); n > 0 {
			counts[d.File] += n
		}
	}
	var out []Fault
	for file, n := range counts {
		x := Fault{File: file, Errors: n}
		if p := f.site.Content.Page(file); p != nil {
			x.Address = content.URLPath(p.Address())
		}
		out = append(out, x)
	}
	slices.SortFunc(out, func(a, b Fault) int { return strings.Compare(a.File, b.File) })
	return out
}

// guarded calls do. A panic in it is reported as an error at the address, and the program goes on.
func guarded(address string, list *source.List, do func()) {
	defer func() {
		if fault := recover(); fault != nil && list.Errors() == 0 {
			*list = append(*list, source.PageFails(fmt.Sprint(fault)).AtFile(address))
		}
	}()
	do()
}
