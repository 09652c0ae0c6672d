package formulary

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// tried is an entry that is inferred with every kind of argument that it takes.
type tried struct {
	set   *Set
	entry *Entry
	list  source.List
	used  map[string]bool // parameters that a formula names
}

// infer tries an entry's formulas with every kind of argument that it takes, so that no
// page runs into a fault of the entry.
func (s *Set) infer(e *Entry) source.List {
	t := &tried{set: s, entry: e, used: map[string]bool{}}
	e.size = 0
	e.eachBinding(func(kinds map[string]quantity.Kind) bool {
		t.with(kinds)
		return t.list.Errors() == 0
	})
	if e.size > largestTree {
		t.list = append(t.list, source.BenchTooLarge(largestTree).At(e.span))
	}
	if t.list.Errors() == 0 {
		for _, p := range e.Params {
			if !t.used[p.Name] {
				t.list = append(t.list, source.BenchUnused(p.Name).At(e.span))
			}
		}
	}
	return t.list
}

// with infers the formulas for arguments of some kinds.
func (t *tried) with(kinds map[string]quantity.Kind) {
	e := t.entry
	scope := &entryScope{set: t.set, symbols: map[string]formula.Symbol{}}
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
	body, size := t.formula(e.trade.Body, scope)
	for _, g := range e.trade.Guards {
		n, more := t.formula(g.When, scope)
		size += more
		if n != nil && n.Kind != quantity.Yes {
			t.list = append(t.list, source.WantsKind("when", quantity.Yes.Name(), n.Kind.Name()).At(g.When.Span()))
		}
	}
	if body != nil && t.list.Errors() == 0 {
		t.call(scope)
	}
	e.size = max(e.size, size)
}

// formula infers one formula, and counts its parts as far as they matter.
func (t *tried) formula(f *formula.Formula, scope *entryScope) (n *formula.Node, size int) {
	n, list := formula.Infer(f, scope)
	for _, d := range list {
		if d.File == "" && d.Line <= 1 { // a formula that the program made
			d = source.TradeFails(t.entry.Name, d.Message).At(t.entry.span)
		}
		t.list = append(t.list, d)
	}
	if n != nil {
		n.Walk(func(*formula.Node) bool { size++; return size <= largestTree })
		for _, r := range f.References() {
			t.used[r.Name] = true
		}
	}
	return n, size
}

// call infers the entry as a page calls it.
func (t *tried) call(scope *entryScope) {
	e := t.entry
	call, list := formula.Infer(mustParse(e.trade.Form()), &entryScope{set: t.set, also: e, symbols: scope.owned(), slots: scope.slots})
	if call != nil {
		return
	}
	message := ""
	if len(list) > 0 {
		message = list[0].Message
	}
	at := e.trade.Body.Span()
	if at.File == nil {
		at = e.span
	}
	t.list = append(t.list, source.BenchFails(message).At(at))
}

// mustParse reads a formula of the program's own.
func mustParse(text string) *formula.Formula {
	f, _ := formula.Parse(text, nil)
	return f
}
