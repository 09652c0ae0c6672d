package site

import (
	"context"
	"io/fs"
	"path"
	"slices"
	"strings"

	"labsite/recipes/formulary"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// resolve infers the kinds of all pages. Pages that draw on none go first, side by side;
// the others follow in the order in which they need one another.
func (s *Site) resolve(ctx context.Context) {
	each(ctx, len(s.Topics), func(i int) {
		if t := s.Topics[i]; t.Sheet != nil && len(t.Sheet.Uses) == 0 {
			s.resolveTopic(t)
		}
	})
	for _, t := range s.Topics {
		if t.Sheet != nil {
			s.resolveTopic(t)
		}
	}
}

// resolveTopic resolves a page after those it draws on. A page that draws on itself by way
// of others is told so where the circle comes back to the first of its pages by path, so that
// it does not matter with which page resolving begins.
func (s *Site) resolveTopic(t *Topic) {
	if t.resolved != fresh {
		return
	}
	t.resolved = done
	t.list = append(t.list, t.clash...)
	circular := false
	find := func(full string) (*sheet.Sheet, source.Problem, bool) {
		to, ok := s.byPath[full]
		if !ok {
			t.state.searched = true
			var all []string
			for p := range s.byPath {
				all = append(all, p)
			}
			return nil, source.LinkNowhere(full, relative(t.Path, source.Nearest(full, all))), false
		}
		s.readFull(to)
		if to.Sheet == nil {
			return nil, source.UseBroken(full), false
		}
		if way := s.circle(to, t, to, map[*Topic]bool{}); way != nil {
			return nil, source.PageCycle(strings.Join(append(way, to.Path), " → ")), false
		}
		switch {
		case !t.Staff() && to.saidStaff():
			return nil, source.UseOfStaff(full), false
		case t.Status() == sheet.Approved && to.unpublished():
			return nil, source.UseUnpublished(full, string(to.Status())), false
		}
		s.resolveTopic(to)
		switch {
		case to.Resolved:
			return to.Sheet, source.Problem{}, true
		case s.circle(to, t, &Topic{}, map[*Topic]bool{}) != nil:
			// A circle is told once, at the page that closes it. The page still fails.
			circular = true
			return nil, source.Problem{}, false
		}
		return nil, source.UseBroken(full), false
	}
	t.state.leaning.Store(false)
	held := true
	for _, d := range t.Sheet.ResolveIn(sheet.World{Page: find, Trades: s.tradesFor(t)}) {
		if s.hidden(d) {
			held = false
			continue
		}
		t.list = append(t.list, d)
	}
	for _, d := range t.Sheet.Data {
		if d.Path != "" && !t.Staff() && s.staffFile(d.Path) {
			t.list = append(t.list, source.DataOfStaff(d.Path).At(d.Span))
		}
	}
	t.Resolved = t.list.Errors() == 0 && held && !t.state.leaning.Load() && !circular
}

// hidden tells whether nothing can be said of a bench formula that a page calls and that is
// not there: it may stand among those of the lab that cannot be read.
func (s *Site) hidden(d source.Diagnostic) bool {
	return s.tradesBroken && d.Code == source.UnknownFunction("", "").Code
}

// inputs tells whether all pages that a page draws on hold, and reports those that do not:
// with one of their numbers wrong, every check of this page would seem to fail. They are
// worked out before.
func (s *Site) inputs(t *Topic) bool {
	ok := true
	for _, u := range t.Sheet.Uses {
		if to := s.byPath[u.Path]; to != nil && u.Sheet != nil && to.state.wrong {
			t.list = append(t.list, source.UseBroken(u.Path).At(u.Span))
			ok = false
		}
	}
	return ok
}

// circle is the way by which a page draws on another, nil where it does not, over pages that
// come after the first by their paths; seen are those that are known not to lead there.
func (s *Site) circle(from, to, first *Topic, seen map[*Topic]bool) []string {
	if from.Path < first.Path || to.Path < first.Path || seen[from] {
		return nil
	}
	if from == to {
		return []string{to.Path}
	}
	seen[from] = true
	s.readFull(from)
	if from.Sheet == nil {
		return nil
	}
	for _, u := range from.Sheet.Uses {
		if next := s.byPath[u.Path]; next != nil {
			if way := s.circle(next, to, first, seen); way != nil {
				return append([]string{from.Path}, way...)
			}
		}
	}
	return nil
}

// States of a page while the order of resolving is found.
const (
	fresh = iota
	done
)

// readFormulary adds the lab's own bench formulas, the files of the folder formulary/.
func (s *Site) readFormulary() {
	var names []string
	for p := range s.files {
		if path.Dir(p) == "formulary" && strings.HasSuffix(p, ".yaml") {
			names = append(names, p)
		}
	}
	slices.Sort(names)
	s.tradesBroken = false
	var own []*source.File
	for _, p := range names {
		raw, err := fs.ReadFile(s.content, p)
		if err != nil {
			s.report(source.CannotRead(systemError(err)).AtFile(p))
			s.tradesBroken = true
			continue
		}
		f, list := source.New(p, raw)
		s.List = append(s.List, list...)
		if list.Errors() == 0 {
			own = append(own, f)
		} else {
			s.tradesBroken = true
		}
	}
	s.Formulary = formulary.Load()
	if len(own) == 0 {
		return
	}
	set, list := s.Formulary.WithOwn(own)
	s.List = append(s.List, list...)
	s.tradesBroken = s.tradesBroken || list.Errors() > 0
	if set != nil {
		s.Formulary = set
	}
}
