package record

import (
	"time"

	"labsite/recipes/source"
)

// Record is one run of a page, or one set of readings for it.
type Record struct {
	// Lab is the lab's name, Page the page's path in the content folder without its ending.
	Lab, Page Text
	// Number is the page's document number, "" for a page without one, and Revision its revision
	// at the time, 0 for none.
	Number   Text
	Revision int
	// Made is when the run began or the readings were taken, Saved when the file was written.
	Made, Saved Moment
	// Settings, Readings and Figures are values by name, as they were shown.
	Settings, Readings, Figures []Named
	Steps                       []Step
	// By are the initials of the one who saved it; Note is a remark on it.
	By, Note Text
	// At is the place of the record as a whole.
	At source.Span
}

// Text is a text with its place.
type Text struct {
	Value string
	Span  source.Span
}

// Named is a value by its name.
type Named struct {
	Name string
	Text
}

// Moment is a moment with the UTC offset of where it was noted.
type Moment struct {
	time.Time
	Text
}

// Step is a step as it happened.
type Step struct {
	Do Text
	// Planned is how long it should take, in seconds; -1 for a step without a time.
	Planned float64
	// Begin and End are zero if it did not begin or end.
	Begin, End Moment
	// Hold is who must initial before going on, "" for nobody; By are the initials.
	Hold, By string
	At       source.Span
}

// Open lists what keeps a record from being finished: holds that nobody initialled and steps that
// did not end.
func (r *Record) Open() []string {
	var out []string
	for _, s := range r.Steps {
		switch {
		case s.End.IsZero():
			out = append(out, s.Do.Value+" did not end")
		case s.Hold != "" && s.By == "":
			out = append(out, "the "+s.Hold+" did not initial "+s.Do.Value)
		}
	}
	return out
}

// Initials lists who initialled, each once; whoever saved it if no step was initialled.
func (r *Record) Initials() []string {
	var out []string
	seen := map[string]bool{"": true}
	for _, s := range r.Steps {
		if s.Hold != "" && !seen[s.By] {
			seen[s.By] = true
			out = append(out, s.By)
		}
	}
	if len(out) == 0 && r.By.Value != "" {
		out = append(out, r.By.Value)
	}
	return out
}
