package source

import (
	"fmt"
	"strings"
)

// Messages about data files and pages drawn on.

// DataTooLarge reports a data file beyond its bounds.
func DataTooLarge() Problem {
	return fault("data-too-large", "this data file is too large", "A data file has at most 16 MiB and 100,000 rows.")
}

// DataEmpty reports a data file without rows.
func DataEmpty() Problem {
	return fault("data-empty", "this data file has no rows below its header", "Name the columns in the first row and add rows below.")
}

// DataUnreadable passes on what the CSV reader says.
func DataUnreadable(why string) Problem {
	return fault("data-unreadable", "this is not a CSV: "+why, "Put a cell that has a comma, a quote or a line end in double quotes, and double any quote inside it.")
}

// DataOtherComma reports a file whose columns are separated by something other than commas.
func DataOtherComma(sign string, decimals bool) Problem {
	name := map[string]string{";": "semicolons", "\t": "tabs", "|": "vertical bars"}[sign]
	hint := "In the spreadsheet, save it as CSV with commas between the columns"
	if decimals {
		hint += " and points in the numbers"
	}
	hint += ", which most programs offer when saving; or replace the separators here"
	if decimals {
		hint += ", first the commas in the numbers"
	}
	return fault("data-other-comma", "the columns of this file are separated by "+name+", not by commas", hint+".")
}

// DataFieldCount reports a row with too many or too few cells.
func DataFieldCount(got, want int) Problem {
	return fault("data-field-count", fmt.Sprintf("this row has %d %s, but the first row names %d", got, plural(got, "cell", "cells"), want), "Look for a missing or an extra comma; a text with a comma goes in double quotes, and a number has a decimal point.")
}

// DataColumnTwice reports two columns of one name.
func DataColumnTwice(name string) Problem {
	return fault("data-column-twice", fmt.Sprintf("there are two columns named %q", name), "Rename one of the two.")
}

// DataCellEmpty reports an empty cell.
func DataCellEmpty(column string) Problem {
	return fault("data-cell-empty", "a cell of "+column+" is empty", "Fill it in, or remove the row: what nobody measured has no row.")
}

// DataMixed reports a column of quantities with a text in it.
func DataMixed(column, text string) Problem {
	return fault("data-mixed", fmt.Sprintf("%q is not a quantity, but other cells of %s are", text, column), fmt.Sprintf("Correct the cell; or, if these are names, write %s [text] in the first row.", column))
}

// OrNames adds to what is wrong with a number of a column how to keep it as a text.
func (p Problem) OrNames(column string) Problem {
	p.Hint += "\nIf these are names, write " + column + " [text] in the first row."
	return p
}

// UseOutside is why a page refuses values for which a page that it draws on was not tested.
func UseOutside(given, value, page string) string {
	return given + " " + value + " lies outside what " + page + " was tested for."
}

// TextsDiffer reports a text set for a page drawn on that has different choices.
func TextsDiffer(name string) Problem {
	return fault("texts-differ", name+" has different choices on the page drawn on", "Write one of its choices in quotes, or give both pages the same choices.")
}

// PageCycle reports pages that draw on one another.
func PageCycle(way []string) Problem {
	p := fault("page-cycle", "these pages draw on one another: "+Way(way), "One of them must do without the others.")
	for i, page := range way[:max(0, len(way)-1)] {
		p = p.relating(Related{File: page, Says: "draws on " + way[i+1], Draws: way[i+1]})
	}
	return p
}

// UseOfStaff reports a customers' page that draws on a staff page.
func UseOfStaff(page string) Problem {
	return fault("use-of-staff", page+" is for staff, and this page is for customers", "Draw on a customers' page, or make this page a staff page.")
}

// UseUnpublished reports a published page that draws on a draft or withdrawn one.
func UseUnpublished(page, status string) Problem {
	return fault("use-of-unpublished", fmt.Sprintf("%s is %s, and this page is published", page, status), "Approve that page first, or draw on another.")
}

// DataOfStaff reports a customers' page that names a data file of the staff.
func DataOfStaff(file string) Problem {
	return fault("data-of-staff", file+" is in a staff folder, and this page is for customers", "Keep data for customers' pages in a customers' folder.")
}

// UseBroken reports a page that draws on one with errors of its own.
func UseBroken(page string) Problem {
	return fault("use-broken", page+" has errors of its own", "Correct that page first.")
}

// DataBroken reports a page that reads a data file with errors.
func DataBroken(file string) Problem {
	return fault("data-broken", file+" has errors of its own", "Correct that file first.")
}

// DateAmong reports a column of dates with something else in it.
func DateAmong(column, text string) Problem {
	return fault("data-mixed", fmt.Sprintf("%q is not a date, but other cells of %s are", text, column), "Correct the cell, or write ["+"text] after the column's name.")
}

// DrawnTooDeep reports a page that draws on others through too many levels.
func DrawnTooDeep(way []string, most int) Problem {
	return fault("drawn-too-deep", fmt.Sprintf("pages draw on one another more than %d levels deep: %s", most, Way(way)),
		"Work out on one page what several of these work out, or draw on a page further down.")
}

// DrawnTooMany reports a page that draws, directly or through others, on too many.
func DrawnTooMany(way []string, most int) Problem {
	return fault("drawn-too-many", fmt.Sprintf("this page draws on more than %d pages, directly or through others, each counted once for every set of values: the first one too many is %s", most, Way(way)),
		"Draw on a page once and use its figures again, or set the same values where it is drawn on twice.")
}

// DrawnTooLarge reports a page that draws on pages with too many values.
func DrawnTooLarge(way []string, most int) Problem {
	return fault("drawn-too-large", fmt.Sprintf("this page and those that it draws on, directly or through others, have more than %d given values and figures: the limit is passed at %s", most, Way(way)),
		"Draw on smaller pages, or on fewer.")
}

// wayEnds is how many pages are named at each end of a long way.
const wayEnds = 4

// Way writes the pages that lead from one to another, leaving out the middle of a long way.
func Way(pages []string) string {
	if left := len(pages) - 2*wayEnds; left > 1 {
		middle := fmt.Sprintf("… (%d more)", left)
		pages = append(append(append([]string{}, pages[:wayEnds]...), middle), pages[len(pages)-wayEnds:]...)
	}
	return strings.Join(pages, " → ")
}
