package page

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// mostBadDates is how many impossible dates of a column are reported, one by one.
const mostBadDates = 20

// oneDay is the step of a date that can be set, if the page names none.
var oneDay = func() quantity.Value {
	v, _ := quantity.Parse("1 day")
	return v
}()

// Almanac tells which day it is. A Library may be one; without it, no page follows the calendar.
type Almanac interface {
	// Today is the day of the build, in base units of a date.
	Today() float64
}

// today makes a given follow the calendar; false if the word is one of its choices and so
// only a text.
func (d *decoder) today(g *Given, v, at, choices *value) bool {
	if choices != nil {
		if choices.Shape == list && slices.ContainsFunc(choices.Items, func(item *value) bool { return strings.TrimSpace(item.Text) == "today" }) {
			return false
		}
		d.report(source.TodayWithChoices(), choices.Span)
		return true
	}
	day := quantity.DateOf(1970, time.January, 1)
	almanac, ok := d.library.(Almanac)
	if ok {
		day = almanac.Today()
	}
	g.Today = true
	g.Value = quantity.ADate(day)
	g.Kind, g.Own, g.Show = g.Value.Kind, day, g.Value.AsWritten()
	if ok || v.Get("step") != nil {
		d.bounds(g, v, at)
	}
	return true
}

// datesAsTexts reports whether every cell of a column of texts is a day of the calendar, and
// reports those that are not, at their place in the data file: a chart must not silently
// leave out a reading whose day it cannot place.
func (d *decoder) datesAsTexts(c *Column) bool {
	all, likeDates := true, c.meantAsDates()
	badDates(len(c.Values), func(row int) string { return c.Values[row].Text }, func(p source.Problem, row int) {
		if all = false; p.Code == source.NoSuchDay("").Code || likeDates {
			d.report(p, c.At(row))
		}
	}, c.Name)
	return all
}

// badDates reports the cells of a column of dates that are no dates: impossible days one by
// one, and only the first of those that are written in another form.
func badDates(rows int, text func(row int) string, report func(p source.Problem, row int), column string) {
	impossible, otherwise, first := 0, 0, 0
	for row := range rows {
		cell := text(row)
		days := quantity.MeantDays(cell)
		switch {
		case isoDate.MatchString(cell) && quantity.NoSuchDay(cell) == "":
		case len(days) == 1 && quantity.NoSuchDay(days[0]) != "":
			if impossible++; impossible <= mostBadDates {
				report(source.NoSuchDay(quantity.NoSuchDay(days[0])), row)
			}
		default:
			if otherwise++; otherwise == 1 {
				first = row
			}
		}
	}
	if otherwise > 0 {
		report(source.DateForm(text(first), column, quantity.MeantDays(text(first)), otherwise-1), first)
	}
}

// meantAsDates reports whether a column was meant to hold dates.
func (c *Column) meantAsDates() bool {
	for _, w := range c.Words {
		if len(quantity.MeantDays(w)) > 0 {
			return true
		}
	}
	return false
}

var measured = regexp.MustCompile(`^measured here (\d{4}-\d{2}-\d{2})\b`)

// origin reads where a value comes from. The day on which it was measured must exist, since
// the time until its review is counted from it.
func (d *decoder) origin(v *value) string {
	text := d.text(v, "source")
	if m := measured.FindStringSubmatch(text); m != nil {
		if day := quantity.NoSuchDay(m[1]); day != "" {
			at := strings.Index(v.Text, m[1])
			d.report(source.NoSuchDay(day), v.Place(at, at+len(m[1])))
		}
	}
	return text
}
