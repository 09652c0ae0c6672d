package build

import (
	"context"
	"path"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/routes"
	"labsite/render/search"
	"labsite/render/theme"
	"labsite/render/work"
	"labsite/render/write"
)

// Options say how a site is made.
type Options struct {
	// Day decides which reviews are overdue.
	Day time.Time
	// Unwritten says that no page will be written, so that the theme need not be read.
	Unwritten bool
	// Drafts shows drafts as well; a published site never does.
	Drafts bool
	// Progress, if set, is told how many pages of how many are done; calls never overlap.
	Progress func(done, total int)
	// Store keeps results from one run to the next; nil keeps none.
	Store *Store

	followed bool // texts of pages stay in memory, since they are asked for again and again
}

// Site is a content folder with what is known of its pages.
type Site struct {
	Content *content.Content
	Memory  *Memory
	// Theme fills templates; nil if those of the lab have errors.
	Theme     *theme.Templates
	themeSaid source.List
	ctx       context.Context // ends all work on the site
	opt       Options
}

// Open reads a content folder. The Site is nil only if the folder cannot be read at all or ctx
// ends; all later work on the site ends with ctx too. Close releases the folder.
func Open(ctx context.Context, dir string, opt Options) (*Site, source.List) {
	c, list := content.Open(ctx, dir, content.Options{Day: opt.Day, Drafts: opt.Drafts, LetGo: !opt.followed})
	if c == nil {
		return nil, list
	}
	s := &Site{ctx: ctx, Content: c, Memory: NewMemory(), opt: opt}
	if !opt.Unwritten {
		s.loadTheme()
	}
	return s, nil
}

// Close releases the folder.
func (s *Site) Close() error { return s.Content.Close() }

// loadTheme reads the theme. If the lab's own has errors, the last one without stays in use.
func (s *Site) loadTheme() {
	own, folder, said := s.Content.Theme()
	templates, list := theme.LoadTemplates(s.ctx, own, folder)
	if templates != nil || s.Theme == nil {
		s.Theme = templates
	}
	s.themeSaid = append(said, list...)
}

// said is what is wrong with what all pages depend on.
func (s *Site) said() source.List { return append(s.Content.Said(), s.themeSaid...) }

// Find returns a page by its path, or by its file name if only one page has it. Otherwise the
// second result lists those that may be meant.
func (s *Site) Find(name string) (*content.Page, []string) {
	clean := path.Clean(name)
	for _, p := range []string{clean, clean + ".md"} {
		if page := s.Content.Page(p); page != nil {
			return page, nil
		}
	}
	var hits []*content.Page
	var paths []string
	for _, p := range s.Content.Pages {
		if base := path.Base(p.Path); base == clean || base == clean+".md" {
			hits = append(hits, p)
			paths = append(paths, p.Path)
		}
	}
	if len(hits) == 1 {
		return hits[0], nil
	}
	if len(hits) == 0 {
		var all []string
		for _, p := range s.Content.Pages {
			all = append(all, p.Path, path.Base(p.Path[:len(p.Path)-len(".md")]))
		}
		if near := source.Nearest(clean, all); near != "" {
			return nil, []string{near}
		}
	}
	return nil, paths
}

// Desk returns a new desk on which pages of the site are made.
func (s *Site) Desk() *work.Desk { return work.NewDesk(s.ctx, s.Content, s.Memory) }

// Results lists the results on all pages by path; every page has been made before.
func (s *Site) Results() []*Result {
	out := make([]*Result, 0, len(s.Content.Pages))
	for _, p := range s.Content.Pages {
		if r := s.Memory.Stale(p.Path); r != nil {
			out = append(out, r)
		}
	}
	return out
}

// PageList lists what is wrong with a page, with the files it takes data or numbers from, and with
// what all pages depend on.
func (s *Site) PageList(d *work.Desk, p *content.Page) source.List {
	return append(s.said(), s.listOf(d, p)...).Sorted().Bounded()
}

// Short advises if the checks of a page notice a smaller share of its changes than the lab asks
// for.
func (s *Site) Short(r *Result) source.List {
	set, tried := s.Content.Settings, r.Listed.Mutations
	if set.Guarded == 0 || float64(tried.Noticed) >= set.Guarded*float64(tried.Counted) {
		return nil
	}
	return source.List{source.GuardedShort(tried.Noticed, tried.Counted, set.GuardedText).AtFile(r.Path)}
}

// Count counts the pages that could be read, their figures, and the verdicts on their checks.
func (s *Site) Count() (pages, figures, checks int) {
	for _, r := range s.Results() {
		if !r.Trial.Readable {
			continue
		}
		pages++
		figures += r.Trial.Figures
		checks += len(r.Trial.Verdicts)
	}
	return
}

// routed returns the site of an audience, ready to make its addresses.
func (s *Site) routed(a page.Audience, preview bool, result func(p *content.Page) *Result) *routes.Site {
	w := &write.Site{Content: s.Content, Theme: s.Theme, Audience: a, Preview: preview, Feed: machine.HasFeed(s.Content, a),
		Listed: func(p *content.Page) *write.Listed { return &result(p).Listed }}
	return &routes.Site{Site: w, Entry: func(p *content.Page) search.Entry { return s.entry(p, result(p)) }}
}

// entry is the search entry of a page. If the store held something else in its place, it is worked
// out again.
func (s *Site) entry(p *content.Page, r *Result) search.Entry {
	out, err := s.Memory.entry(r)
	if err != nil {
		if s.opt.Store != nil {
			s.opt.Store.again(err)
		}
		out = entryOf(s.Desk().Make(p))
		s.Memory.setEntry(r, out)
	}
	return out
}
