package sheet

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/source"
)

// mostBadDates is how many impossible dates of a column are reported one by one.
const mostBadDates = 20

// dates tells whether every cell of a column is a day of the calendar, and reports those
// that are not, at their place in the data file: a reading whose day cannot be placed must
// not go missing from a chart.
func (d *decoder) dates(c *Column) bool {
	all, impossible, otherwise, first := true, 0, 0, 0
	for row, v := range c.Values {
		days := meantDays(v.Text)
		switch {
		case isoDate.MatchString(v.Text) && noSuchDay(v.Text) == "":
			continue
		case len(days) == 1 && noSuchDay(days[0]) != "":
			if impossible++; impossible <= mostBadDates {
				d.report(source.NoSuchDay(noSuchDay(days[0])), c.At(row))
			}
		default:
			if otherwise++; otherwise == 1 {
				first = row
			}
		}
		all = false
	}
	if otherwise > 0 && c.likeDates() {
		d.report(source.DateForm(c.Values[first].Text, c.Name, meantDays(c.Values[first].Text), otherwise-1), c.At(first))
	}
	return all
}

// likeDates tells whether a column was meant to hold dates.
func (c *Column) likeDates() bool {
	for _, w := range c.Words {
		if len(meantDays(w)) > 0 {
			return true
		}
	}
	return false
}

// noSuchDay is the part of a date, written year-month-day, that is not in the calendar; ""
// where all is well.
func noSuchDay(text string) string {
	year, month, day := number(text[:4]), number(text[5:7]), number(text[8:10])
	switch {
	case month < 1 || month > 12:
		return fmt.Sprintf("month %d", month)
	case day < 1:
		return fmt.Sprintf("day %d", day)
	case day == 29 && month == 2 && time.Date(year, 2, 29, 0, 0, 0, 0, time.UTC).Month() != time.February:
		return fmt.Sprintf("29 February %d", year)
	case time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Day() != day:
		return fmt.Sprintf("%d %s", day, time.Month(month))
	}
	return ""
}

var measured = regexp.MustCompile(`^measured here (\d{4}-\d{2}-\d{2})\b`)

// origin reads where a value comes from. The day on which it was measured must be one, since
// its review is counted from it.
func (d *decoder) origin(v *value) string {
	text := d.text(v, "source")
	if m := measured.FindStringSubmatch(text); m != nil {
		if day := noSuchDay(m[1]); day != "" {
			at := strings.Index(v.Text, m[1])
			d.report(source.NoSuchDay(day), v.Place(at, at+len(m[1])))
		}
	}
	return text
}

func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

var (
	yearFirst = regexp.MustCompile(`^(\d{4})[-./](\d{1,2})[-./](\d{1,2})\.?(?:[T ].*)?$`)
	yearLast  = regexp.MustCompile(`^(\d{1,2})([-./]) ?(\d{1,2})[-./] ?(\d{4}|\d{2})$`)
	named     = regexp.MustCompile(`^(?:(\d{1,2})\.? ([A-Za-z]{3,9})\.?|([A-Za-z]{3,9})\.? (\d{1,2}))[, ]+(\d{4})$`)
)

// meantDays are the dates, as year-month-day, that a text may mean: none, one, or two where
// day and month may stand in either order. They need not be in the calendar.
func meantDays(text string) []string {
	iso := func(year, month, day int) string {
		if year < 100 {
			year += 2000
		}
		return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
	}
	if m := yearFirst.FindStringSubmatch(text); m != nil {
		return []string{iso(number(m[1]), number(m[2]), number(m[3]))}
	}
	if m := yearLast.FindStringSubmatch(text); m != nil {
		a, b, year := number(m[1]), number(m[3]), number(m[4])
		switch {
		case m[2] == "." || a > 12 || a == b:
			return []string{iso(year, b, a)}
		case b > 12:
			return []string{iso(year, a, b)}
		}
		return []string{iso(year, b, a), iso(year, a, b)}
	}
	if m := named.FindStringSubmatch(text); m != nil {
		for month := time.January; month <= time.December; month++ {
			if word := strings.ToLower(m[2] + m[3]); strings.HasPrefix(strings.ToLower(month.String()), word) || word == "sept" && month == time.September {
				return []string{iso(number(m[5]), int(month), number(m[1]+m[4]))}
			}
		}
	}
	return nil
}
