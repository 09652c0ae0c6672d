package page

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// A given that follows the calendar changes at midnight, and with it all that is worked out from
// it, here and in pages that draw on this one. Such a figure says as of which day it was worked
// out, so it must be known which figures these are.

// markToday finds the slots that depend on the day; all kinds must be known.
func (s *Sheet) markToday() {
	s.onToday = map[int]bool{}
	for _, g := range s.Given {
		if g.Today {
			s.onToday[g.Slot] = true
			s.setDay(g.Slot, g.Own)
		}
	}
	for _, step := range s.Program {
		switch {
		case step.Use != nil:
			s.markUse(step.Use)
		case step.Added != nil:
			if c := step.Added.Column; c.Live && s.DependsOnToday(step.Added.Node) {
				s.onToday[c.Slot] = true
			}
		case step.Figure.Node != nil && s.DependsOnToday(step.Figure.Node):
			s.onToday[step.Figure.Slot] = true
		}
	}
}

func (s *Sheet) setDay(slot int, day float64) {
	if !s.hasDay {
		s.hasDay, s.day, s.daySlot = true, day, slot
	}
}

// markUse marks the slots of a window that depend on the day: those that do on the page drawn
// on, unless this page sets that day, and all figures if this page sets something by the day.
func (s *Sheet) markUse(u *Use) {
	if u.Sheet == nil {
		return
	}
	all, set := false, map[*Given]bool{}
	for _, at := range u.At {
		if at.Node != nil {
			set[at.Given] = true
			all = all || s.DependsOnToday(at.Node)
		}
	}
	follows := false
	for _, g := range u.Sheet.Given {
		if g.Today && !set[g] {
			follows = true
			s.setDay(u.Base+g.Slot, g.Own)
		}
	}
	for slot := range u.Slots {
		given := false
		for _, g := range u.Sheet.Given {
			given = given || g.Slot == slot
		}
		switch {
		case all && !given, follows && u.Sheet.onToday[slot], !given && u.Sheet.drawsDay && u.Sheet.onToday[slot]:
			s.onToday[u.Base+slot] = true
		}
	}
	if u.Sheet.hasDay && (follows || u.Sheet.drawsDay) {
		s.drawsDay = true
		if !s.hasDay {
			s.setDay(u.Base+u.Sheet.daySlot, u.Sheet.day)
		}
	}
}

// DependsOnToday reports whether a formula of the page has a value that follows the calendar in it.
func (s *Sheet) DependsOnToday(n *formula.Node) bool {
	if n == nil || len(s.onToday) == 0 {
		return false
	}
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op == formula.Var && (s.onToday[n.Slot] || s.rowOnToday(n.Slot))
		if n.Data != nil {
			for _, c := range n.Data.Live() {
				found = found || s.onToday[c.Slot]
			}
		}
		return !found
	})
	return found
}

// rowOnToday reports whether a slot holds the cell of an added column that depends on the day.
func (s *Sheet) rowOnToday(slot int) bool {
	for _, d := range s.Data {
		for _, n := range d.Row {
			if n.Slot == slot {
				return n.Column.Live && s.onToday[n.Column.Slot]
			}
		}
	}
	return false
}

// Day is the slot of the day on which values of the page depend, and the day of the build; ok is
// false if nothing follows the calendar.
func (s *Sheet) Day() (slot int, day float64, ok bool) { return s.daySlot, s.day, s.hasDay }

// DayNode is that day as a formula.
func (s *Sheet) DayNode() *formula.Node {
	return &formula.Node{Op: formula.Var, Kind: quantity.Date, Slot: s.daySlot}
}
