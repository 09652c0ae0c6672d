package page

import (
	"encoding/binary"
	"slices"

	"labsite/recipes/source"
)

// Bounds of what one page may draw on. They allow more than a lab needs, and keep the cost of a
// page in proportion to what is written: 20 pages with two uses each make a million paths.
const (
	// MostLevels is how many levels deep pages may draw on one another.
	MostLevels = 16
	// MostDrawn is how many pages a page may draw on, near and far; a page counts once for each
	// set of values.
	MostDrawn = 200
	// MostValues bounds the slots of a frame: the given values and figures of all these pages,
	// and a copy of them for each page that takes them over.
	MostValues = 20000
)

// Part is a page that another draws on, near or far, at one set of values. All uses with the
// same values share the part: it is worked out for the first of them, and the others copy its
// values.
type Part struct {
	Sheet *Sheet
	// Use is the use that it is worked out for, From the drawing page's own use that leads to it.
	Use, From *Use
	// Name joins the names of the uses that lead to it: "mix", "mix.stock".
	Name string
	// Base is where its values begin in the drawing page's frame.
	Base int

	Number int   // among the parts of the layout
	owner  *Part // the part whose page has Use
	// Links are the parts that its uses lead to, by the number of the use; nil where the page is
	// missing.
	Links []*Part
	given []int // the terms of its given values, by slot
}

// Owner is the part whose use it is worked out for, or nil for the drawing page itself.
func (p *Part) Owner() *Part {
	if p.owner.owner == nil {
		return nil
	}
	return p.owner
}

// Owns reports whether the part that a use leads to is worked out for that use; otherwise the use
// copies what was worked out for another.
func (p *Part) Owns(u *Use) bool {
	to := p.Links[u.Number]
	return to != nil && to.owner == p && to.Use == u
}

// Layout says how the values of a page and of all that it draws on lie in one slice: the page's
// own block first, then a block for each part. A block holds the page's given values and
// figures, a window for each page that it draws on, with a copy of that page's given values and
// figures, and the names that its formulas bind.
type Layout struct {
	Top   *Part   // the page itself
	Parts []*Part // each after those that it draws on
	Count int     // parts that were begun

	size  int
	index map[string]*Part
	terms terms
	// beyond is the part that went past a bound, nil if none did.
	beyond *Part
}

// layOut finds the parts of a page whose kinds are known and reserves their slots. It stops as
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
	f.index, f.terms = nil, nil // they take more memory than the rest
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

// set lists the terms of a page's given values where a part draws on that page.
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

// key is the same for two uses that share a part: those of the same page at the same values.
func (f *Layout) key(u *Use, given []int) string {
	key := []byte(u.Sheet.File.Path + "\x00")
	for _, g := range u.Sheet.Given {
		key = binary.AppendUvarint(key, uint64(given[g.Slot]))
	}
	return string(key)
}

// term is the term of a part's slot: a value that is only passed on has that of the page it
// comes from.
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

// FrameSize is how many slots the values of a page and its parts take; the slots of formulas in
// its body follow them.
func (s *Sheet) FrameSize() int {
	if s.Layout == nil {
		return s.block
	}
	return s.Layout.size
}

// Block says how the slots of the page itself lie: its own values are those below own, its windows
// those from there to windows, and the names that its formulas bind those from there to all.
func (s *Sheet) Block() (own, windows, all int) {
	windows = s.own
	for _, u := range s.Uses {
		windows += u.Slots
	}
	return s.own, windows, s.block
}

// BlockSize is how many slots the page itself has, without those of its parts.
func (s *Sheet) BlockSize() int { return s.block }

// Slots is how many slots there are by now: those of the page, of its parts, and of the formulas
// in its body, which may be bound while another page that draws on this one is written.
func (s *Sheet) Slots() int {
	s.slotMu.Lock()
	defer s.slotMu.Unlock()
	return s.slots
}

// EachWindow calls tell with every slot of a window and the slot that it copies: that of a
// given value or figure.
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

// PartFor is the part that is worked out for a use of the page itself (within is nil) or of one
// of its parts. It is nil if the use shares a part that is worked out for another use.
func (s *Sheet) PartFor(within *Part, u *Use) *Part {
	if within == nil {
		within = s.Layout.Top
	}
	if !within.Owns(u) {
		return nil
	}
	return within.Links[u.Number]
}
