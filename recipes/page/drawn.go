package page

import (
	"encoding/binary"
	"slices"

	"labsite/recipes/source"
)

// Bounds of what one page may draw on. They hold more than a lab needs, and keep what a page
// costs near what is written on it: two uses on each of 20 pages are a million ways down.
const (
	// MostLevels is how many levels deep pages may draw on one another.
	MostLevels = 16
	// MostDrawn is how many pages a page may draw on, near and far; a page counts once for
	// each set of values that it is drawn on at.
	MostDrawn = 200
	// MostValues bounds the slots of a frame: the given values and figures of all these pages,
	// and once more for each page that takes them over.
	MostValues = 20000
)

// Part is a page that another draws on, near or far, at one set of values. All uses that set
// the same values share the part: it is worked out for the first of them, and the others take
// its values over.
type Part struct {
	Sheet *Sheet
	// Use is the use that it is worked out for; From the one of the drawing page itself by
	// which that is reached.
	Use, From *Use
	// Name joins the names of the uses that lead to it: "mix", "mix.stock".
	Name string
	// Base is where its values begin in the drawing page's frame.
	Base int

	Number int   // among the parts of the layout
	owner  *Part // whose use Use is
	// Links are the parts that its uses lead to, by their numbers; nil if a page is not there.
	Links []*Part
	given []int // the terms that its given values stand for, by slot
}

// Owner is the part whose use it is worked out for, or nil for the drawing page itself.
func (p *Part) Owner() *Part {
	if p.owner.owner == nil {
		return nil
	}
	return p.owner
}

// Owns tells whether a use of the part's page is the one that a part is worked out for; the
// others take over from what another use owns.
func (p *Part) Owns(u *Use) bool {
	to := p.Links[u.Number]
	return to != nil && to.owner == p && to.Use == u
}

// Layout says how the values of a page and of all that it draws on lie in one slice: the page's
// own block first, then a block for each part. A block holds the page's given values and
// figures, a window for each page that it draws on, which takes over that page's given values
// and figures, and the names that its formulas bind.
type Layout struct {
	Top   *Part   // the page itself
	Parts []*Part // in the order in which working them out ends
	Count int     // parts that were begun

	size  int
	index map[string]*Part
	terms terms
	// beyond is the part that was one too many, nil if all is within the bounds.
	beyond *Part
}

// layOut finds the parts of a page whose kinds are known and makes room for them. It stops as
// soon as a bound is passed, so that no page costs more than the bounds allow.
func (s *Sheet) layOut() source.List {
	s.Layout = nil
	if len(s.Uses) == 0 {
		return nil
	}
	f := &Layout{Top: &Part{Sheet: s}, index: map[string]*Part{}, size: s.block, terms: terms{}}
	f.draw(f.Top)
	if b := f.beyond; b != nil {
		var way []string
		for p := b; p.owner != nil; p = p.owner {
			way = append([]string{p.Use.Path}, way...)
		}
		way = append([]string{s.File.Path}, way...)
		if f.Count > MostDrawn {
			return source.List{source.DrawnTooMany(way, MostDrawn).At(b.From.Span)}
		}
		return source.List{source.DrawnTooLarge(way, MostValues).At(b.From.Span)}
	}
	f.index, f.terms = nil, nil // they take more room than the rest
	for _, p := range f.Parts {
		p.given = nil
	}
	s.Layout, s.slots = f, f.size
	return nil
}

// draw links the uses of a part, in the order in which they are worked out.
func (f *Layout) draw(p *Part) {
	p.Links = make([]*Part, len(p.Sheet.Uses))
	for _, step := range p.Sheet.Program {
		u := step.Use
		if u == nil || u.Sheet == nil {
			continue
		}
		given := f.set(p, u)
		key := f.key(u, given)
		to := f.index[key]
		if to == nil {
			to = f.add(p, u, given)
			if f.beyond != nil {
				return
			}
			f.index[key] = to
		}
		p.Links[u.Number] = to
		if to.owner == p && to.Use == u {
			f.draw(to)
			if f.beyond != nil {
				return
			}
			f.Parts = append(f.Parts, to)
		}
	}
}

func (f *Layout) add(owner *Part, u *Use, given []int) *Part {
	p := &Part{Sheet: u.Sheet, Use: u, From: owner.From, Name: u.Name, Base: f.size, Number: f.Count, owner: owner, given: given}
	if owner == f.Top {
		p.From = u
	} else {
		p.Name = owner.Name + "." + u.Name
	}
	f.Count++
	f.size += u.Sheet.block
	if f.Count > MostDrawn || f.size > MostValues {
		f.beyond = p
	}
	return p
}

// set gives the terms that the given values of a page stand for where a part draws on it.
func (f *Layout) set(p *Part, u *Use) []int {
	given := make([]int, u.Slots)
	for _, g := range u.Sheet.Given {
		given[g.Slot] = f.terms.value(g.Own)
	}
	for i := range u.At {
		if set := &u.At[i]; set.Node != nil {
			given[set.Given.Slot] = f.terms.of(set.Node, func(slot int) int { return f.term(p, slot) })
		}
	}
	return given
}

// key is equal for two uses that share a part: those of one page at the same values.
func (f *Layout) key(u *Use, given []int) string {
	key := []byte(u.Sheet.File.Path + "\x00")
	for _, g := range u.Sheet.Given {
		key = binary.AppendUvarint(key, uint64(given[g.Slot]))
	}
	return string(key)
}

// term is what a name of a part stands for: a value that is passed on is that of the page
// which it comes from.
func (f *Layout) term(p *Part, slot int) int {
	for _, u := range p.Sheet.Uses {
		if to := p.Links[u.Number]; to != nil && slot >= u.Base && slot < u.Base+u.Slots {
			return f.term(to, slot-u.Base)
		}
	}
	if slot < len(p.given) && p.given[slot] != 0 {
		return p.given[slot]
	}
	return f.terms.slot(p.Base + slot)
}

// Parts lists the pages drawn on, near and far, once for each set of values: each before those
// that it draws on itself, in the order in which the pages name them.
func (s *Sheet) Parts() []*Part {
	if s.Layout == nil {
		return nil
	}
	var out []*Part
	var walk func(p *Part)
	walk = func(p *Part) {
		for _, u := range p.Sheet.Uses {
			if p.Owns(u) {
				out = append(out, p.Links[u.Number])
				walk(p.Links[u.Number])
			}
		}
	}
	walk(s.Layout.Top)
	return out
}

// PartAt is the part whose values begin at a slot of the frame, or nil.
func (s *Sheet) PartAt(base int) *Part {
	for _, p := range s.Parts() {
		if p.Base == base {
			return p
		}
	}
	return nil
}

// FrameSize is how many slots a page's values and those of its parts have; slots of formulas
// in its body follow them.
func (s *Sheet) FrameSize() int {
	if s.Layout == nil {
		return s.block
	}
	return s.Layout.size
}

// Block says how the slots of a page alone lie: its own values are the first, what it takes
// over follows, and from windows on stand the names that its formulas bind, up to all.
func (s *Sheet) Block() (own, windows, all int) {
	windows = s.own
	for _, u := range s.Uses {
		windows += u.Slots
	}
	return s.own, windows, s.block
}

// BlockSize is how many slots a page alone has.
func (s *Sheet) BlockSize() int { return s.block }

// Slots is how many slots there are by now: those of the page, of its parts, and of the formulas
// in its body, which may be bound while another page that draws on this one is written.
func (s *Sheet) Slots() int {
	s.slotMu.Lock()
	defer s.slotMu.Unlock()
	return s.slots
}

// EachWindow tells of every slot of the frame that is taken over which slot it is taken from:
// one of a given value or figure.
func (s *Sheet) EachWindow(tell func(slot, from int)) {
	if s.Layout == nil {
		return
	}
	for _, p := range append(slices.Clip(s.Layout.Parts), s.Layout.Top) {
		for _, u := range p.Sheet.Uses {
			if to := p.Links[u.Number]; to != nil {
				for i := range u.Slots {
					tell(p.Base+u.Base+i, to.Base+i)
				}
			}
		}
	}
}

// PartFor is the part that is worked out for a use of the page, or of one of its parts; within
// is nil for the page itself. It is nil if the use shares one that is worked out for another.
func (s *Sheet) PartFor(within *Part, u *Use) *Part {
	if within == nil {
		within = s.Layout.Top
	}
	if !within.Owns(u) {
		return nil
	}
	return within.Links[u.Number]
}
