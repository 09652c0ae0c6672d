package build

import (
	"bytes"
	"sync"

	"labsite/recipes/page"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/search"
)

// searched keeps the search of a followed site for the audience that asked last, since a search box
// asks for a dozen parts at once and all parts are made together.
type searched struct {
	making   sync.Mutex // held while the search is made, before the site's own lock
	audience page.Audience
	version  int
	files    map[string]string // packed
}

// mostSearched is how many bytes of packed search are kept: enough for some fifty thousand pages.
const mostSearched = 64 << 20

// searchable returns a file of the search. Making it takes a second for ten thousand pages, so most
// of that is done without the site's lock.
func (f *Followed) searchable(a page.Audience, address string) (out Answer, ok bool) {
	s := &f.search
	s.making.Lock()
	defer s.making.Unlock()
	if s.files != nil && s.audience == a && s.version == f.Version() {
		packed, ok := s.files[address]
		if ok {
			out.Version = s.version
			out.Bytes, _ = unpacked(packed)
		}
		return out, ok
	}
	s.files, s.audience = map[string]string{}, a
	size := 0
	s.version = f.makeSearch(a, func(name string, b []byte) {
		if name == address {
			out.Bytes, ok = bytes.Clone(b), true
		}
		if size < mostSearched {
			s.files[name] = packed(b)
			size += len(s.files[name])
		}
	})
	if size >= mostSearched {
		s.files = nil
	}
	out.Version = s.version
	return out, ok
}

// makeSearch makes the search, and says which version of the site it belongs to.
func (f *Followed) makeSearch(a page.Audience, put func(name string, b []byte)) (version int) {
	var pages []search.Page
	var packed []string
	gather := func() (language string, alike [][]string) {
		f.mu.Lock()
		defer f.mu.Unlock()
		version = f.version
		if f.site.Theme == nil {
			return "", nil
		}
		entry := func(p *content.Page) search.Entry {
			packed = append(packed, f.site.Memory.Result(f.desk, p).found)
			return ""
		}
		machine.Found(f.shownTo(shownKey{a, false}).site.Site, entry, func(p search.Page) { pages = append(pages, p) })
		set := &f.site.Content.Settings
		return set.Language, machine.Alike(set)
	}
	language, alike := gather()
	x := machine.NewSearch(language, alike, put)
	for i, p := range pages {
		if i < len(packed) { // the pages of the content come first
			p.Entry, _ = unpackedEntry(packed[i]) // no error: the preview's memory is not filled from a store
		}
		x.Add(p)
	}
	x.Close()
	return version
}
