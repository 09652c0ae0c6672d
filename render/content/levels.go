package content

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

	"labsite/recipes/page"
)

// Standing is the position of a page among those that draw on one another. It is found from the list of
// what each page draws on, before any page is resolved, so that no chain of pages is followed beyond
// the bound.
type Standing struct {
	Level int // how many levels deep it draws on others
	// Ring is the number of the circle of pages that it is part of, and 0 if it is in none; Shape is
	// a digest of which page draws on which there.
	Ring  int
	Shape uint64
	// Deep says that the page begins a chain that is too long. Way is that chain, at the page where
	// it passes the bound.
	Deep bool
	Way  []string
	// ReportedAt is the page, maybe itself, at which the circle or the chain is reported; nil for a
	// page that is in no circle and begins no chain that is too long.
	ReportedAt *Page
}

// String is all of the standing that the errors of a page depend on: the same text if they are the
// same.
func (s Standing) String() string {
	told := ""
	if s.ReportedAt != nil {
		told = s.ReportedAt.Path
	}
	return fmt.Sprintf("%t %x %t %q %q", s.Ring != 0, s.Shape, s.Deep, told, s.Way)
}

// drawsOn lists the pages that a page draws on, without missing ones.
func (c *Content) drawsOn(page *Page) []*Page {
	var out []*Page
	for _, p := range page.Draws {
		if to := c.byPath[p]; to != nil {
			out = append(out, to)
		}
	}
	return out
}

// usesOf lists the paths of the pages that a sheet draws on.
func usesOf(sh *page.Sheet) []string {
	if sh == nil {
		return nil
	}
	var out []string
	for _, u := range sh.Uses {
		out = append(out, u.Path)
	}
	return out
}

// settleLevels finds where every page stands.
func (c *Content) settleLevels() {
	for _, p := range c.Pages {
		p.Standing = Standing{}
	}
	w := &levels{content: c, at: map[*Page]int{}, low: map[*Page]int{}}
	for _, p := range c.Pages {
		if len(p.Draws) > 0 && w.at[p] == 0 {
			w.walk(p)
		}
	}
}

// levels walks all pages by what they draw on and finds the circles among them (R. Tarjan, 1972), each
// page after those that it draws on. It keeps its own stack, since a chain can be as long as there are
// pages.
type levels struct {
	content *Content
	at      map[*Page]int // when a page was met, from 1; -1 once it is settled
	low     map[*Page]int // when the earliest page was met that it leads back to
	count   int
	rings   int
	held    []*Page // met but not settled
}

// step is a page on the path that is being walked.
type step struct {
	page *Page
	to   []*Page // those that it draws on and that are still to be visited
}

func (w *levels) meet(p *Page) step {
	w.count++
	w.at[p], w.low[p] = w.count, w.count
	w.held = append(w.held, p)
	return step{p, w.content.drawsOn(p)}
}

func (w *levels) walk(from *Page) {
	way := []step{w.meet(from)}
	for len(way) > 0 {
		last := &way[len(way)-1]
		t := last.page
		if len(last.to) > 0 {
			to := last.to[0]
			last.to = last.to[1:]
			switch at := w.at[to]; {
			case at == 0:
				way = append(way, w.meet(to))
			case at > 0:
				w.low[t] = min(w.low[t], at)
			}
			continue
		}
		way = way[:len(way)-1]
		if len(way) > 0 {
			above := way[len(way)-1].page
			w.low[above] = min(w.low[above], w.low[t])
		}
		if w.low[t] == w.at[t] {
			w.settle(t)
		}
	}
}

// settle settles what is held from a page on: the page alone, or a circle.
func (w *levels) settle(p *Page) {
	from := len(w.held) - 1
	for w.held[from] != p {
		from--
	}
	members := w.held[from:]
	w.held = w.held[:from]
	for _, m := range members {
		w.at[m] = -1
	}
	if len(members) == 1 && !slices.Contains(p.Draws, p.Path) {
		w.level(p)
		return
	}
	w.rings++
	slices.SortFunc(members, func(a, b *Page) int { return strings.Compare(a.Path, b.Path) })
	shape := fnv.New64a()
	var closing *Page
	for _, m := range members {
		if closing == nil && slices.Contains(m.Draws, members[0].Path) {
			closing = m
		}
		fmt.Fprintf(shape, "%q %q\n", m.Path, m.Draws)
	}
	for _, m := range members {
		m.Standing = Standing{Ring: w.rings, Shape: shape.Sum64(), ReportedAt: closing}
	}
}

// level finds how deep a page draws on others, which must be settled.
func (w *levels) level(p *Page) {
	var deepest *Page
	for _, to := range w.content.drawsOn(p) {
		if p.Standing.Level <= to.Standing.Level {
			p.Standing.Level, deepest = to.Standing.Level+1, to
		}
	}
	if p.Standing.Level <= page.MostLevels {
		return
	}
	if p.Standing.Deep = true; deepest.Standing.Deep {
		p.Standing.ReportedAt = deepest.Standing.ReportedAt
		return
	}
	p.Standing.ReportedAt, p.Standing.Way = p, w.content.chain(p)
}

// chain is the longest way from a page through those that it draws on.
func (c *Content) chain(p *Page) []string {
	way := []string{p.Path}
	for p.Standing.Level > 0 {
		for _, to := range c.drawsOn(p) {
			if to.Standing.Level == p.Standing.Level-1 {
				p = to
				break
			}
		}
		way = append(way, p.Path)
	}
	return way
}

// Circle is the path by which a page draws on another one in its ring, through pages whose paths do not
// sort before that of first; nil if there is none.
func (c *Content) Circle(from, to, first *Page) []string {
	if from.Standing.Ring == 0 || from.Standing.Ring != to.Standing.Ring || to.Path < first.Path {
		return nil
	}
	seen := map[*Page]bool{from: true}
	way := []step{{from, c.drawsOn(from)}}
	for len(way) > 0 {
		last := &way[len(way)-1]
		if last.page == to {
			var paths []string
			for _, x := range way {
				paths = append(paths, x.page.Path)
			}
			return paths
		}
		if len(last.to) == 0 {
			way = way[:len(way)-1]
			continue
		}
		next := last.to[0]
		last.to = last.to[1:]
		if next.Standing.Ring == to.Standing.Ring && next.Path >= first.Path && !seen[next] {
			seen[next] = true
			way = append(way, step{next, c.drawsOn(next)})
		}
	}
	return nil
}
