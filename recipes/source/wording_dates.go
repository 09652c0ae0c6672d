package source

import (
	"fmt"
	"slices"
	"strings"
)

// What is said of dates.

// NoSuchDay is said of a date that is in no calendar: 31 November, month 13.
func NoSuchDay(day string) Problem {
	return fault("no-such-day", "there is no "+day, "Copy the date again from where it was noted.")
}

// DateMissing is said where a reader left a date out.
func DateMissing() Problem {
	return fault("number-missing", "a date is missing here", "Write year, month and day: 2026-09-30.")
}

// DateForm is said of a date that is not written as pages write it; days are those that it
// may mean, and more is how many other cells of the column are no dates either.
func DateForm(text, column string, days []string, more int) Problem {
	message := fmt.Sprintf("%q is not written as a date is here", text)
	if more > 0 {
		message += fmt.Sprintf(", nor %s %d more %s of %s", plural(more, "is", "are"), more, plural(more, "cell", "cells"), column)
	}
	hint := "Write year, month and day: 2026-09-30."
	if len(days) > 0 {
		hint = "Write " + strings.Join(days, " or ") + "."
	}
	return fault("date-form", message, hint).offering(days...)
}

// DateOrDifference is said of 2026-2-3 in a formula, which can be a date and two minus signs.
func DateOrDifference(text string, days []string, difference string) Problem {
	return fault("date-form", text+" can be a date or a subtraction", "Write "+strings.Join(days, " or ")+" for the date, "+difference+" to subtract.").offering(append(slices.Clone(days), difference)...)
}

// DateNegated is said of -2026-11-28.
func DateNegated(date string) Problem {
	return fault("date-negated", "a date has no sign", "Write "+date+", or a time such as -3 days.").offering(date)
}

// DateWithTime is said of 2026-11-28T10:30.
func DateWithTime(date string) Problem {
	return fault("date-with-time", "a date is a whole day and has no time of day", "Write "+date+".").offering(date)
}

// DatesAdded is said of two dates with a plus between them.
func DatesAdded() Problem {
	return fault("dates-added", "two dates do not add", "Add a time to a date, such as 2026-11-28 + 3 days, or subtract one date from the other.")
}

// DateFromTime is said of 3 days - 2026-11-28.
func DateFromTime() Problem {
	return fault("date-from-time", "a date cannot be taken from a time", "Turn it round: the date minus the time is the day so long before.")
}

// DateMultiplied is said of 2 * 2026-11-28.
func DateMultiplied() Problem {
	return fault("date-multiplied", "a date cannot be multiplied or divided", "Multiply a time instead: a date minus a date is one, and a date plus a time is a date.")
}

// DateNegatedValue is said of a minus or abs before a name that stands for a date.
func DateNegatedValue() Problem {
	return fault("date-negated", "a date has no sign", "Subtract one date from another instead.")
}

// DateRounded is said of round and its kin over a date.
func DateRounded() Problem {
	return fault("date-rounded", "a date is a whole day already and is not rounded", "Use weekday, months_after or workdays_after, or round the time between two dates.")
}

// DateBetween is said of an interpolation whose result would be a date.
func DateBetween() Problem {
	return fault("date-between", "there is no date between two dates of a file", "Use lookup, or interpolate a time and add it to a date.")
}

// DateStep is said of a step or a tolerance between dates that is not a number of days.
func DateStep(step string) Problem {
	return fault("date-step", "dates are a whole number of days apart, and "+step+" is not", "Write whole days or weeks, such as 1 day or 2 weeks.")
}

// PercentOfDate is said of 2026-11-28 ± 1 %.
func PercentOfDate() Problem {
	return fault("percent-of-date", "a share of a date means nothing", "Write the tolerance as a time, such as ± 1 day.")
}

// ShowDate is said of a show beside a date.
func ShowDate(text string) Problem {
	return fault("show-date", fmt.Sprintf("%s is no way to show a date", text), "Leave the show out for 28 November 2026, or write weekday for Saturday, 28 November 2026.")
}

// TodayWithChoices is said of a given that follows the calendar and has choices.
func TodayWithChoices() Problem {
	return fault("today-with-choices", "a value that follows the calendar has no choices", "Leave the choices out, or give from and to.")
}

// CountWhole is said of months or workdays that are counted in parts.
func CountWhole(form string) Problem {
	return fault("count-whole", "n in "+form+" is counted in whole numbers", "Write a whole number, or round it: round(n, 1).")
}
