package write

import (
	"html/template"
	"sync"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/theme"
	"labsite/render/work"
)

// Site is what all files of one audience's site are written from.
type Site struct {
	Content  *content.Content
	Theme    *theme.Templates
	Audience page.Audience
	// Preview says that it is the site of the preview: with marks that tell where each number was
	// written, and with drafts in the register.
	Preview bool
	// Feed says that the site has a feed.
	Feed bool
	// Listed finds what lists show of a page.
	Listed func(p *content.Page) *Listed

	mu          sync.Mutex
	around      map[aroundKey]*surroundings
	listTops    sync.Once
	refusing    sync.Once
	refused     template.HTML
	refusedSaid source.List
	tops        []section
	topSum      content.Sum // of the sections' titles and folders
}

// Writer writes files of a site with one desk. Several writers, each with its own desk, may work on
// the same site at once.
type Writer struct {
	*Site
	desk     *work.Desk
	scripted map[*work.Page]written
}

// NewWriter makes a writer of a site's files.
func NewWriter(s *Site, d *work.Desk) *Writer {
	return &Writer{Site: s, desk: d, scripted: map[*work.Page]written{}}
}

// Forget frees what was written of a page.
func (w *Writer) Forget(p *work.Page) { delete(w.scripted, p) }

// Put takes a finished file: its address, its bytes, and what was wrong with the templates. The bytes
// are nil if there is an error in the list.
type Put func(address string, b []byte, list source.List)

// SectionTitle is a section's name as the audience knows it.
func (s *Site) SectionTitle(f *content.Folder) string {
	return f.Title(s.Content.Settings.Name, s.Audience)
}

// Full works out a page.
func (w *Writer) Full(p *content.Page) *work.Page { return w.desk.Make(p) }

// notice is the standing notice, the lab's own or the built-in one.
func (s *Site) notice() template.HTML { return escaped(s.noticeText()) }
