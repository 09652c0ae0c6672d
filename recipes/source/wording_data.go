package source

import (
	"fmt"
	"strings"
)

// What is said of data files and pages drawn on.

// DataTooLarge is said of a data file beyond its bounds.
func DataTooLarge() Problem {
	return fault("data-too-large", "this data file is too large", "A data file has at most 16 MiB and 100,000 rows.")
}

// DataEmpty is said of a data file without rows.
func DataEmpty() Problem {
	return fault("data-empty", "this data file has no rows below its heads", "Name the columns in the first row and add rows below.")
}

// DataUnreadable passes on what the CSV reader says.
func DataUnreadable(why string) Problem {
	return fault("data-unreadable", "this is no CSV: "+why, "A cell with a comma, a quote or a line end stands in double quotes, and a quote inside it is doubled.")
}

// DataOtherComma is said of a file whose columns another sign than the comma parts.
func DataOtherComma(sign string, decimals bool) Problem {
	name := map[string]string{";": "semicolons", "\t": "tabs", "|": "upright bars"}[sign]
	hint := "In the spreadsheet, save it as CSV with commas between the columns"
	if decimals {
		hint += " and points in the numbers"
	}
	hint += ", which most offer where the file is saved; or change the signs here"
	if decimals {
		hint += ", first the commas in the numbers"
	}
	return fault("data-other-comma", "the columns of this file are parted by "+name+", not by commas", hint+".")
}

// DataFieldCount is said of a row with too many or too few cells.
func DataFieldCount(got, want int) Problem {
	return fault("data-field-count", fmt.Sprintf("this row has %d %s, but the first row names %d", got, plural(got, "cell", "cells"), want), "Look for a missing or an extra comma; a text with a comma stands in double quotes, and a number has a decimal point.")
}

// DataColumnTwice is said of two columns of one name.
func DataColumnTwice(name string) Problem {
	return fault("data-column-twice", fmt.Sprintf("there are two columns named %q", name), "Rename one of the two.")
}

// DataCellEmpty is said of an empty cell.
func DataCellEmpty(column string) Problem {
	return fault("data-cell-empty", "a cell of "+column+" is empty", "Fill it, or take the row out: what nobody measured has no row.")
}

// DataMixed is said of a column of quantities with a text in it.
func DataMixed(column, text string) Problem {
	return fault("data-mixed", fmt.Sprintf("%q is no quantity, but other cells of %s are", text, column), fmt.Sprintf("Mend the cell; or, where these are names, write %s [text] in the first row.", column))
}

// UseOutside is why a page refuses where one that it draws on was not tested.
func UseOutside(given, value, page string) string {
	return given + " " + value + " lies outside what " + page + " was tested for."
}

// TextsDiffer is said of a text set for a page drawn on that has other choices.
func TextsDiffer(name string) Problem {
	return fault("texts-differ", name+" has other choices on the page drawn on", "Write one of its choices in quotes, or give both pages the same choices.")
}

// PageCycle is said of pages that draw on one another.
func PageCycle(way []string) Problem {
	p := fault("page-cycle", "these pages draw on one another: "+Way(way), "One of them must do without the others.")
	for i, page := range way[:max(0, len(way)-1)] {
		p = p.relating(Related{File: page, Says: "draws on " + way[i+1], Draws: way[i+1]})
	}
	return p
}

// UseOfStaff is said of a customers' page that draws on a staff page.
func UseOfStaff(page string) Problem {
	return fault("use-of-staff", page+" is for staff, and this page is for customers", "Draw on a customers' page, or make this page a staff page.")
}

// UseUnpublished is said of a published page that draws on a draft or withdrawn one.
func UseUnpublished(page, status string) Problem {
	return fault("use-of-unpublished", fmt.Sprintf("%s is %s, and this page is published", page, status), "Approve that page first, or draw on another.")
}

// DataOfStaff is said of a customers' page that names a data file of the staff.
func DataOfStaff(file string) Problem {
	return fault("data-of-staff", file+" lies in a staff folder, and this page is for customers", "Keep data for customers' pages in a customers' folder.")
}

// UseBroken is said of a page that draws on one with errors of its own.
func UseBroken(page string) Problem {
	return fault("use-broken", page+" has errors of its own", "Mend that page first.")
}

// DataBroken is said of a page that reads a data file with errors.
func DataBroken(file string) Problem {
	return fault("data-broken", file+" has errors of its own", "Mend that file first.")
}

// DateAmong is said of a column of dates with something else in it.
func DateAmong(column, text string) Problem {
	return fault("data-mixed", fmt.Sprintf("%q is no date, but other cells of %s are", text, column), "Mend the cell, or write ["+"text] behind the column's name.")
}

// DrawnTooDeep is said of a page that draws on others through too many levels.
func DrawnTooDeep(way []string, most int) Problem {
	return fault("drawn-too-deep", fmt.Sprintf("pages draw on one another more than %d levels deep: %s", most, Way(way)),
		"Work out on one page what several of these work out, or draw on a page further down.")
}

// DrawnTooMany is said of a page that draws on too many, near and far.
func DrawnTooMany(way []string, most int) Problem {
	return fault("drawn-too-many", fmt.Sprintf("this page draws on more than %d pages, near and far, each counted once for every set of values: one too many is %s", most, Way(way)),
		"Draw on a page once and use its figures again, or set the same values where it is drawn on twice.")
}

// DrawnTooLarge is said of a page that draws on pages with too many values.
func DrawnTooLarge(way []string, most int) Problem {
	return fault("drawn-too-large", fmt.Sprintf("this page and those that it draws on, near and far, have more than %d given values and figures: too many are met at %s", most, Way(way)),
		"Draw on smaller pages, or on fewer.")
}

// wayEnds are how many pages of a long way are named at its beginning and at its end.
const wayEnds = 4

// Way writes by which pages one comes to another, the middle of a long way left out.
func Way(pages []string) string {
	if left := len(pages) - 2*wayEnds; left > 1 {
		middle := fmt.Sprintf("… (%d more)", left)
		pages = append(append(append([]string{}, pages[:wayEnds]...), middle), pages[len(pages)-wayEnds:]...)
	}
	return strings.Join(pages, " → ")
}
