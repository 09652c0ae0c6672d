package build

import (
	"path"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/routes"
	"labsite/render/work"
	"labsite/render/write"
)

// Answer is what a site serves at one address.
type Answer struct {
	Bytes []byte
	// Page is the path of the page shown there, "" for anything else.
	Page string
	// List says what is wrong with the page and with what it depends on. If it holds an error,
	// Bytes may be nil.
	List source.List
	// Version changes whenever the site may look different.
	Version int
}

type cacheKey struct {
	shownKey
	address string
}

// shownKey names a view of a site: for which audience, and whether as the preview shows it or as
// published.
type shownKey struct {
	audience page.Audience
	preview  bool
}

// shown is what writes a view of the site, kept from one answer to the next.
type shown struct {
	site   *routes.Site
	writer *write.Writer
}

// mostCached bounds how many answers are cached, mostCachedBytes how long each may be.
const (
	mostCached      = 512
	mostCachedBytes = 4 << 20
)

// Answer returns what an audience finds at an address, which is relative to the site's top. With
// preview, a page carries the preview's script and the line numbers of its source. ok is false if
// nothing is there.
func (f *Followed) Answer(a page.Audience, address string, preview bool) (out Answer, ok bool) {
	if address == "" || strings.HasSuffix(address, "/") {
		address += "index.html"
	}
	if routes.OfAll(address) {
		f.makeAll()
	}
	if routes.IsSearch(address) {
		return f.searchable(a, address)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	key := cacheKey{shownKey{a, preview}, address}
	if kept, ok := f.cache[key]; ok {
		return kept, true
	}
	defer f.desk.Trim()
	out.Version = f.version
	if p := routes.PageAt(f.site.Content, address); p != nil {
		out.Page, out.List = p.Path, f.pageList(p)
		if !f.site.Memory.Result(f.desk, p).Trusted {
			return out, true
		}
	} else if stem, is := strings.CutSuffix(address, ".html"); is {
		for _, d := range f.site.said() { // the address may belong to no page
			if d.File == stem+".md" {
				out.Page, out.List = d.File, append(out.List, d)
			}
		}
	}
	if f.site.Theme == nil {
		out.List = append(out.List, f.site.said()...)
		return out, true
	}
	guarded(address, &out.List, func() { out.Bytes, ok = f.write(key, &out.List) })
	ok = ok || out.Page != "" || out.List.Errors() > 0
	if ok && len(f.cache) < mostCached && len(out.Bytes) < mostCachedBytes {
		f.cache[key] = out
	}
	return out, ok
}

// makeAll makes every page whose result is missing or out of date. It takes the lock for one page
// at a time, so that nobody waits longer than that, and gives up when the site is closed.
func (f *Followed) makeAll() {
	f.mu.Lock()
	todo := slices.Clone(f.site.Content.Pages)
	f.mu.Unlock()
	one := func(p *content.Page) (goOn bool) {
		f.mu.Lock()
		defer f.mu.Unlock()
		if !f.closed && f.site.Content.Page(p.Path) == p {
			f.site.Memory.Result(f.desk, p)
			f.desk.Trim()
		}
		return !f.closed
	}
	for _, p := range todo {
		if !one(p) {
			return
		}
	}
}

// pageList lists what is wrong with a page, with the files it takes data or numbers from, and with
// what all pages depend on.
func (f *Followed) pageList(p *content.Page) source.List { return f.site.PageList(f.desk, p) }

// listOf lists what is wrong with a page and with the files it takes data or numbers from.
func (s *Site) listOf(d *work.Desk, p *content.Page) (out source.List) {
	d.EachBehind(p, func(p *content.Page) {
		r := s.Memory.Result(d, p)
		out = append(append(out, r.List...), r.DataSaid...)
	})
	return out
}

// shownTo returns what writes a view, made on first use.
func (f *Followed) shownTo(key shownKey) *shown {
	if f.shown == nil {
		f.shown = map[shownKey]*shown{}
	}
	if f.shown[key] == nil {
		site := f.site.routed(key.audience, key.preview, func(p *content.Page) *Result { return f.site.Memory.Result(f.desk, p) })
		f.shown[key] = &shown{site, write.NewWriter(site.Site, f.desk)}
	}
	return f.shown[key]
}

// write makes the bytes served at an address.
func (f *Followed) write(key cacheKey, list *source.List) (found []byte, ok bool) {
	x := f.shownTo(key.shownKey)
	address, c := key.address, f.site.Content
	put := func(name string, b []byte, l source.List) {
		if name == address && b != nil {
			found = b
		}
		if name == address || b == nil {
			*list = append(*list, l...)
		}
	}
	if b, is := f.site.Theme.Assets()[address]; is {
		return b, true
	}
	for _, r := range routes.Shared(x.site.Site) {
		if r.Covers(address) {
			r.Make(x.site, func(name string, b []byte, l source.List) {
				put(name, b, l)
				if b != nil && len(b) < mostCachedBytes { // all are made together, so all are cached
					f.cache[cacheKey{key.shownKey, name}] = Answer{Bytes: b, List: l, Version: f.version}
				}
			})
			return found, found != nil
		}
	}
	if folder := routes.FolderAt(x.site.Site, address); folder != nil {
		routes.Folder(x.writer, folder, put)
		return found, found != nil
	}
	if p := routes.PageAt(c, address); p != nil {
		if p.ShownTo(key.audience) && !p.IsIndex() {
			b, l := x.writer.Page(x.writer.Full(p))
			put(address, b, l)
		}
		return found, found != nil
	}
	if c.HasFile(address) {
		return f.file(key.audience, address)
	}
	for _, p := range routes.PagesBeside(c, address) {
		f.beside(x.writer, p, address, put, list)
	}
	return found, found != nil || list.Errors() > 0
}

// beside makes the files that accompany a page. Its errors are shown above its card and labels too.
func (f *Followed) beside(w *write.Writer, p *content.Page, address string, put write.Put, list *source.List) {
	if !p.ShownTo(w.Audience) || p.Status() == page.Withdrawn {
		return
	}
	r := f.site.Memory.Result(f.desk, p)
	switch {
	case !r.Wrong:
		routes.Beside(w, p, put)
	case r.Trusted:
		routes.Beside(w, p, func(name string, b []byte, l source.List) {
			if put(name, b, l); name == address {
				*list = append(*list, f.pageList(p)...)
			}
		})
	case path.Ext(address) == ".html":
		*list = append(*list, f.pageList(p)...)
	}
}

// file returns a picture or other file if a page that the audience may read shows it or links to
// it.
func (f *Followed) file(a page.Audience, full string) ([]byte, bool) {
	for _, p := range f.site.Content.Pages {
		if !p.ShownTo(a) || p.Status() == page.Withdrawn {
			continue
		}
		if r := f.site.Memory.Stale(p.Path); r == nil || !slices.Contains(r.Placings, full) {
			if r != nil || f.desk.Held(p) == nil {
				continue
			}
		}
		if r := f.site.Memory.Result(f.desk, p); slices.Contains(r.Placings, full) {
			return f.site.Content.PlacedBytes(full)
		}
	}
	return nil, false
}

// Addresses lists every address of the audience's site, for tests that compare whole sites.
func (f *Followed) Addresses(a page.Audience) []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.site.Theme == nil {
		return nil
	}
	set := map[string]bool{}
	put := func(name string, b []byte, _ source.List) {
		if b != nil {
			set[name] = true
		}
	}
	x := f.shownTo(shownKey{a, false})
	for name := range f.site.Theme.Assets() {
		set[name] = true
	}
	for _, p := range f.site.Content.Pages {
		if !p.ShownTo(a) {
			continue
		}
		r := f.site.Memory.Result(f.desk, p)
		routes.Page(x.writer, p, put)
		for _, full := range r.Placings {
			set[full] = true
		}
		f.desk.Trim()
	}
	for _, folder := range f.site.Content.Folders() {
		if folder.ShownTo(a) {
			set[folder.Address()] = true
		}
	}
	for _, r := range routes.Shared(x.site.Site) {
		r.Make(x.site, put)
	}
	var out []string
	for name := range set {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
