package site

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

type shelfKey struct {
	audience sheet.Audience
	address  string
	live     bool
}

// Answer is what stands at an address of the site.
type Answer struct {
	Bytes []byte
	// Page is the file of the page that is written there, "" for all else.
	Page string
	// List says what is wrong with the page and with what it stands on; with an error in it
	// Bytes may be nil.
	List source.List
	// Version is another one whenever the site may look different.
	Version int
}

// Answer writes what an audience finds at an address of an open site, relative to the
// site's top. With live it is written for the preview: with its script, and with the
// places of its lines. ok is false where there is nothing.
func (s *Site) Answer(a sheet.Audience, address string, live bool) (out Answer, ok bool) {
	o := s.open
	if address == "" || strings.HasSuffix(address, "/") {
		address += "index.html"
	}
	if OfAll(address) {
		s.digestAll()
	}
	if address == searchEntries {
		return s.searchable(a, live), true
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	key := shelfKey{a, address, live}
	if kept, ok := o.shelf[key]; ok {
		return kept, true
	}
	if t := s.topicAt(address); t != nil {
		s.ready(t)
		out.Page, out.List = t.Path, s.pageList(t)
		if !t.sure() {
			out.Version = o.version
			s.trim()
			return out, true
		}
	} else if stem, is := strings.CutSuffix(address, ".html"); is {
		// what stands in the page's place may be no file
		for _, d := range s.common() {
			if d.File == stem+".md" {
				out.Page, out.List = d.File, append(out.List, d)
			}
		}
	}
	if s.templates == nil {
		out.List, out.Version = append(out.List, s.common()...), o.version
		return out, true
	}
	out.Bytes, ok = s.write(a, address, live, &out.List)
	s.trim()
	out.Version = o.version
	if out.Page != "" {
		ok = true
	}
	if ok && len(o.shelf) < 512 {
		o.shelf[key] = out
	}
	return out, ok
}

// topicAt is the page that is written at an address, nil for none.
func (s *Site) topicAt(address string) *Topic {
	stem, is := strings.CutSuffix(address, ".html")
	if !is {
		return nil
	}
	return s.byPath[stem+".md"]
}

// sure tells whether the numbers of a page are what its files say: they were worked out,
// nothing is wrong with what they come from, and its hazards are all known. A page without
// numbers is always sure. What is not sure is shown nowhere, not even below what is wrong
// with it.
func (t *Topic) sure() bool {
	if t.Sheet == nil || len(t.Sheet.Given)+len(t.Sheet.Figures)+len(t.Sheet.Uses)+len(t.Sheet.Data) == 0 {
		return true
	}
	return t.Resolved && t.Proof != nil && len(t.Proof.Own.Failed) == 0 && !t.state.bare
}

// pageList is what is wrong with a page, with the files that it takes data or numbers
// from, and with what all pages stand on.
func (s *Site) pageList(t *Topic) source.List {
	out := s.common()
	seen := map[*Topic]bool{}
	var add func(t *Topic)
	add = func(t *Topic) {
		if seen[t] {
			return
		}
		seen[t] = true
		if t.state.known {
			out = append(out, t.state.list...)
		} else {
			out = append(out, t.list...)
		}
		for p, how := range t.state.takes {
			if how&takesData != 0 {
				out = append(out, s.tables.lists(func(q string) bool { return q == p })...)
			}
			if to := s.byPath[p]; to != nil && how&takesPage != 0 {
				add(to)
			}
		}
	}
	add(t)
	return out.Sorted()
}

// write makes the bytes of an address. A fault of the program while a page is written is
// told like an error of the page: the preview goes on.
func (s *Site) write(a sheet.Audience, address string, live bool, list *source.List) (out []byte, ok bool) {
	if b, is := s.templates.Assets()[address]; is {
		return b, true
	}
	if address == runtimeFile {
		return formulaRuntime(), true
	}
	defer func() {
		if fault := recover(); fault != nil {
			if list.Errors() == 0 {
				*list = append(*list, source.PageFails(fmt.Sprint(fault)).AtFile(address))
			}
			out, ok = nil, true
		}
	}()
	r := s.writer(a, live)
	take := func(b []byte, l source.List) ([]byte, bool) {
		*list = append(*list, l...)
		return b, b != nil
	}
	var found []byte
	put := func(name string, b []byte, l source.List) {
		if name == address && b != nil {
			found = b
			*list = append(*list, l...)
		}
	}
	dir, base := path.Split(address)
	dir = path.Clean(dir)
	switch {
	case address == "missing.html":
		return take(r.missing())
	case address == registerFile && a == sheet.Staff:
		return take(r.register())
	case within(address, benchFolder):
		r.benchPages(func(name string, b []byte, l source.List) {
			put(name, b, l)
			if b != nil { // all are made at once, so all are kept
				s.open.shelf[shelfKey{a, name, live}] = Answer{Bytes: b, List: l, Version: s.open.version}
			}
		})
	case base == "index.html":
		for _, f := range s.folders() {
			if path.Join(f.Path, "index.html") == address && s.holds(f, a) {
				if f.Index != nil {
					s.ready(f.Index)
				}
				return take(r.folder(f))
			}
		}
	case s.topicAt(address) != nil:
		if t := s.topicAt(address); t.shownTo(a) && t.Folder.Index != t {
			return take(r.topic(t))
		}
	case s.files[address]:
		return s.file(a, address)
	default:
		for _, t := range s.besides(dir, base) {
			s.ready(t)
			if !t.shownTo(a) || t.Status() == sheet.Withdrawn {
				continue
			}
			if !t.state.wrong {
				r.beside(t, put)
				r.scripts(t, put)
				continue
			}
			// what is wrong with the page stands above its card and labels too
			wrong := func(name string, b []byte, l source.List) {
				if put(name, b, l); name == address {
					*list = append(*list, s.pageList(t)...)
				}
			}
			if t.sure() {
				r.beside(t, wrong)
				r.scripts(t, wrong)
			} else if path.Ext(address) == ".html" {
				*list = append(*list, s.pageList(t)...)
				return nil, true
			}
		}
		if found != nil || dir != "." {
			break
		}
		switch {
		case address == robotsFile:
			put(address, r.robots(), nil)
		case s.Settings.Address == "":
		case address == feedFile:
			put(address, r.feed(), nil)
		case a == sheet.Customers && OfAll(address):
			for name, b := range r.siteMaps() {
				put(name, b, nil)
			}
		}
	}
	return found, found != nil
}

// writer is kept from one page to the next, with the lists of sections that it made.
func (s *Site) writer(a sheet.Audience, live bool) *renderer {
	o := s.open
	who := a
	if live {
		who += " live"
	}
	if o.writers == nil {
		o.writers = map[sheet.Audience]*renderer{}
	}
	if o.navs[a] == nil {
		o.navs[a] = map[string]*nav{}
	}
	if o.writers[who] == nil {
		o.writers[who] = &renderer{site: s, audience: a, navs: o.navs[a], preview: live}
	}
	return o.writers[who]
}

// besides lists the pages of a folder that a paper or table of this name may stand beside.
func (s *Site) besides(dir, base string) []*Topic {
	var out []*Topic
	for i := strings.IndexByte(base, '.'); i >= 0; {
		if t := s.byPath[path.Join(dir, base[:i]+".md")]; t != nil {
			out = append(out, t)
		}
		next := strings.IndexByte(base[i+1:], '.')
		if next < 0 {
			break
		}
		i += 1 + next
	}
	return out
}

// file gives a picture or other file, where a page of the audience places it.
func (s *Site) file(a sheet.Audience, full string) ([]byte, bool) {
	for t := range s.open.needs[full] {
		if t.state.takes[full]&takesPlace == 0 || !t.shownTo(a) || t.Status() == sheet.Withdrawn {
			continue
		}
		s.ready(t)
		if p := s.pictures[full]; p != nil && t.state.placed[full] && p.bytes != nil {
			return p.bytes, true
		}
	}
	return nil, false
}

// Version is another one whenever the site may look different.
func (s *Site) Version() int {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	return s.open.version
}

// Addresses lists every address of the audience's site, for tests that compare whole sites.
func (s *Site) Addresses(a sheet.Audience) []string {
	o := s.open
	o.mu.Lock()
	defer o.mu.Unlock()
	set := map[string]bool{"missing.html": true, runtimeFile: true}
	put := func(name string, b []byte, _ source.List) {
		if b != nil {
			set[name] = true
		}
	}
	if s.templates == nil {
		return nil
	}
	r := s.writer(a, false)
	for name := range s.templates.Assets() {
		set[name] = true
	}
	for _, t := range s.Topics {
		s.ready(t)
		if !t.shownTo(a) {
			continue
		}
		set[t.Address()] = true
		if t.Status() != sheet.Withdrawn {
			if t.Folder.Index != t {
				r.beside(t, put)
			}
			r.scripts(t, put)
			for full := range t.state.placed {
				set[full] = true
			}
		}
	}
	for _, f := range s.folders() {
		if s.holds(f, a) {
			set[path.Join(f.Path, "index.html")] = true
		}
	}
	r.benchPages(put)
	for _, job := range r.machineFiles(put) {
		job()
	}
	if a == sheet.Staff {
		set[registerFile] = true
	}
	s.trim()
	var out []string
	for name := range set {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
