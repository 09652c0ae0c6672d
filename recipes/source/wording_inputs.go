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

// Document control.

// ApprovedLater is said of an approved page whose approval is still to come.
func ApprovedLater(day string) Problem {
	return remark("approved-later", "the page counts as approved, but its approval of "+day+" is still to come", "Mend the date, or write status: draft until then.")
}

// EffectiveBefore is said of a page that is in force before anybody approved it.
func EffectiveBefore(effective, approved string) Problem {
	return remark("effective-before", fmt.Sprintf("the page is in force from %s, before its approval of %s", effective, approved), "Mend one of the two dates.")
}

// RevisionUnsaid is said of a revision that the list of changes does not have.
func RevisionUnsaid(revision int) Problem {
	return remark("revision-unsaid", fmt.Sprintf("changes does not say what revision %d changed", revision), fmt.Sprintf("Add %d: and what it changed, under changes.", revision))
}

// Given values and charts.

// LimitsCrossed is said of limits of a chart of which the outer one is the nearer.
func LimitsCrossed(action, is, control, other, at string) Problem {
	return fault("limits-crossed", fmt.Sprintf("the limits cross at %s: %s is %s and %s is %s", at, action, is, control, other),
		"An action limit is nothing or more, and the control limit lies no nearer to the aim. Mend the values, or name them the other way round.")
}

// CurlyQuotes is said of typographic quotes around a value or a formula, where YAML takes
// none of its signs for its own; see TypographicQuotes.
func CurlyQuotes(open string) Problem {
	return fault("typographic-quotes", open+" is no quote here but a letter like any other", "Write straight quotes, \", or none.")
}

// Files and what stands on a page.

// NameMeant is said of a file that is passed by for its name.
func NameMeant(name string) Problem {
	return remark("name-meant", "nothing is read from this file, because of its name", "If it belongs to the site, call it "+name+".")
}

// StepsUnplaced is said of steps that the page's text does not place.
func StepsUnplaced() Problem {
	return remark("unplaced", "the page does not say where its steps stand, so they stand at its end", "Write {steps} in a paragraph of its own.")
}

// Unplaced is said of a table or a chart that the page's text does not place.
func Unplaced(what, name string) Problem {
	return remark("unplaced", fmt.Sprintf("the %s %s stands nowhere on the page", what, name), "Write {"+name+"} in a paragraph of its own.")
}

// NotFiniteNear is said of a formula that gives no number between two values that were tried.
func NotFiniteNear(name, at string) Problem {
	return fault("not-finite", fmt.Sprintf("%s gives no finite number near %s, between values that were tried", name, at), NotFinite("", "").Hint)
}
