package content

import (
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Write replaces a file's text by that of an editor in which it is not yet saved; nil goes back to the
// file's own. Nothing is written to a disk. The path is relative to the folder, with slashes; ok is
// false if it is outside the folder or ignored. Update must be called with the path before the content
// is read again.
func (c *Content) Write(p string, text []byte) (ok bool) {
	if !fs.ValidPath(p) || p == "." || isIgnored(p) || isRecord(p) {
		return false
	}
	if text == nil {
		delete(c.unsaved, p)
		return true
	}
	if c.unsaved == nil {
		c.unsaved = map[string][]byte{}
	}
	c.unsaved[p] = text
	return true
}

// addUnsaved adds the pages and files that exist only in an editor to what a walk found.
func (c *Content) addUnsaved(pages []string) []string {
	for p := range c.unsaved {
		if _, there := c.stamps[p]; there || c.theme.holds(p) {
			continue
		}
		if c.stamps[p] = c.stampOf(p); path.Ext(p) != ".md" {
			c.files[p] = true
		} else if !slices.Contains(pages, p) {
			pages = append(pages, p)
		}
	}
	slices.SortFunc(pages, strings.Compare)
	return pages
}
