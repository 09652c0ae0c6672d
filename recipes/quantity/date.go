package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/source"
)

// A date is a day of the Gregorian calendar, never a moment: no time zone and no change of
// the clock is part of it. Its base value counts seconds from 1970-01-01, 86400 for every
// day, so that dates and times add and subtract as temperatures and their differences do.

// DayLength is a day in base units.
const DayLength = 86400.0

// FirstDay and LastDay bound the calendar: ISO 8601 (2004, 3.2.1, from memory) leaves years
// before 1583 to agreement between those who exchange them, and years after 9999 need more
// than four digits.
var (
	FirstDay = DateOf(1583, time.January, 1)
	LastDay  = DateOf(9999, time.December, 31)
)

// DateOf is the base value of a day; a day beyond the end of its month counts on into the next.
func DateOf(year int, month time.Month, day int) float64 {
	return float64(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix())
}

// DayOf is the day that the calendar on the wall shows at a moment, in its own time zone.
func DayOf(t time.Time) float64 { return DateOf(t.Date()) }

// Calendar gives year, month and day of a date.
func Calendar(base float64) (year int, month time.Month, day int) {
	return time.Unix(int64(base), 0).UTC().Date()
}

// OnDay is the day on which a moment falls, NaN outside the calendar. A moment within 1e-9
// of a midnight counts as that midnight.
func OnDay(base float64) float64 {
	d := Below(base/DayLength) * DayLength
	if !(d >= FirstDay && d <= LastDay) {
		return math.NaN()
	}
	return d
}

// WholeDays reports whether a time is a whole number of days.
func WholeDays(base float64) bool {
	days := base / DayLength
	return math.Abs(days-math.Round(days)) < 1e-9
}

// Weekday is 1 for Monday to 7 for Sunday, as ISO 8601 numbers them.
func Weekday(base float64) float64 {
	n := math.Mod(math.Floor(base/DayLength)+3, 7) // 1970-01-01 was a Thursday
	if n < 0 {
		n += 7
	}
	return n + 1
}

// MonthsAfter counts calendar months from a date; a month too short for the day gives its last
// day. It is NaN outside the calendar and where months is not whole.
func MonthsAfter(base, months float64) float64 {
	n := Nearest(months)
	if !Equal(n, months) || math.Abs(n) > 12*10000 || math.IsNaN(OnDay(base)) {
		return math.NaN()
	}
	year, month, day := Calendar(base)
	first := time.Date(year, month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return OnDay(DateOf(first.Year(), first.Month(), min(day, last)))
}

// WorkdaysAfter is the n-th day from Monday to Friday after a date that is not among closed,
// or before it where n is negative; for 0 it is the date itself. closed are
// days from Monday to Friday, each once. It is NaN outside the calendar and where n is not whole.
func WorkdaysAfter(base, n float64, closed []float64) float64 {
	count := Nearest(n)
	if !Equal(count, n) || math.Abs(count) > 1e7 || math.IsNaN(OnDay(base)) {
		return math.NaN()
	}
	if count == 0 {
		return base
	}
	for want := count; ; {
		to := weekdaysAfter(base, want)
		passed := 0.0
		for _, c := range closed {
			switch {
			case count > 0 && c > base && c <= to:
				passed++
			case count < 0 && c < base && c >= to:
				passed--
			}
		}
		if count+passed == want {
			return OnDay(to)
		}
		want = count + passed
	}
}

// weekdaysAfter counts days from Monday to Friday.
func weekdaysAfter(base, n float64) float64 {
	at := Weekday(base) - 1
	switch {
	case at > 4 && n > 0:
		base, at = base-(at-4)*DayLength, 4
	case at > 4:
		base, at = base+(7-at)*DayLength, 0
	}
	weeks := math.Floor((at + n) / 5)
	return base + (weeks*7+(at+n-weeks*5)-at)*DayLength
}

// ISODate writes a date as 2026-11-28.
func ISODate(base float64) string {
	year, month, day := Calendar(base)
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}

// writtenDate writes a date as 28 November 2026.
func writtenDate(base float64) string {
	year, month, day := Calendar(base)
	return fmt.Sprintf("%d %s %d", day, month, year)
}

func weekdayDate(base float64) string {
	return time.Unix(int64(base), 0).UTC().Weekday().String() + ", " + writtenDate(base)
}

var dateUnit = Unit{Kind: Date, Factor: 1, Decimals: -1, exact: plainUnit.exact, zero: plainUnit.zero}

// ADate is a date as a value, written as pages write it.
func ADate(base float64) Value {
	return Value{Kind: Date, Base: base, Unit: dateUnit, Text: ISODate(base)}
}

// date reads 2026-11-28, and refuses dates that are written in another way.
func (r *reader) date(signed bool) (Value, bool, *Trouble) {
	text := r.remaining()
	if n := isoLength(text); n > 0 {
		start, rest := r.pos, text[n:]
		switch day := NoSuchDay(text[:n]); {
		case day != "":
			return Value{}, false, trouble(source.NoSuchDay(day), start, start+n)
		case signed:
			return Value{}, false, trouble(source.DateNegated(text[:n]), start-1, start+n)
		case rest != "" && (rest[0] == 'T' || rest[0] == 't'):
			return Value{}, false, trouble(source.DateWithTime(text[:n]), start, start+n+wordsLength(rest))
		}
		r.pos += n
		return ADate(dayNumbered(text)), true, nil
	}
	n, days := meantDate(text, r.inFormula)
	if n == 0 {
		return Value{}, false, nil
	}
	for _, day := range days {
		if no := NoSuchDay(day); no != "" && len(days) == 1 {
			return Value{}, false, trouble(source.NoSuchDay(no), r.pos, r.pos+n)
		}
	}
	p := source.DateForm(text[:n], "", days, 0)
	if r.inFormula && strings.Count(text[:n], "-") == 2 {
		p = source.DateOrDifference(text[:n], days, strings.ReplaceAll(text[:n], "-", " - "))
	}
	return Value{}, false, trouble(p, r.pos, r.pos+n)
}

// isoLength is the length of an ISO 8601 date at the start of a text, 0 for none.
func isoLength(text string) int {
	const form = "0000-00-00"
	if len(text) < len(form) {
		return 0
	}
	for i := range len(form) {
		if isDigit(form[i]) != isDigit(text[i]) || !isDigit(form[i]) && text[i] != form[i] {
			return 0
		}
	}
	if len(text) > len(form) {
		switch c := text[len(form)]; {
		case isDigit(c), isLetter(c) && c != 'T' && c != 't', c == '-' && len(text) > len(form)+1 && isDigit(text[len(form)+1]):
			return 0
		}
	}
	return len(form)
}

func dayNumbered(iso string) float64 {
	year, month, day := isoParts(iso)
	return DateOf(year, time.Month(month), day)
}

func isoParts(iso string) (year, month, day int) {
	return wholeNumber(iso[:4]), wholeNumber(iso[5:7]), wholeNumber(iso[8:10])
}

func wholeNumber(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

// wordsLength is the length of a run of letters, digits and the signs in a time of day.
func wordsLength(text string) int {
	n := 0
	for n < len(text) && (isWordByte(text[n]) || strings.IndexByte(":.+-", text[n]) >= 0) {
		n++
	}
	return n
}
