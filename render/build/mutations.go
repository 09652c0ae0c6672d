package build

import (
	"context"

	"labsite/recipes/guard"
	"labsite/recipes/source"
)

// Guarded says how many of the changes tried on a page its checks notice; "" while that is not
// known.
func (f *Followed) Guarded(page string) string {
	f.mu.Lock()
	defer f.mu.Unlock()
	if r := f.kept(page); r != nil {
		return r.Listed.Mutations.String()
	}
	return ""
}

// Outcomes says what came of each change that was tried on a page; ok is false while that is not
// known.
func (f *Followed) Outcomes(page string) (out []guard.Outcome, ok bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	r := f.kept(page)
	if r == nil || !f.site.Memory.mutationsKnown(r) {
		return nil, false
	}
	return r.outcomes, true
}

// kept returns the result on a page if it holds, else nil.
func (f *Followed) kept(path string) *Result {
	p := f.site.Content.Page(path)
	if p == nil {
		return nil
	}
	return f.site.Memory.Kept(f.desk, p)
}

// TryGuards tries changes to a page on purpose and notes which of them its checks notice. It does
// so on a copy, without the lock, so that nobody waits; if ctx ends or the page changes meanwhile,
// nothing is noted. It reports whether anything new is known.
func (f *Followed) TryGuards(ctx context.Context, path string) bool {
	f.mu.Lock()
	r := f.kept(path)
	if f.closed || r == nil || f.site.Memory.mutationsKnown(r) {
		f.mu.Unlock()
		return false
	}
	own, ok := f.desk.Copy(f.site.Content.Page(path))
	f.mu.Unlock()
	found := guard.Report{}
	if ok {
		var fault source.List
		guarded(path, &fault, func() { found, ok = guard.Sheet(ctx, own) })
		ok = ok && len(fault) == 0
	}
	if ctx.Err() != nil {
		return false
	}
	if !ok {
		found = guard.Report{} // a page with an error has no outcomes, and is not tried again
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.kept(path) != r {
		return false
	}
	f.site.Memory.setMutations(r, found)
	r.outcomes = found.Outcomes
	if f.site.Content.Settings.Guarded > 0 {
		f.version++
		clear(f.cache) // the register shows the count
	}
	return found.Counted() > 0
}
