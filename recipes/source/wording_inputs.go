package source

import (
	"fmt"
	"strings"
)

// What pages stand on: data files and pages drawn on.

// DataBroken is said of a page that reads a data file with errors.
func DataBroken(file string) Problem {
	return fault("data-broken", file+" has errors of its own", "Mend that file first.")
}

// NoSuchDay is said of a reading's date that is in no calendar: 31 November, month 13.
func NoSuchDay(day string) Problem {
	return fault("no-such-day", "there is no "+day, "Copy the date again from where it was noted.")
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
	return fault("date-form", message, hint)
}

// DateAmong is said of a column of dates with something else in it.
func DateAmong(column, text string) Problem {
	return fault("data-mixed", fmt.Sprintf("%q is no date, but other cells of %s are", text, column), "Mend the cell, or write ["+"text] behind the column's name.")
}

// FewReadings is said of a chart that is to be judged by its own readings and has too few.
func FewReadings(got int) Problem {
	return remark("few-readings", fmt.Sprintf("limits are worked out from two readings or more, and there %s %d", plural(got, "is", "are"), got),
		"Until there are more, the chart has no limits.")
}
