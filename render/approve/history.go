package approve

import (
	"time"

	"labsite/recipes/approval"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
	"labsite/render/work"
)

// Line is the value of a number in one revision.
type Line struct {
	Name     string `json:"name"`
	Label    string `json:"label"`
	Revision int    `json:"revision"`
	// Day is when that revision was approved, By the role that approved it; both are empty for the
	// page as it is now, if nobody has approved that yet.
	Day   string `json:"day"`
	By    string `json:"by"`
	Shown string `json:"shown"`
	// Causes say why it differs from before.
	Causes []approval.Cause `json:"causes"`
	// Over is the reader's settings at which it changed most; nil if it changed at none.
	Over *approval.Example `json:"over,omitempty"`
	// First says that no earlier revision has the number.
	First bool `json:"first"`
}

// History lists the values of each number of a page, or of the named one, from the first recorded
// revision to the page as it is now: a line for each revision in which it is new or changed.
func History(site *build.Site, p *content.Page, name string) ([]Line, source.List) {
	desk := site.Desk()
	full := desk.Make(p)
	list := site.PageList(desk, p)
	if p.Head == nil || p.Head.Control == nil {
		return nil, list
	}
	k := p.Head.Control
	h := &history{name: name}
	for _, revision := range site.Content.Revisions(k.Number) {
		if r, _ := site.Content.Record(k.Number, revision); r != nil {
			h.add(desk, r, nil)
		}
	}
	if full.Trusted() && full.Proof != nil && !desk.Ended() {
		if now := desk.Record(full, "", time.Time{}); now != nil {
			h.add(desk, now, full)
		}
	}
	return h.sorted(), list
}

type history struct {
	name  string
	last  *approval.Record
	lines []Line
}

// add adds a recorded revision, or the page as it is now.
func (h *history) add(desk *work.Desk, r *approval.Record, now *work.Page) {
	day, by := r.Approved, r.By
	if now != nil {
		day, by = "", ""
	}
	line := func(n approval.Number) Line {
		return Line{Name: n.Name, Label: n.Label, Revision: r.Revision, Day: day, By: by, Shown: n.Shown, Causes: []approval.Cause{}}
	}
	last := h.last
	h.last = r
	if last == nil {
		for _, n := range r.Numbers {
			l := line(n)
			l.First = true
			h.put(l)
		}
		return
	}
	for _, d := range desk.Differences(last, r, now) {
		if d.Kind != approval.OfNumber {
			continue
		}
		n, _ := r.NumberNamed(d.Name)
		l := line(n)
		l.Name, l.Label, l.First, l.Over = d.Name, d.Label, d.Before == "", d.Over
		l.Causes = append(l.Causes, d.Causes...)
		h.put(l)
	}
}

func (h *history) put(l Line) {
	if h.name == "" || l.Name == h.name {
		h.lines = append(h.lines, l)
	}
}

// sorted groups the lines by number, in the order in which numbers first appeared.
func (h *history) sorted() []Line {
	at := map[string]int{}
	var groups [][]Line
	for _, l := range h.lines {
		i, had := at[l.Name]
		if !had {
			i = len(groups)
			at[l.Name] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], l)
	}
	var out []Line
	for _, g := range groups {
		out = append(out, g...)
	}
	return out
}
