package build

import (
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
)

// Write puts texts in place of the files' own, as an editor has them that has not saved
// them yet; a nil text takes the file's own again. Paths are relative to the folder. Nothing
// is written to a disk.
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

// Look calls do with the folder and a desk, which nobody else uses meanwhile. What do takes
// from them must not be used after it.
func (f *Followed) Look(do func(c *content.Content, d *work.Desk)) {
	f.mu.Lock()
	defer f.mu.Unlock()
	defer f.desk.Trim()
	do(f.site.Content, f.desk)
}

// PageDiagnostics is what is wrong with one page, with the files that it takes data or numbers
// from, and with what all pages depend on; the page is made where that is not known. ok is
// false if there is no such page.
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
