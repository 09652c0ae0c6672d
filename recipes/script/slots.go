package script

import "labsite/recipes/page"

// places gives every slot of a sheet's frame its place in the script. A part lies between the values
// of the page that it is worked out for and the names that this page's formulas bind. Windows have
// no places of their own, since a script reads a value where it is worked out.
type places struct {
	at []int
	// count is how many places a part takes, with the parts worked out for it, since a script
	// withdraws them together.
	count map[*page.Part]int
	next  int
}

func newPlaces(s *page.Sheet) *places {
	p := &places{at: make([]int, s.FrameSize()), count: map[*page.Part]int{}}
	inner := map[*page.Part][]*page.Part{}
	parts := s.Parts()
	for _, x := range parts {
		inner[x.Owner()] = append(inner[x.Owner()], x)
	}
	var lay func(of *page.Sheet, part *page.Part, base int)
	lay = func(of *page.Sheet, part *page.Part, base int) {
		own, windows, block := of.Block()
		p.run(base, own)
		for _, x := range inner[part] {
			first := p.next
			lay(x.Sheet, x, x.Base)
			p.count[x] = p.next - first
		}
		p.run(base+windows, block-windows)
	}
	lay(s, nil, 0)
	s.EachWindow(func(slot, of int) { p.at[slot] = p.at[of] })
	return p
}

// run gives the next places to consecutive slots.
func (p *places) run(from, count int) {
	for i := range count {
		p.at[from+i] = p.next
		p.next++
	}
}

// of is the place of a slot; slots that formulas outside the figures bind follow the frame.
func (p *places) of(slot int) int {
	if slot < len(p.at) {
		return p.at[slot]
	}
	return p.next + slot - len(p.at)
}
