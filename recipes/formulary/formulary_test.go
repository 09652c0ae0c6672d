package formulary

import (
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/formula"
	"labsite/recipes/source"
)

func TestBuiltInEntriesHoldTogether(t *testing.T) {
	set, list := new(Set).with(builtInFiles(), false)
	for _, d := range list {
		t.Error(d)
	}
	if len(set.All()) != len(set.Names()) {
		t.Errorf("%d entries, %d names", len(set.All()), len(set.Names()))
	}
	for _, e := range set.All() {
		for _, v := range set.RunChecks(e) {
			if !v.OK {
				t.Errorf("%s: expected %s, found %s (%s)", v.What, v.Expected, v.Found, v.Source)
			}
		}
	}
}

// An entry that is read alone, on first use, is the same as when its whole file is read, in every
// place too.
func TestBuiltInEntriesReadAlone(t *testing.T) {
	whole, _ := new(Set).with(builtInFiles(), false)
	alone := Load()
	if !slices.Equal(whole.Names(), alone.Names()) || len(alone.All()) != len(whole.All()) {
		t.Fatalf("%d and %d names", len(whole.Names()), len(alone.Names()))
	}
	for i, e := range alone.All() {
		want := whole.All()[i]
		a, b := *e, *want
		a.trade, b.trade, b.size = nil, nil, 0 // size is set when it is inferred
		if !cmp.Equal(a, b, sameFiles) || !slices.EqualFunc(formulasOf(e), formulasOf(want), func(x, y *formula.Formula) bool {
			return x.Normal() == y.Normal() && cmp.Equal(x.Span(), y.Span(), sameFiles)
		}) {
			t.Errorf("%s differs from %s", e.Name, want.Name)
		}
	}
}

// sameFiles compares all of a value, but files only by their path and text, since they also keep
// what was counted in them.
var sameFiles = cmp.Options{cmp.Exporter(func(reflect.Type) bool { return true }), cmp.Comparer(func(x, y *source.File) bool {
	return x == y || x != nil && y != nil && x.Path == y.Path && x.Text == y.Text
})}

// formulasOf are the formula of an entry and those that guard its range.
func formulasOf(e *Entry) []*formula.Formula {
	all := []*formula.Formula{e.trade.Body}
	for _, g := range e.trade.Guards {
		all = append(all, g.When)
	}
	return all
}
