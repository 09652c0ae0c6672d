package site

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// opened is what a site keeps that follows its folder: it reads the heads of all pages at
// once, a page in full when it is asked for, and works out again only what a change
// touches. One lock guards all of it; every exported method of such a site takes it.
type opened struct {
	mu   sync.Mutex
	root *os.Root
	// What was said of files that are no pages, by what said it.
	settings, walk, trades, hazards, theme source.List
	// needs lists the pages that take something from a file, by its path.
	needs map[string]map[*Topic]bool
	// todo are the pages that wait to be worked out: those that a change touched before
	// those that nobody has asked for yet.
	todo  []*Topic
	first int // how many of todo, from its end, a change touched
	// awake are the pages that are held in full, the last asked for at the end.
	awake   []*Topic
	version int
	shelf   map[shelfKey]Answer
	writers map[sheet.Audience]*renderer
	navs    map[sheet.Audience]map[string]*nav // lists of sections, until folders change
	stamps  map[string]stamp
	links   map[string]bool // the symbolic links among the files
	changed *Numbers
	packer  packer
	closed  bool
	keep    int // how many pages are held in full
}

// topicState is how far a page of an open site has come.
type topicState struct {
	read   bool // held in full: its sheet is whole, its body is there
	ready  bool // held in full and bound, so that it can be written
	known  bool // list, takes and numbers are those of its text
	queued bool
	making bool // it waits for a page that it draws on
	wrong  bool // an error stands at it, or at what it draws on
	bare   bool // what it or a page drawn on handles is not in the hazard list
	// leaning says that it calls a bench formula of the lab's own while those have errors.
	leaning atomic.Bool
	takes   map[string]taking
	placed  map[string]bool
	list    source.List // what is wrong with the page, once it is known
	// searched says that the list of files was searched for a name that is not there.
	searched bool
	face     string
	numbers  []Number
	before   []Number
	had      bool // before is set
	head     *sheet.Sheet
	digest   *digest     // nil until it is asked for or the background comes to it
	dues     []time.Time // reviews that the day decides
	words    wordSet     // of its texts, for substances that are listed later
}

// taking is how a page takes something from a file.
type taking uint8

const (
	takesPlace taking = 1 << iota // it leads there or shows it
	takesPage                     // it draws on it
	takesData                     // it reads its columns
	takesName                     // it asks for a bench formula or a substance
)

// Open reads a content folder to be followed. It returns as soon as every page can be
// asked for; Settle, or Work in pieces, does the rest. The site is nil only where the
// folder cannot be read at all. Close ends it.
func Open(ctx context.Context, dir string, opt Options) (*Site, source.List) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, source.List{source.NoContent(dir, systemError(err)).AtFile(dir)}
	}
	s := newSite(root, opt)
	o := &opened{root: root, needs: map[string]map[*Topic]bool{}, shelf: map[shelfKey]Answer{}, navs: map[sheet.Audience]map[string]*nav{}, stamps: map[string]stamp{}, links: map[string]bool{}, keep: keptAwake}
	s.open = o
	o.settings = s.gather(s.readSettings)
	var paths []string
	o.walk = s.gather(func() { paths = s.walk(root) })
	o.trades = s.gather(s.readFormulary)
	o.hazards = s.gather(s.readHazards)
	o.theme = s.gather(s.loadTheme)
	s.Topics = make([]*Topic, len(paths))
	each(ctx, len(paths), func(i int) {
		t := &Topic{Path: paths[i], drafts: s.drafts}
		t.File, t.first = s.readFile(t.Path)
		t.state.head = readHead(t.File)
		s.Topics[i] = t
	})
	if ctx.Err() != nil {
		root.Close()
		return nil, nil
	}
	slices.SortFunc(s.Topics, func(a, b *Topic) int { return strings.Compare(a.Path, b.Path) })
	for _, t := range s.Topics {
		s.byPath[t.Path] = t
	}
	for _, t := range s.Topics {
		s.rest(t)
	}
	s.arrange()
	for _, t := range slices.Backward(s.Topics) {
		o.queue(t, false)
	}
	s.remember()
	return s, nil
}

// Close lets go of the folder.
func (s *Site) Close() error {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	s.open.closed = true
	return s.open.root.Close()
}

// gather gives what a reader reports instead of adding it to the site's list.
func (s *Site) gather(read func()) source.List {
	kept := s.List
	s.List = nil
	read()
	out := s.List
	s.List = kept
	return out
}

// rest puts a page back to its head alone. A page whose head is not plain is read in full.
func (s *Site) rest(t *Topic) {
	st := &t.state
	for full := range st.placed {
		if p := s.pictures[full]; p != nil {
			p.uses = slices.DeleteFunc(p.uses, func(u use) bool { return u.topic == t })
			if len(p.uses) == 0 {
				delete(s.pictures, full)
			}
		}
	}
	st.placed, st.read, st.ready = nil, false, false
	t.Sheet, t.Body, t.Proof, t.values, t.leaf = nil, nil, nil, nil, nil
	t.Resolved, t.resolved = false, fresh
	if st.head != nil {
		t.Sheet = st.head
		return
	}
	s.readFull(t)
}

// forget says that a page must be worked out again.
func (s *Site) forget(t *Topic) {
	st := &t.state
	if st.known {
		if !st.had && st.numbers != nil {
			st.before, st.had = st.numbers, true
		}
		st.known = false
	}
	for p := range st.takes {
		delete(s.open.needs[p], t)
		if len(s.open.needs[p]) == 0 {
			delete(s.open.needs, p)
		}
	}
	st.takes, st.searched = nil, false
	st.list, st.dues, st.words, st.digest = nil, nil, wordSet{}, nil
	s.rest(t)
	s.open.queue(t, true)
}

// spoil forgets a page and those that draw on it, near and far.
func (s *Site) spoil(t *Topic, seen map[*Topic]bool) {
	if seen[t] {
		return
	}
	seen[t] = true
	s.forget(t)
	for user := range s.open.needs[t.Path] {
		if user.state.takes[t.Path]&takesPage != 0 {
			s.spoil(user, seen)
		}
	}
}

// queue puts a page on the list of those to be worked out.
func (o *opened) queue(t *Topic, soon bool) {
	if t.state.queued {
		if !soon {
			return
		}
		if i := slices.Index(o.todo, t); i >= len(o.todo)-o.first {
			return
		} else if i >= 0 {
			o.todo = slices.Delete(o.todo, i, i+1)
		}
	}
	t.state.queued = true
	o.todo = append(o.todo, t)
	if soon {
		o.first++
	}
}

// taker hands a page what it asks of other files, and remembers that it did.
type taker struct {
	site  *Site
	topic *Topic
}

func (k taker) Table(p string) (*sheet.Table, bool) {
	k.site.took(k.topic, p, takesData)
	return k.site.Table(p)
}

func (k taker) Files() []string {
	k.topic.state.searched = true
	return k.site.Files()
}

// took remembers that a page takes something from a file.
func (s *Site) took(t *Topic, p string, how taking) {
	if s.open == nil {
		return
	}
	if t.state.takes == nil {
		t.state.takes = map[string]taking{}
	}
	t.state.takes[p] |= how
	if s.open.needs[p] == nil {
		s.open.needs[p] = map[*Topic]bool{}
	}
	s.open.needs[p][t] = true
}

// readFull reads a page whose head alone is there; it does nothing to a page of a site
// that was loaded whole.
func (s *Site) readFull(t *Topic) {
	if s.open == nil || t.state.read {
		return
	}
	t.state.read = true
	t.Sheet, t.Body = nil, nil
	t.read(taker{s, t})
	if t.Sheet != nil {
		for _, u := range t.Sheet.Uses {
			s.took(t, u.Path, takesPage)
		}
	}
	s.open.awake = append(s.open.awake, t)
}

// ready makes a page so that it can be written. What working it out tells of it may change
// the order of folders, and so what is known of it: then it is worked out once more.
func (s *Site) ready(t *Topic) {
	for range 4 {
		if s.make(t); t.state.ready {
			return
		}
	}
}

// make reads, resolves and binds a page; with it, the pages it draws on are read.
func (s *Site) make(t *Topic) {
	st := &t.state
	t.guarded(func() { s.readFull(t) })
	if !st.ready {
		if !s.makeInputs(t) {
			return
		}
		st.ready = true
		t.guarded(func() {
			if t.Sheet != nil {
				s.resolveTopic(t)
			}
			s.workTopic(t)
		})
		for full := range st.placed {
			if p := s.pictures[full]; p != nil {
				s.readPicture(full, p)
				for _, u := range p.uses {
					if u.topic == t {
						p.tell(u)
					}
				}
			}
		}
		st.list = t.list.Sorted()
		s.known(t)
	}
	s.drawnOn(t, map[*Topic]bool{t: true})
}

// guarded does a part of the work on a page. A fault of the program in it is told like an
// error of the page, and the preview goes on.
func (t *Topic) guarded(do func()) {
	defer func() {
		if fault := recover(); fault != nil {
			t.Resolved, t.Proof = false, nil
			t.state.wrong = true
			t.list = append(t.list, source.PageFails(fmt.Sprint(fault)).AtFile(t.Path))
		}
	}()
	do()
}

// makeInputs works out the pages that a page draws on, where it is not known whether they
// hold. That may send the page itself back to its head; then it is false.
func (s *Site) makeInputs(t *Topic) bool {
	st := &t.state
	if t.Sheet == nil || st.making {
		return true
	}
	st.making = true
	defer func() { st.making = false }()
	for _, u := range t.Sheet.Uses {
		if to := s.byPath[u.Path]; to != nil && !to.state.known && !to.state.making {
			s.ready(to)
		}
	}
	return st.read
}

// drawnOn reads and resolves the pages that a page draws on, near and far: their texts are
// written on it.
func (s *Site) drawnOn(t *Topic, seen map[*Topic]bool) {
	if t.Sheet == nil {
		return
	}
	for _, u := range t.Sheet.Uses {
		to := s.byPath[u.Path]
		if to == nil || seen[to] {
			continue
		}
		seen[to] = true
		s.readFull(to)
		if to.Sheet != nil {
			s.resolveTopic(to)
			s.drawnOn(to, seen)
		}
	}
}

// known keeps what working a page out told.
func (s *Site) known(t *Topic) {
	st := &t.state
	st.known = true
	face := t.makeFace()
	st.face = face
	st.numbers = nil
	if t.Sheet != nil && t.Resolved && t.Proof != nil {
		st.numbers = numbersOf(t)
		if st.had { // a page that is wrong keeps them, until it is right again
			s.compare(t)
			st.before, st.had = nil, false
		}
	}
	if h := s.headOf(t); !sameHead(st.head, h) {
		st.head = h
		s.arrangeAgain()
	} else if h != nil {
		st.head = h
	}
}

// makeFace is what a page that only links here can see.
func (t *Topic) makeFace() string {
	if t.Sheet == nil {
		return "none"
	}
	var b strings.Builder
	b.WriteString(string(t.Status()))
	if t.Staff() {
		b.WriteString(" staff")
	}
	for _, h := range t.Body.Headings() {
		b.WriteString("\n" + h.ID)
	}
	return b.String()
}

// headOf cuts a page that was read in full down to what lists show of it.
func (s *Site) headOf(t *Topic) *sheet.Sheet {
	sh := t.Sheet
	if sh == nil {
		return nil
	}
	return &sheet.Sheet{File: sh.File, Title: sh.Title, Summary: sh.Summary, Audience: sh.Audience, Topics: sh.Topics,
		Order: sh.Order, HasOrder: sh.HasOrder, Control: sh.Control}
}

func sameHead(a, b *sheet.Sheet) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a.Title != b.Title || a.Audience != b.Audience || a.Order != b.Order || a.HasOrder != b.HasOrder || (a.Control == nil) != (b.Control == nil) {
		return false
	}
	return a.Control == nil || a.Control.Number == b.Control.Number && a.Control.Status == b.Control.Status
}

// arrangeAgain settles folders, and forgets the pages for which that changes anything.
func (s *Site) arrangeAgain() {
	s.open.turn()
	clear(s.open.navs)
	type standing struct {
		staff bool
		clash source.List
	}
	before := make(map[*Topic]standing, len(s.Topics))
	for _, t := range s.Topics {
		before[t] = standing{t.Folder != nil && t.Folder.Staff, t.clash}
	}
	s.arrange()
	moved := false
	for _, t := range s.Topics {
		b := before[t]
		if b.staff != t.Folder.Staff {
			moved = true
		}
		if !slices.Equal(b.clash, t.clash) && (t.state.read || t.state.known) {
			s.spoil(t, map[*Topic]bool{})
		}
	}
	if moved {
		for _, t := range s.Topics {
			s.forget(t)
		}
	}
}

// turn says that what was written before is written no more.
func (o *opened) turn() {
	o.version++
	clear(o.shelf)
	o.writers = nil
}

// keptAwake is how many pages are held in full beside those that somebody looks at.
const keptAwake = 64

// trim puts the pages back to their heads that nobody has asked for of late.
func (s *Site) trim() {
	o := s.open
	if len(o.awake) <= o.keep*2 {
		return
	}
	var kept []*Topic
	seen := map[*Topic]bool{}
	for _, t := range slices.Backward(o.awake) {
		if !t.state.read || seen[t] || s.byPath[t.Path] != t {
			continue
		}
		seen[t] = true
		if len(kept) < o.keep || t.state.head == nil {
			kept = append(kept, t)
			continue
		}
		s.rest(t)
	}
	slices.Reverse(kept)
	o.awake = kept
}

// Work works out up to n of the pages that wait, and says how many are left.
func (s *Site) Work(n int) (left int) {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	return s.work(n)
}

// WorkOne works out one of the pages that wait, and says how many are left and how many of
// those a change touched.
func (s *Site) WorkOne() (left, touched int) {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	return s.work(1), s.open.first
}

// Urgent tells whether pages wait that a change touched.
func (s *Site) Urgent() bool {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	return s.open.first > 0
}

// Same tells whether a folder is the one that the site follows.
func (s *Site) Same(folder os.FileInfo) bool {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	own, err := s.open.root.Stat(".")
	return err == nil && os.SameFile(own, folder)
}

func (s *Site) work(n int) int {
	o := s.open
	for n > 0 && len(o.todo) > 0 {
		last := len(o.todo) - 1
		t := o.todo[last]
		o.todo = o.todo[:last]
		o.first = max(0, o.first-1)
		t.state.queued = false
		if s.byPath[t.Path] != t {
			continue
		}
		if !t.state.known || t.state.digest == nil {
			s.ready(t)
			s.digestOf(t)
			n--
		}
		s.trim()
	}
	return len(o.todo)
}

// Settle works out all that waits.
func (s *Site) Settle(ctx context.Context) error {
	for s.Work(16) > 0 {
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return nil
}

// Diagnostics lists what is known to be wrong by now.
func (s *Site) Diagnostics() source.List {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	return s.diagnostics()
}

func (s *Site) diagnostics() source.List {
	out := s.common()
	for _, t := range s.Topics {
		out = append(out, t.state.list...)
	}
	out = append(out, s.tables.lists(func(p string) bool { return len(s.open.needs[p]) > 0 })...)
	return out.Sorted()
}

// common is what was said of files that all pages stand on.
func (s *Site) common() source.List {
	o := s.open
	return slices.Concat(o.settings, o.walk, o.trades, o.hazards, o.theme)
}
