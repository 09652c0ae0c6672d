package page

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/source"
)

// Control is a page's document control, in the terms of ISO 9001 clause 7.5.
type Control struct {
	Number, Owner, ApprovedBy string
	Revision                  int
	Status                    Status
	Approved, Effective       time.Time // zero if not said
	Review                    *Period
	Changes                   []Change
	Span                      source.Span // of the number
	ApprovedAt                source.Span // of the date of approval
}

// Status is how far a page is on its way from draft to approval to withdrawal.
type Status string

// The states of a page.
const (
	Draft     Status = "draft"
	Approved  Status = "approved"
	Withdrawn Status = "withdrawn"
)

// Change is what changed in a revision.
type Change struct {
	Revision int
	Text     string
}

// Period is a number of calendar days, weeks, months or years.
type Period struct {
	Count int
	Unit  string
}

// String is the period as pages write it.
func (p Period) String() string {
	if p.Count == 1 {
		return "1 " + p.Unit
	}
	return strconv.Itoa(p.Count) + " " + p.Unit + "s"
}

// From is the date one period after t.
func (p Period) From(t time.Time) time.Time {
	switch p.Unit {
	case "day":
		return t.AddDate(0, 0, p.Count)
	case "week":
		return t.AddDate(0, 0, 7*p.Count)
	case "year":
		p.Count *= 12
	}
	// 31 January and a month is the last of February; AddDate would go on into March
	y, m, day := t.Date()
	first := time.Date(y, m+time.Month(p.Count), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(day, last)-1)
}

// Due is when the page must be reviewed; ok is false if nothing says so.
func (c *Control) Due() (time.Time, bool) {
	if c == nil || c.Review == nil || c.Effective.IsZero() {
		return time.Time{}, false
	}
	return c.Review.From(c.Effective), true
}

func (d *decoder) control(v *value) *Control {
	if v = d.mapping(v, "control"); v == nil {
		return nil
	}
	d.known(v, underFront("control"))
	c := &Control{Span: v.Span}
	if n := d.required(v, "number", "number: G-014", v.Span); n != nil {
		c.Number, c.Span = d.text(n, "number"), n.Span
	}
	revised := d.revision(c, v)
	if s := d.required(v, "status", "status: draft, approved or withdrawn", v.Span); s != nil {
		c.Status = Status(d.text(s, "status"))
		if c.Status != Draft && c.Status != Approved && c.Status != Withdrawn {
			d.report(source.NotOneOf("status", string(c.Status), []string{"draft", "approved", "withdrawn"}), s.Span)
			c.Status = ""
		}
	}
	c.Owner = d.text(v.Get("owner"), "owner")
	if c.Status == Approved {
		d.required(v, "approved_by", "approved_by and a role", v.Span)
		d.required(v, "approved", "approved and a date such as 2026-09-30", v.Span)
	}
	c.ApprovedBy = d.text(v.Get("approved_by"), "approved_by")
	c.Approved = d.date(v.Get("approved"), "approved")
	if x := v.Get("approved"); x != nil {
		c.ApprovedAt = x.Span
	}
	c.Effective = d.date(v.Get("effective"), "effective")
	if !c.Approved.IsZero() && !c.Effective.IsZero() && c.Effective.Before(c.Approved) {
		d.report(source.EffectiveBefore(c.Effective.Format(time.DateOnly), c.Approved.Format(time.DateOnly)), v.Get("effective").Span)
	}
	c.Review = d.period(v.Get("review"), "review")
	if m := d.mapping(v.Get("changes"), "changes"); m != nil {
		d.changes(c, m, revised)
	}
	return c
}

// revision reads the number of the revision and returns its value; nil after a report.
func (d *decoder) revision(c *Control, v *value) *value {
	r := d.required(v, "revision", "revision: 1", v.Span)
	if r == nil {
		return nil
	}
	n, err := strconv.Atoi(d.text(r, "revision"))
	c.Revision = n
	if err != nil || n < 0 || strconv.Itoa(n) != strings.TrimSpace(r.Text) {
		d.report(source.WantsWholeNumber("revision"), r.Span)
		return nil
	}
	return r
}

// changes reads what each revision changed; revised is the value of the page's own revision,
// nil if it could not be read.
func (d *decoder) changes(c *Control, m, revised *value) {
	before := d.list.Errors()
	for i, k := range m.Keys {
		n, err := strconv.Atoi(k.Text)
		if err != nil || n < 0 {
			d.report(source.WantsWholeNumber("a revision under changes"), k.Span)
			continue
		}
		if revised != nil && n > c.Revision {
			d.report(source.ChangeBeyond(n, c.Revision), k.Span)
		}
		c.Changes = append(c.Changes, Change{n, d.text(m.Items[i], "changes")})
	}
	said := func(x Change) bool { return x.Revision == c.Revision }
	if revised != nil && len(c.Changes) > 0 && d.list.Errors() == before && !slices.ContainsFunc(c.Changes, said) {
		d.report(source.RevisionUnsaid(c.Revision), revised.Span)
	}
}

func (d *decoder) date(v *value, key string) time.Time {
	if v == nil || v.Shape == nothing {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, d.text(v, key))
	if err != nil {
		d.report(source.NotADate(key, v.Text), v.Span)
		return time.Time{}
	}
	return t
}

func (d *decoder) period(v *value, key string) *Period {
	if v == nil || v.Shape == nothing {
		return nil
	}
	count, unit, ok := strings.Cut(d.text(v, key), " ")
	n, err := strconv.Atoi(count)
	unit = strings.TrimSuffix(strings.TrimSpace(unit), "s")
	switch unit {
	case "day", "week", "month", "year":
	default:
		ok = false
	}
	if !ok || err != nil || n < 1 || n > 1200 {
		d.report(source.NotAPeriod(key, v.Text), v.Span)
		return nil
	}
	return &Period{n, unit}
}
