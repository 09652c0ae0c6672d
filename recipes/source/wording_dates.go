package source

import (
	"fmt"
	"slices"
	"strings"
)

// Messages about dates.

// NoSuchDay reports a date that does not exist: 31 November, month 13.
func NoSuchDay(day string) Problem {
	return fault("no-such-day", "there is no "+day, "Copy the date again from where it was noted.")
}

// DateMissing reports a date that a reader left out.
func DateMissing() Problem {
	return fault("number-missing", "a date is missing here", "Write year, month and day: 2026-09-30.")
}

// DateForm reports a date that is not written as pages write it; days are those that it may
// mean, and more is how many other cells of the column are not either.
func DateForm(text, column string, days []string, more int) Problem {
	message := fmt.Sprintf("%q is not how dates are written here", text)
	if more > 0 {
		message += fmt.Sprintf(", nor %s %d more %s of %s", plural(more, "is", "are"), more, plural(more, "cell", "cells"), column)
	}
	hint := "Write year, month and day: 2026-09-30."
	if len(days) > 0 {
		hint = "Write " + strings.Join(days, " or ") + "."
	}
	return fault("date-form", message, hint).offering(days...)
}

// DateOrDifference reports 2026-2-3 in a formula, which can be a date and two minus signs.
func DateOrDifference(text string, days []string, difference string) Problem {
	return fault("date-form", text+" can be a date or a subtraction", "Write "+strings.Join(days, " or ")+" for the date, "+difference+" to subtract.").offering(append(slices.Clone(days), difference)...)
}

// DateNegated reports -2026-11-28.
func DateNegated(date string) Problem {
	return fault("date-negated", "a date has no sign", "Write "+date+", or a time such as -3 days.").offering(date)
}

// DateWithTime reports 2026-11-28T10:30.
func DateWithTime(date string) Problem {
	return fault("date-with-time", "a date is a whole day and has no time of day", "Write "+date+".").offering(date)
}

// DatesAdded reports two dates with a plus between them.
func DatesAdded() Problem {
	return fault("dates-added", "two dates cannot be added", "Add a time to a date, such as 2026-11-28 + 3 days, or subtract one date from the other.")
}

// DateFromTime reports 3 days - 2026-11-28.
func DateFromTime() Problem {
	return fault("date-from-time", "a date cannot be subtracted from a time", "Swap them: a date minus a time is the day that long before.")
}

// DateMultiplied reports 2 * 2026-11-28.
func DateMultiplied() Problem {
	return fault("date-multiplied", "a date cannot be multiplied or divided", "Multiply a time instead: a date minus a date is one, and a date plus a time is a date.")
}

// DateNegatedValue reports a minus or abs before a name that stands for a date.
func DateNegatedValue() Problem {
	return fault("date-negated", "a date has no sign", "Subtract one date from another instead.")
}

// DateRounded reports round and similar functions of a date.
func DateRounded() Problem {
	return fault("date-rounded", "a date is a whole day already and is not rounded", "Use weekday, months_after or workdays_after, or round the time between two dates.")
}

// DateBetween reports an interpolation whose result would be a date.
func DateBetween() Problem {
	return fault("date-between", "dates of a file cannot be interpolated", "Use lookup, or interpolate a time and add it to a date.")
}

// DateStep reports a step or a tolerance between dates that is not a number of days.
func DateStep(step string) Problem {
	return fault("date-step", "dates are a whole number of days apart, and "+step+" is not", "Write whole days or weeks, such as 1 day or 2 weeks.")
}

// PercentOfDate reports 2026-11-28 ± 1 %.
func PercentOfDate() Problem {
	return fault("percent-of-date", "a percentage of a date means nothing", "Write the tolerance as a time, such as ± 1 day.")
}

// ShowDate reports a show beside a date.
func ShowDate(text string) Problem {
	return fault("show-date", fmt.Sprintf("%s is not a way to show a date", text), "Leave the show out for 28 November 2026, or write weekday for Saturday, 28 November 2026.")
}

// TodayWithChoices reports a given that follows the calendar and has choices.
func TodayWithChoices() Problem {
	return fault("today-with-choices", "a value that follows the calendar has no choices", "Leave the choices out, or give from and to.")
}

// CountWhole reports a count of months or workdays that is not whole.
func CountWhole(form string) Problem {
	return fault("count-whole", "n in "+form+" must be a whole number", "Write a whole number, or round it: round(n, 1).")
}
