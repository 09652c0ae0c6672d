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
			s.resolveTopic(t, nil)
		}
	})
	for _, t := range s.Topics {
		if t.Sheet != nil {
			s.resolveTopic(t, nil)
		}
	}
}

// resolveTopic resolves a page after those it draws on; way is what led to it.
func (s *Site) resolveTopic(t *Topic, way []*Topic) {
	if t.resolved != fresh {
		return
	}
	t.resolved = open
	way = append(way, t)
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
			for i := len(way) - 1; i >= 0; i-- {
				names = way[i].Path + " → " + names
				if way[i] == to {
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
		s.resolveTopic(to, way)
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

// trades is the formulary with the lab's own entries.
func (s *Site) trades() sheet.Trades { return s.Formulary }

// readFormulary adds the lab's own bench formulas, the files of the folder formulary/.
func (s *Site) readFormulary() {
	var names []string
	for p := range s.files {
		if path.Dir(p) == "formulary" && strings.HasSuffix(p, ".yaml") {
			names = append(names, p)
		}
	}
	slices.Sort(names)
	var own []*source.File
	for _, p := range names {
		raw, err := fs.ReadFile(s.content, p)
		if err != nil {
			s.report(source.CannotRead(systemError(err)).AtFile(p))
			continue
		}
		f, list := source.New(p, raw)
		s.List = append(s.List, list...)
		if list.Errors() == 0 {
			own = append(own, f)
		}
	}
	s.Formulary = formulary.Load()
	if len(own) == 0 {
		return
	}
	set, list := s.Formulary.WithOwn(own)
	s.List = append(s.List, list...)
	if set != nil {
		s.Formulary = set
	}
}
