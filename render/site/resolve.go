package site

import (
	"context"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// resolve infers the kinds of all pages. Pages that draw on none go first, side by side;
// the others follow in the order in which they need one another.
func (s *Site) resolve(ctx context.Context) {
	each(ctx, len(s.Topics), func(i int) {
		if t := s.Topics[i]; t.Sheet != nil && len(t.Sheet.Uses) == 0 {
			s.resolveTopic(t, nil)
		}
	})
	for _, t := range s.Topics {
		if t.Sheet != nil {
			s.resolveTopic(t, nil)
		}
	}
}

// resolveTopic resolves a page after those it draws on; path is the way that led to it.
func (s *Site) resolveTopic(t *Topic, path []*Topic) {
	if t.resolved != fresh {
		return
	}
	t.resolved = open
	path = append(path, t)
	find := func(full string) (*sheet.Sheet, source.Problem, bool) {
		to, ok := s.byPath[full]
		if !ok {
			var all []string
			for p := range s.byPath {
				all = append(all, p)
			}
			return nil, source.LinkNowhere(full, relative(t.Path, source.Nearest(full, all))), false
		}
		if to.Sheet == nil {
			return nil, source.Problem{}, false
		}
		if to.resolved == open {
			names := to.Path
			for i := len(path) - 1; i >= 0; i-- {
				names = path[i].Path + " → " + names
				if path[i] == to {
					break
				}
			}
			return nil, source.PageCycle(names), false
		}
		switch {
		case !t.Staff() && to.Staff():
			return nil, source.UseOfStaff(full), false
		case t.Status() == sheet.Approved && to.Status() != sheet.Approved:
			return nil, source.UseUnpublished(full, string(to.Status())), false
		}
		s.resolveTopic(to, path)
		return to.Sheet, source.Problem{}, true
	}
	t.list = append(t.list, t.Sheet.ResolveIn(sheet.World{Page: find, Trades: s.trades()})...)
	for _, d := range t.Sheet.Data {
		if d.Path != "" && !t.Staff() && s.staffFile(d.Path) {
			t.list = append(t.list, source.DataOfStaff(d.Path).At(d.Span))
		}
	}
	for _, u := range t.Sheet.Uses {
		if u.Sheet == nil {
			continue
		}
		if to := s.byPath[u.Path]; to != nil && to.list.Errors() > 0 && t.list.Errors() == 0 {
			t.list = append(t.list, source.UseBroken(u.Path).At(u.Span))
		}
	}
	t.resolved = done
	t.Resolved = t.list.Errors() == 0
}

// States of a page while the order of resolving is found.
const (
	fresh = iota
	open
	done
)

// trades is the formulary; nil until the lab has one.
func (s *Site) trades() sheet.Trades { return nil }
