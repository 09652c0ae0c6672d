package site

import (
	"regexp"
	"time"

	"labsite/recipes/sheet"
)

var isoDate = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)

// constantDue is when an owned value must be reviewed: its period counted from the date
// that its source names, or else from the page's effective date.
func (s *Site) constantDue(t *Topic, g *sheet.Given) (time.Time, bool) {
	if g.Review == nil {
		return time.Time{}, false
	}
	if text := isoDate.FindString(g.Source); text != "" {
		if from, err := time.Parse(time.DateOnly, text); err == nil {
			return g.Review.From(from), true
		}
	}
	if c := t.Sheet.Control; c != nil && !c.Effective.IsZero() {
		return g.Review.From(c.Effective), true
	}
	return time.Time{}, false
}
