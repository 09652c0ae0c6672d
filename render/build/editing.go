package build

import (
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
)

// Write replaces the texts of files by those that an editor has not saved yet; a nil text goes back
// to the file's own. Paths are relative to the folder. Nothing is written to disk.
func (f *Followed) Write(texts map[string][]byte) Changed {
	f.mu.Lock()
	defer f.mu.Unlock()
	var paths []string
	for p, text := range texts {
		if f.site.Content.Write(p, text) {
			paths = append(paths, p)
		}
	}
	if len(paths) == 0 {
		return Changed{}
	}
	return f.update(paths)
}

// Look calls do with the folder and a desk, under the lock. Nothing that do takes from them may be
// used after it returns.
func (f *Followed) Look(do func(c *content.Content, d *work.Desk)) {
	f.mu.Lock()
	defer f.mu.Unlock()
	defer f.desk.Trim()
	do(f.site.Content, f.desk)
}

// PageDiagnostics lists what is wrong with one page, with the files it takes data or numbers from,
// and with what all pages depend on. It makes the page if its result is missing or out of date. ok
// is false if there is no such page.
func (f *Followed) PageDiagnostics(page string) (list source.List, ok bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	defer f.desk.Trim()
	p := f.site.Content.Page(page)
	if p == nil {
		return nil, false
	}
	f.site.Memory.Result(f.desk, p)
	return f.pageList(p), true
}
