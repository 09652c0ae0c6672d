package preview

import (
	"slices"
	"strings"
	"sync"

	"labsite/recipes/page"
	"labsite/render/build"
)

// change holds the numbers that the last save changed. It grows while pages that depend on the
// saved file are worked out.
type change struct {
	mu    sync.Mutex
	count int
	files []string
	pages map[string]build.PageChange
}

// save is a change in the form that an open page is sent.
type save struct {
	Count int                `json:"count"`
	Files []string           `json:"files"`
	Pages []build.PageChange `json:"pages"`
}

// mostPages bounds the pages with changed numbers that are listed.
const mostPages = 60

func (c *change) begin(u build.Changed) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.count++
	c.files = u.Files
	if len(c.files) > 12 {
		c.files = c.files[:12]
	}
	c.pages = map[string]build.PageChange{}
}

func (c *change) add(pages []build.PageChange) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pages == nil {
		c.pages = map[string]build.PageChange{}
	}
	for _, p := range pages {
		if len(c.pages) < mostPages || c.pages[p.Page].Page != "" {
			c.pages[p.Page] = p
		}
	}
	return len(pages) > 0
}

func (c *change) now(a page.Audience) *save {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.count == 0 {
		return nil
	}
	s := &save{Count: c.count, Files: c.files, Pages: []build.PageChange{}}
	for _, p := range c.pages {
		p.Address = "/" + string(a) + "/" + p.Address
		s.Pages = append(s.Pages, p)
	}
	slices.SortFunc(s.Pages, func(a, b build.PageChange) int { return strings.Compare(a.Page, b.Page) })
	return s
}
