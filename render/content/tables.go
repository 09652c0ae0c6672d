package content

import (
	"strings"
	"sync"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// tables are the data files that pages name, each read once until it changes.
type tables struct {
	mu   sync.Mutex
	read map[string]readTable
}

type readTable struct {
	table *page.Table
	list  source.List
}

// Table reads a data file; see page.Library.
func (c *Content) Table(path string) (*page.Table, bool) {
	if !c.has(path) {
		return nil, false
	}
	t := &c.tables
	t.mu.Lock()
	defer t.mu.Unlock()
	if r, ok := t.read[path]; ok {
		return r.table, true
	}
	if t.read == nil {
		t.read = map[string]readTable{}
	}
	table, list := c.readTable(path)
	t.read[path] = readTable{table, list}
	return table, true
}

func (c *Content) readTable(path string) (*page.Table, source.List) {
	raw, problem, ok := c.read(path, page.MostDataBytes)
	if !ok {
		return nil, source.List{problem.AtFile(path)}
	}
	file, list := source.New(path, raw)
	if list.Errors() > 0 {
		return nil, list
	}
	return page.ReadTable(file)
}

// TableList lists the errors of a data file, if a page has asked for it.
func (c *Content) TableList(path string) source.List {
	c.tables.mu.Lock()
	defer c.tables.mu.Unlock()
	return c.tables.read[path].list
}

// Files lists the data files of the content folder; see page.Library.
func (c *Content) Files() []string {
	var out []string
	for p := range c.files {
		if strings.HasSuffix(p, ".csv") {
			out = append(out, p)
		}
	}
	return out
}

// forgetWithin drops the files whose paths begin with a prefix.
func (t *tables) forgetWithin(within string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for p := range t.read {
		if strings.HasPrefix(p, within) {
			delete(t.read, p)
		}
	}
}

func (t *tables) forget(path string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.read, path)
}

// allErrors lists the errors of all data files that were asked for.
func (t *tables) allErrors() source.List {
	t.mu.Lock()
	defer t.mu.Unlock()
	var out source.List
	for _, r := range t.read {
		out = append(out, r.list...)
	}
	return out
}
