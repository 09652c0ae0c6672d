package hazard

import (
	"fmt"
	"slices"
	"time"

	"labsite/recipes/source"
)

// OwnFile is the name of the shop's own file, at the top of its content folder.
const OwnFile = "hazards.yaml"

// Review is the signature of a qualified person: a role and a day.
type Review struct {
	By   string
	Date time.Time
}

// Sheet is the supplier's safety data sheet that a row of the shop's own copies.
type Sheet struct {
	Author  string
	Date    time.Time // day of issue, UTC
	Edition string
	Period  string    // as written: `24 months`; "" where none is set
	Due     time.Time // Date and Period; zero if none is set
	place   source.Span
	dated   source.Span
}

// OwnSheets is what a shop's own file says. The nil value is a shop without one.
type OwnSheets struct {
	// Precautionary is the set of P statements that is law where the shop is:
	// "clp" (also where nothing is said) or "un-rev-10".
	Precautionary string
	substances    []*Substance
	names         *names
	reviews       map[*Substance]Review
}

// Substances gives the shop's own substances and mixtures in the order of the
// file. Callers must not change them.
func (o *OwnSheets) Substances() []*Substance {
	if o == nil {
		return nil
	}
	return slices.Clone(o.substances)
}

// Reviewed tells who signed a row, the shop's own or one of the list.
func (o *OwnSheets) Reviewed(s *Substance) (r Review, ok bool) {
	if o == nil {
		return Review{}, false
	}
	r, ok = o.reviews[s]
	return r, ok
}

// Overdue reports the sheets whose review is past on a day, and those dated
// after it.
func (o *OwnSheets) Overdue(today time.Time) source.List {
	var list source.List
	if o == nil {
		return nil
	}
	day := time.Date(today.Year(), today.Month(), today.Day(), 0, 0, 0, 0, time.UTC)
	for _, s := range o.substances {
		switch {
		case s.Sheet.Date.After(day):
			list = append(list, source.SheetNotYet(s.Name, s.Sheet.Date.Format(time.DateOnly)).At(s.Sheet.dated))
		case !s.Sheet.Due.IsZero() && day.After(s.Sheet.Due):
			list = append(list, source.SheetOverdue(s.Name, s.Sheet.Date.Format(time.DateOnly), s.Sheet.Due.Format(time.DateOnly)).At(s.Sheet.place))
		}
	}
	return list
}

// useUN tells which set of precautionary statements to give.
func (o *OwnSheets) useUN() bool { return o != nil && o.Precautionary == "un-rev-10" }

func (r Review) String() string {
	return fmt.Sprintf("reviewed by the %s on %s", r.By, r.Date.Format(time.DateOnly))
}
