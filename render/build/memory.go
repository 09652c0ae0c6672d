package build

import (
	"sync"
	"sync/atomic"

	"labsite/recipes/guard"
	"labsite/recipes/page"
	"labsite/render/content"
	"labsite/render/search"
	"labsite/render/work"
	"labsite/render/write"
)

// Memory keeps the results of pages. Several workers may use it at once, each with a desk of its
// own.
type Memory struct {
	mu         sync.RWMutex
	kept       map[string]*Result // by path
	generation int                // goes up when the folder may have changed
	made       atomic.Int64       // pages worked out
	shared     [groups][]written  // files that belong to no single page
	// changed says that there is something that the store does not hold yet.
	changed atomic.Bool
	// replaced, if set, is called with each new result and the one before it, nil for the first.
	replaced func(p *content.Page, before *Result, now *Result, full *work.Page)
}

// NewMemory returns an empty memory.
func NewMemory() *Memory {
	return &Memory{kept: map[string]*Result{}}
}

// FolderChanged says that the folder may have changed: each result is checked against its inputs
// again when somebody asks for it.
func (m *Memory) FolderChanged() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.generation++
}

// Kept returns the result on a page if it still holds, nil if the page must be made.
func (m *Memory) Kept(d *work.Desk, p *content.Page) *Result {
	m.mu.RLock()
	r, generation := m.kept[p.Path], m.generation
	held := r != nil && r.generation == generation && r.Page == p.Sum
	m.mu.RUnlock()
	if held {
		return r
	}
	if r == nil || !m.holds(d, p, r) {
		return nil
	}
	return r
}

// holds reports whether a result is still true of a page.
func (m *Memory) holds(d *work.Desk, p *content.Page, r *Result) bool {
	m.mu.RLock()
	generation := m.generation
	held := r.generation == generation && r.Page == p.Sum
	m.mu.RUnlock()
	if held {
		return true
	}
	if !d.Holds(p, &r.Verdict) {
		return false
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	r.generation = generation
	return true
}

// Result returns the result on a page, and makes the page if no result holds.
func (m *Memory) Result(d *work.Desk, p *content.Page) *Result {
	if r := m.Kept(d, p); r != nil {
		return r
	}
	return m.Take(d, d.Make(p))
}

// Take keeps the result on a page that was made.
func (m *Memory) Take(d *work.Desk, full *work.Page) *Result {
	r := resultOf(d, full)
	if d.Ended() { // the page may be half made
		return r
	}
	if m.replaced != nil {
		r.Numbers = full.Numbers()
	} else {
		r = r.compact()
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	r.generation = m.generation
	before := m.kept[full.Path]
	if before != nil && before.generation == m.generation && before.Page == full.Page.Sum {
		return before // another worker has made the page meanwhile
	}
	m.made.Add(1)
	m.changed.Store(true)
	if before != nil {
		r.scriptSum = before.scriptSum
	}
	m.kept[full.Path] = r
	if m.replaced != nil {
		m.replaced(full.Page, before, r, full)
	}
	return r
}

// Stale returns the last result on a page, whether or not it still holds; nil if the page was never
// made.
func (m *Memory) Stale(path string) *Result {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.kept[path]
}

// forgetOthers drops the results of pages that are gone.
func (m *Memory) forgetOthers(c *content.Content) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for path := range m.kept {
		if c.Page(path) == nil {
			delete(m.kept, path)
		}
	}
}

// Verdict is the verdict on a page; see work.Memory. A desk that only looks gets an empty one
// for a page whose result does not hold, as for a page that was never made.
func (m *Memory) Verdict(d *work.Desk, p *content.Page) *work.Verdict {
	if d.Looking {
		if r := m.Kept(d, p); r != nil {
			return &r.Verdict
		}
		return &work.Verdict{}
	}
	return &m.Result(d, p).Verdict
}

// Anchors is the sum of the ids of a page's headings; see work.Memory. Without a result for the
// same bytes the page is read to find them.
func (m *Memory) Anchors(d *work.Desk, p *content.Page) content.Sum {
	if r := m.Stale(p.Path); r != nil && r.Page == p.Sum {
		return r.Anchors
	}
	return d.AnchorsOf(p)
}

// setFiles notes which files a page has on an audience's site.
func (m *Memory) setFiles(r *Result, a page.Audience, key content.Sum, files []File) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.changed.Store(true)
	r.written = withFiles(r.written, a, key, files)
}

// entry returns the search entry of a page, or an error if the store held something else in its
// place.
func (m *Memory) entry(r *Result) (search.Entry, error) {
	m.mu.RLock()
	found := r.found
	m.mu.RUnlock()
	return unpackedEntry(found)
}

// setEntry replaces a search entry that could not be read.
func (m *Memory) setEntry(r *Result, e search.Entry) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.changed.Store(true)
	r.found = packed(e)
}

// group is one of the groups of files that belong to no single page.
type group int

const (
	ofTheme group = iota // the theme's own, made from the theme and the settings alone
	ofAll                // all others, made from every page
	groups
)

// sharedFiles lists the files of a group if they were made from the same inputs, else nil.
func (m *Memory) sharedFiles(g group, a page.Audience, key content.Sum) []File {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return filesUnder(m.shared[g], a, key)
}

func (m *Memory) setShared(g group, a page.Audience, key content.Sum, files []File) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.changed.Store(true)
	m.shared[g] = withFiles(m.shared[g], a, key, files)
}

// mutationsKnown reports whether changes to the page were tried before.
func (m *Memory) mutationsKnown(r *Result) bool {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return r.mutationsTried
}

// setMutations notes what came of the changes tried on a page.
func (m *Memory) setMutations(r *Result, found guard.Report) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r.mutationsTried, r.Listed.Mutations = true, write.Mutations{Noticed: found.Noticed, Counted: found.Counted()}
}

// agreed reports whether a page's script was tried before.
func (m *Memory) agreed(r *Result, sum content.Sum) bool {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return r.scriptSum == sum
}

func (m *Memory) setAgreed(r *Result, sum content.Sum) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.changed.Store(true)
	r.scriptSum = sum
}
