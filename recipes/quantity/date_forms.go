package quantity

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

// Dates as people write them elsewhere. They are never read as dates, since day and month may
// be in either order; they are offered as this program writes them.

// NoSuchDay is the part of a date, written year-month-day, that is not in the calendar; "" for a
// valid date.
func NoSuchDay(iso string) string {
	year, month, day := isoParts(iso)
	last := time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
	switch {
	case month < 1 || month > 12:
		return fmt.Sprintf("month %d", month)
	case day < 1:
		return fmt.Sprintf("day %d", day)
	case day == 29 && month == 2 && last == 28:
		return fmt.Sprintf("29 February %d", year)
	case day > last:
		return fmt.Sprintf("%d %s", day, time.Month(month))
	case year < 1583:
		return fmt.Sprintf("year %04d in this calendar, which begins in 1583", year)
	}
	return ""
}

var (
	yearFirst = regexp.MustCompile(`^(\d{4})([-./])(\d{1,2})[-./](\d{1,2})\.?(?:[T ].*)?$`)
	yearLast  = regexp.MustCompile(`^(\d{1,2})([-./]) ?(\d{1,2})[-./] ?(\d{4}|\d{2})$`)
	named     = regexp.MustCompile(`^(?:(\d{1,2})\.? ([A-Za-z]{3,9})\.?|([A-Za-z]{3,9})\.? (\d{1,2}))[, ]+(\d{4})$`)
)

// MeantDays are the dates, as year-month-day, that a text may mean: none, one, or two where
// day and month may be in either order. They need not be valid.
func MeantDays(text string) []string {
	iso := func(year, month, day int) string {
		if year < 100 {
			year += 2000
		}
		return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
	}
	if m := yearFirst.FindStringSubmatch(text); m != nil {
		return []string{iso(wholeNumber(m[1]), wholeNumber(m[3]), wholeNumber(m[4]))}
	}
	if m := yearLast.FindStringSubmatch(text); m != nil {
		a, b, year := wholeNumber(m[1]), wholeNumber(m[3]), wholeNumber(m[4])
		switch {
		case m[2] == "." || a > 12 || a == b:
			return []string{iso(year, b, a)}
		case b > 12:
			return []string{iso(year, a, b)}
		}
		return []string{iso(year, b, a), iso(year, a, b)}
	}
	if m := named.FindStringSubmatch(text); m != nil {
		if month := monthNamed(m[2] + m[3]); month > 0 {
			return []string{iso(wholeNumber(m[5]), int(month), wholeNumber(m[1]+m[4]))}
		}
	}
	return nil
}

// monthNamed finds a month by its English name or the beginning of it, 0 for none.
func monthNamed(word string) time.Month {
	word = strings.ToLower(word)
	for month := time.January; month <= time.December; month++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(month.String()), word) || word == "sept" && month == time.September {
			return month
		}
	}
	return 0
}

// The beginnings of values that are meant as dates. In a formula a slash divides.
var (
	numbersDate  = regexp.MustCompile(`^(?:\d{4}([-./])\d{1,2}[-./]\d{1,2}|\d{1,2}([-./])\d{1,2}[-./]\d{4})`)
	namedDate    = regexp.MustCompile(`^\d{1,2}\.? ([A-Za-z]{3,9})\.?,? \d{4}`)
	yearAndWeek  = regexp.MustCompile(`^(\d{4})-?W(\d{2})-?([1-7])`)
	yearAndDay   = regexp.MustCompile(`^(\d{4})-(\d{3})`)
	yearAndMonth = regexp.MustCompile(`^(\d{4})-(\d{2})`)
)

// meantDate finds what is meant as a date at the start of a text: its length, 0 for none, and
// the dates that it may mean.
func meantDate(text string, inFormula bool) (int, []string) {
	whole := func(n int) bool {
		return n > 0 && (n == len(text) || !isWordByte(text[n]) && !(strings.IndexByte("-./", text[n]) >= 0 && n+1 < len(text) && isDigit(text[n+1])))
	}
	if m := numbersDate.FindStringSubmatchIndex(text); m != nil && whole(m[1]) {
		found := text[:m[1]]
		first := strings.IndexAny(found, "-./")
		last := strings.LastIndexAny(found, "-./")
		sign := found[first]
		if found[last] == sign && !(inFormula && (sign == '/' || sign == '-' && first < 4)) {
			return m[1], MeantDays(found)
		}
	}
	if m := namedDate.FindStringSubmatch(text); m != nil && whole(len(m[0])) {
		if days := MeantDays(m[0]); days != nil {
			return len(m[0]), days
		}
	}
	if inFormula || text[:min(4, len(text))] < "1583" {
		return 0, nil
	}
	return otherCalendars(text, whole)
}

// otherCalendars finds a day of a week, a day of the year and a month alone, as ISO 8601 writes
// them.
func otherCalendars(text string, whole func(int) bool) (int, []string) {
	if m := yearAndWeek.FindStringSubmatch(text); m != nil && whole(len(m[0])) {
		// the first week of a year is the one with the fourth of January
		fourth := DateOf(wholeNumber(m[1]), time.January, 4)
		days := float64(7*(wholeNumber(m[2])-1)+wholeNumber(m[3])) - Weekday(fourth)
		return len(m[0]), []string{ISODate(fourth + days*DayLength)}
	}
	if m := yearAndDay.FindStringSubmatch(text); m != nil && whole(len(m[0])) {
		return len(m[0]), []string{ISODate(DateOf(wholeNumber(m[1]), time.January, wholeNumber(m[2])))}
	}
	if m := yearAndMonth.FindStringSubmatch(text); m != nil && whole(len(m[0])) && m[2] >= "01" && m[2] <= "12" {
		return len(m[0]), []string{m[0] + "-01"}
	}
	return 0, nil
}

var displayed = regexp.MustCompile(`^(?:([A-Z][a-z]+), )?(\d{1,2}) ([A-Z][a-z]+) (\d{4})`)

// displayedDate reads a date as pages show it, since checks may expect it in that form:
// 28 November 2026, with its weekday or without.
func (r *reader) displayedDate() (Value, bool) {
	m := displayed.FindStringSubmatch(r.remaining())
	if m == nil {
		return Value{}, false
	}
	month := monthNamed(m[3])
	if month == 0 || month.String() != m[3] {
		return Value{}, false
	}
	iso := fmt.Sprintf("%s-%02d-%02d", m[4], month, wholeNumber(m[2]))
	if NoSuchDay(iso) != "" {
		return Value{}, false
	}
	v := ADate(dayNumbered(iso))
	if m[1] != "" && weekdayDate(v.Base) != m[0] {
		return Value{}, false
	}
	r.pos += len(m[0])
	return v, true
}
