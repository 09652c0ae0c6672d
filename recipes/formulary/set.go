package formulary

import (
	"embed"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

//go:embed entries/*.yaml
var entryFiles embed.FS

// largestTree bounds what one call may grow into, the entries that it uses included.
const largestTree = 2000

// Set is the bench formulas that a page may call.
type Set struct {
	entries []*Entry
	byName  map[string]*Entry
	names   []string

	freed sync.Once
	free  *Set // see unowned
}

var builtIn = sync.OnceValues(func() (*Set, source.List) {
	paths, err := fs.Glob(entryFiles, "entries/*.yaml")
	if err != nil {
		return newSet(nil), nil
	}
	var files []*source.File
	var list source.List
	for _, path := range paths {
		raw, err := entryFiles.ReadFile(path)
		if err != nil {
			continue
		}
		f, l := source.New(path, raw)
		list = append(list, l...)
		files = append(files, f)
	}
	set, l := newSet(nil).with(files, false)
	return set, append(list, l...)
})

// Load gives the built-in bench formulas. They are read, inferred and checked once.
func Load() *Set {
	set, _ := builtIn()
	return set
}

// WithOwn adds a shop's own bench formulas. Everything wrong with them is reported, and
// an entry with an error is left out.
func (s *Set) WithOwn(files []*source.File) (*Set, source.List) { return s.with(files, true) }

func newSet(entries []*Entry) *Set {
	s := &Set{entries: entries, byName: map[string]*Entry{}}
	for _, e := range entries {
		s.byName[e.Name] = e
		s.names = append(s.names, e.Name)
	}
	slices.Sort(s.names)
	return s
}

// Find gives an entry by name.
func (s *Set) Find(name string) (*Entry, bool) {
	e, ok := s.byName[name]
	return e, ok
}

// Names lists the names in alphabetical order.
func (s *Set) Names() []string { return slices.Clone(s.names) }

// All lists the entries, the built-in ones first, each file in its own order.
func (s *Set) All() []*Entry { return slices.Clone(s.entries) }

// Trade finds an entry as the formula language takes it.
func (s *Set) Trade(name string) (*formula.Trade, bool) {
	if e, ok := s.byName[name]; ok {
		return e.trade, true
	}
	return nil, false
}

func (s *Set) with(files []*source.File, own bool) (*Set, source.List) {
	var list source.List
	known := map[string]*Entry{}
	for _, e := range s.entries {
		known[e.Name] = e
	}
	var fresh []*Entry
	// wrong are the names of entries that cannot be used; what calls one of them is left out
	// as well, and not reported for it
	wrong := map[string]bool{}
	for _, f := range files {
		entries, names, l := read(f)
		list = append(list, l...)
		for _, name := range names {
			wrong[name] = known[name] == nil
		}
		for _, e := range entries {
			e.Own = own
			if old := known[e.Name]; old != nil {
				where := ""
				if old.Own && old.span.File != nil {
					where = old.span.File.Path
				}
				list = append(list, source.BenchNameTwice(e.Name, where).At(e.span))
				continue
			}
			known[e.Name] = e
			fresh = append(fresh, e)
			wrong[e.Name] = false
		}
	}
	sorted, l := inOrder(fresh, known)
	list = append(list, l...)
	for _, e := range fresh {
		wrong[e.Name] = wrong[e.Name] || !slices.Contains(sorted, e) // it goes round in a circle
	}
	out := newSet(slices.Clone(s.entries))
	good := map[*Entry]bool{}
	for _, e := range sorted {
		// entries see those before them alone, so a faulty one is never called
		before := list.Errors()
		if slices.ContainsFunc(e.calls(), func(name string) bool { return wrong[name] }) {
			wrong[e.Name] = true
			continue
		}
		list = append(list, out.infer(e)...)
		if list.Errors() > before {
			wrong[e.Name] = true
			continue
		}
		out.byName[e.Name] = e
		out.names = append(out.names, e.Name)
		list = append(list, out.prove(e)...)
		good[e] = true
	}
	for _, e := range fresh {
		if good[e] {
			out.entries = append(out.entries, e)
		}
	}
	slices.Sort(out.names)
	return out, list.Sorted()
}

// calls lists the names that an entry's formulas call, with where in the text.
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

// inOrder sorts entries so that each comes after those it uses. Those that go round in
// a circle are reported, with the path, and left out.
func inOrder(entries []*Entry, known map[string]*Entry) ([]*Entry, source.List) {
	const (
		fresh = iota
		open
		done
		circular
	)
	state := map[*Entry]int{}
	isNew := map[*Entry]bool{}
	for _, e := range entries {
		isNew[e] = true
	}
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
			if other := known[name]; other != nil && isNew[other] && !visit(other) {
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

// infer tries an entry's formulas with every kind of argument that it takes, so that no
// page meets a fault of the entry.
func (s *Set) infer(e *Entry) source.List {
	var list source.List
	e.size = 0
	used := map[string]bool{}
	e.eachBinding(func(kinds map[string]quantity.Kind) bool {
		scope := &entryScope{set: s, symbols: map[string]formula.Symbol{}}
		for _, p := range e.Params {
			own := formula.Unowned
			if p.Owned {
				own = formula.Owned
			}
			scope.bind(p.Name, kinds[p.Name], own)
		}
		for _, f := range e.trade.Fixed {
			scope.bind(f.Name, f.Value.Kind, formula.Neutral)
		}
		size := 0
		see := func(f *formula.Formula) *formula.Node {
			n, l := formula.Infer(f, scope)
			for _, d := range l {
				if d.File == "" && d.Line <= 1 { // a formula that the program made
					d = source.TradeFails(e.Name, d.Message).At(e.span)
				}
				list = append(list, d)
			}
			if n != nil {
				n.Walk(func(n *formula.Node) bool { size++; return size <= largestTree })
				for _, r := range f.References() {
					used[r.Name] = true
				}
			}
			return n
		}
		body := see(e.trade.Body)
		for _, g := range e.trade.Guards {
			if n := see(g.When); n != nil && n.Kind != quantity.Yes {
				list = append(list, source.WantsKind("when", quantity.Yes.Name(), n.Kind.Name()).At(g.When.Span()))
			}
		}
		if body != nil && list.Errors() == 0 {
			call, l := formula.Infer(mustParse(e.trade.Form()), &entryScope{set: s, also: e, symbols: scope.owned(), slots: scope.slots})
			if call == nil {
				message := ""
				if len(l) > 0 {
					message = l[0].Message
				}
				list = append(list, source.BenchFails(message).At(e.trade.Body.Span()))
				if e.trade.Body.Span().File == nil {
					list[len(list)-1] = source.BenchFails(message).At(e.span)
				}
			}
		}
		e.size = max(e.size, size)
		return list.Errors() == 0
	})
	if e.size > largestTree {
		list = append(list, source.BenchTooLarge(largestTree).At(e.span))
	}
	if list.Errors() == 0 {
		for _, p := range e.Params {
			if !used[p.Name] {
				list = append(list, source.BenchUnused(p.Name).At(e.span))
			}
		}
	}
	return list
}

func mustParse(text string) *formula.Formula {
	f, _ := formula.Parse(text, nil)
	return f
}
