package formulary

import (
	"maps"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/source"
)

// largestTree bounds what one call may grow into, the entries that it uses included.
const largestTree = 2000

// Set is the bench formulas that a page may call.
type Set struct {
	builtIn *builtIns // nil for none
	entries []*Entry  // those besides the built-in ones
	byName  map[string]*Entry
	names   []string // of all, sorted
	free    bool     // see unowned
}

// Load gives the built-in bench formulas, each of which is read on first use.
func Load() *Set {
	b := builtIn()
	return &Set{builtIn: b, byName: map[string]*Entry{}, names: b.names()}
}

// WithOwn adds a shop's own bench formulas. Everything wrong with them is reported, and
// an entry with an error is left out.
func (s *Set) WithOwn(files []*source.File) (*Set, source.List) { return s.with(files, true) }

// Find gives an entry by name.
func (s *Set) Find(name string) (*Entry, bool) {
	e, ok := s.byName[name]
	if !ok && s.builtIn != nil {
		e, ok = s.builtIn.find(name)
	}
	if ok && s.free {
		return e.unowned(), true
	}
	return e, ok
}

// Names lists the names in alphabetical order.
func (s *Set) Names() []string { return slices.Clone(s.names) }

// All lists the entries, the built-in ones first, each file in its own order.
func (s *Set) All() []*Entry {
	var all []*Entry
	if s.builtIn != nil {
		for _, p := range s.builtIn.pieces {
			all = append(all, p.read())
		}
	}
	return append(all, s.entries...)
}

// Trade finds an entry as the formula language takes it.
func (s *Set) Trade(name string) (*formula.Trade, bool) {
	if e, ok := s.Find(name); ok {
		return e.trade, true
	}
	return nil, false
}

// added holds entries that are being added to a set.
type added struct {
	set    *Set
	fresh  []*Entry
	byName map[string]*Entry // the fresh ones
	// wrong are the names of entries that cannot be used. An entry that calls one of them is
	// left out as well, without a report of its own.
	wrong map[string]bool
}

func (s *Set) with(files []*source.File, own bool) (*Set, source.List) {
	a := &added{set: s, byName: map[string]*Entry{}, wrong: map[string]bool{}}
	var list source.List
	for _, f := range files {
		list = append(list, a.read(f, own)...)
	}
	sorted, l := inOrder(a.fresh, a.byName)
	list = append(list, l...)
	for _, e := range a.fresh {
		a.wrong[e.Name] = a.wrong[e.Name] || !slices.Contains(sorted, e) // part of a cycle
	}
	out := &Set{builtIn: s.builtIn, entries: slices.Clone(s.entries), byName: map[string]*Entry{}, names: slices.Clone(s.names)}
	maps.Copy(out.byName, s.byName)
	good := map[*Entry]bool{}
	for _, e := range sorted {
		// an entry sees only those before it, so a faulty one is never called
		if slices.ContainsFunc(e.calls(), func(name string) bool { return a.wrong[name] }) {
			a.wrong[e.Name] = true
			continue
		}
		l := out.infer(e)
		list = append(list, l...)
		if l.Errors() > 0 {
			a.wrong[e.Name] = true
			continue
		}
		out.byName[e.Name] = e
		out.names = append(out.names, e.Name)
		list = append(list, out.prove(e)...)
		good[e] = true
	}
	for _, e := range a.fresh {
		if good[e] {
			out.entries = append(out.entries, e)
		}
	}
	slices.Sort(out.names)
	return out, list.Sorted()
}

func (a *added) known(name string) *Entry {
	if e := a.byName[name]; e != nil {
		return e
	}
	e, _ := a.set.Find(name)
	return e
}

// read takes in the entries of a file; one whose name is already taken is reported.
func (a *added) read(f *source.File, own bool) source.List {
	entries, names, list := read(f)
	for _, name := range names {
		a.wrong[name] = a.known(name) == nil
	}
	for _, e := range entries {
		e.Own = own
		if old := a.known(e.Name); old != nil {
			where := ""
			if old.Own && old.span.File != nil {
				where = old.span.File.Path
			}
			list = append(list, source.BenchNameTwice(e.Name, where).Also(ownSpan(old), "the first "+e.Name).At(e.span))
			continue
		}
		a.byName[e.Name] = e
		a.fresh = append(a.fresh, e)
		a.wrong[e.Name] = false
	}
	return list
}

// calls lists the names that an entry's formulas call.
func (e *Entry) calls() []string {
	var out []string
	see := func(f *formula.Formula) {
		if f == nil {
			return
		}
		for _, t := range f.Tokens() {
			if t.Kind == formula.Function {
				out = append(out, f.Normal()[t.Start:t.End])
			}
		}
	}
	see(e.trade.Body)
	for _, g := range e.trade.Guards {
		see(g.When)
	}
	return out
}

// inOrder sorts entries so that each comes after those it uses. Cycles are reported, with
// their path, and left out.
func inOrder(entries []*Entry, byName map[string]*Entry) ([]*Entry, source.List) {
	const (
		fresh = iota
		open
		done
		circular
	)
	state := map[*Entry]int{}
	var sorted []*Entry
	var list source.List
	var path []*Entry
	var visit func(e *Entry) bool
	visit = func(e *Entry) bool {
		switch state[e] {
		case done:
			return true
		case circular:
			return false
		case open:
			var names []string
			at := slices.Index(path, e)
			for _, p := range path[at:] {
				names = append(names, p.Name)
			}
			list = append(list, source.BenchCycle(strings.Join(append(names, e.Name), " → ")).At(e.span))
			return false
		}
		state[e] = open
		path = append(path, e)
		fine := true
		for _, name := range e.calls() {
			if other := byName[name]; other != nil && !visit(other) {
				fine = false
			}
		}
		path = path[:len(path)-1]
		state[e] = done
		if !fine {
			state[e] = circular
			return false
		}
		sorted = append(sorted, e)
		return true
	}
	for _, e := range entries {
		visit(e)
	}
	return sorted, list
}

// ownSpan is where an entry is in the lab's own files; nowhere for one that is built in.
func ownSpan(e *Entry) source.Span {
	if !e.Own {
		return source.Span{}
	}
	return e.span
}
