package build

import (
	"slices"
	"strings"

	"labsite/recipes/approval"
	"labsite/recipes/prove"
	"labsite/render/content"
	"labsite/render/work"
)

// NumberChange is a number that an update changed. Before is empty if it is new, After if it is
// gone.
type NumberChange struct {
	Name   string `json:"name"`
	Label  string `json:"label"`
	Before string `json:"before"`
	After  string `json:"after"`
	// Guards are the checks that cover the figure, in the page's own words.
	Guards []string `json:"guards"`
	// Cell is the number's place in a table, nil if it is in none.
	Cell *work.Cell `json:"cell,omitempty"`
	// Moved says in how many of the Cases cases the number differs; this one stands for them.
	Moved int `json:"moved,omitempty"`
	Cases int `json:"cases,omitempty"`
	// Because says what changed it, if that could be traced.
	Because string `json:"because,omitempty"`
}

// PageChange lists the numbers of one page that changed.
type PageChange struct {
	Page    string         `json:"page"`
	Title   string         `json:"title"`
	Address string         `json:"address"`
	Numbers []NumberChange `json:"numbers"`
	// Approved are the numbers that differ from what was approved in Revision, which is 0 for a
	// page without a record.
	Approved []NumberChange `json:"approved,omitempty"`
	Revision int            `json:"revision,omitempty"`
}

// replaced compares the numbers of a page with those of its last correct state. A state with an
// error, such as a failing check, is reported, but later states are not compared with it. If the
// desk held the page in full, the cases that a reader can set are compared as well.
func (f *Followed) replaced(p *content.Page, last, now *Result, full *work.Page) {
	before, had := f.before[p.Path]
	if !had && last != nil && last.Numbers != nil && !last.Wrong {
		before, had = last.Numbers, true
	}
	if !had {
		return
	}
	f.before[p.Path] = before
	if now.Numbers == nil {
		return
	}
	numbers := append([]NumberChange{}, compare(full, before, now.Numbers)...) // never null in JSON: the script reads its length
	numbers = append(numbers, f.moved(full)...)
	if !now.Wrong {
		delete(f.before, p.Path)
		f.desk.ForgetHeld(p)
	}
	change := &PageChange{Page: p.Path, Title: p.Title(), Address: content.URLPath(p.Address()), Numbers: numbers}
	change.againstApproved(full)
	if len(numbers) == 0 && len(change.Approved) == 0 {
		return
	}
	if f.changed == nil {
		f.changed = map[string]*PageChange{}
	}
	f.changed[p.Path] = change
}

// moved lists the labelled figures that are the same at the page's own values but differ at others
// that a reader can set, each at the case that differs most.
func (f *Followed) moved(full *work.Page) []NumberChange {
	was := f.desk.LastHeld(full.Page)
	if was == nil || full.Sheet == nil || full.Proof == nil {
		return nil
	}
	var out []NumberChange
	for _, x := range prove.LargestChanges(f.desk.Context(), was.Sheet, full.Sheet) {
		if x.At != "" {
			out = append(out, NumberChange{Name: x.Figure.Name, Label: x.Figure.Label + " at " + x.At, Before: x.Before, After: x.After,
				Guards: work.Guards(full.Sheet, x.Figure.Name), Moved: x.Moved, Cases: x.Cases})
		}
	}
	return out
}

// againstApproved lists the numbers that differ from what was approved.
func (c *PageChange) againstApproved(full *work.Page) {
	s := full.Standard
	if s == nil || s.Record == nil {
		return
	}
	c.Revision = s.Record.Revision
	for _, d := range approval.Numbers(s.Differs) {
		n := NumberChange{Name: d.Name, Label: work.LabelOf(d.Label, d.Name), Before: d.Before, After: d.After, Guards: work.Guards(full.Sheet, d.Name)}
		if d.Over != nil && d.Over.At != "" && d.Over.Before == d.Before && d.Over.After == d.After {
			n.Label += " at " + d.Over.At
		}
		n.Because = d.Because()
		c.Approved = append(c.Approved, n)
	}
}

// compare lists the numbers of a page that changed.
func compare(p *work.Page, before, now []work.Number) []NumberChange {
	was := map[string]work.Number{}
	for _, n := range before {
		was[n.Name] = n
	}
	var out []NumberChange
	for _, n := range now {
		old, had := was[n.Name]
		delete(was, n.Name)
		if had && old.Shown == n.Shown {
			continue
		}
		out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: old.Shown, After: n.Shown, Guards: work.Guards(p.Sheet, n.Of()), Cell: n.Cell})
	}
	for _, n := range before {
		if _, gone := was[n.Name]; gone {
			out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: n.Shown})
		}
	}
	return out
}

// TakeChanges returns the numbers that changed since it was last called, page by page.
func (f *Followed) TakeChanges() []PageChange {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out []PageChange
	for _, p := range f.changed {
		out = append(out, *p)
	}
	f.changed = nil
	slices.SortFunc(out, func(a, b PageChange) int { return strings.Compare(a.Page, b.Page) })
	return out
}
