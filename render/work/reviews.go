package work

import (
	"regexp"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

var isoDate = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)

// ConstantDue is when an owned value must be reviewed: its period counted from the date
// that its source names, or else from the page's effective date.
func (p *Page) ConstantDue(g *page.Given) (time.Time, bool) {
	if g.Review == nil {
		return time.Time{}, false
	}
	if text := isoDate.FindString(g.Source); text != "" {
		if from, err := time.Parse(time.DateOnly, text); err == nil {
			return g.Review.From(from), true
		}
	}
	if c := p.Sheet.Control; c != nil && !c.Effective.IsZero() {
		return g.Review.From(c.Effective), true
	}
	return time.Time{}, false
}

// reviews reports what is overdue.
func (d *Desk) reviews(p *Page) {
	if c := p.Sheet.Control; c != nil && c.Status == page.Approved {
		if due, ok := c.Due(); ok && d.past(p, due) {
			p.report(source.ReviewOverdue(c.Number, due.Format(time.DateOnly)).At(c.Span))
		}
		if a := c.Approved; !a.IsZero() {
			if !d.past(p, a.AddDate(0, 0, -1)) {
				p.report(source.ApprovedLater(a.Format(time.DateOnly)).At(c.ApprovedAt))
			}
		}
	}
	p.reportUnmeasured()
	for _, g := range p.Sheet.Given {
		if due, ok := p.ConstantDue(g); ok && d.past(p, due) {
			p.report(source.ConstantOverdue(g.Name, due.Format(time.DateOnly)).At(g.Span))
		}
	}
}

// past reports whether a review is overdue, and notes that this depends on the day.
func (d *Desk) past(p *Page, due time.Time) bool {
	p.dues = append(p.dues, due)
	return d.Content.Past(due)
}
