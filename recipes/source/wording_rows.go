package source

import "fmt"

// LiveColumn reports a lookup or an interpolation by a column whose cells depend on values
// that a reader can set, so that two rows may come to share a key.
func LiveColumn(function, column string) Problem {
	return fault("live-column", fmt.Sprintf("%s cannot find rows by the column %s, whose cells depend on values that a reader can set", function, column),
		"Use first(file.column, file.key, key), which takes the first row with that key.")
}

// TooManyLive reports an added column that depends on values that can be set, in a file of
// more rows than a page recomputes at each change.
func TooManyLive(column, file string, rows, most int) Problem {
	return fault("too-many-live-rows", fmt.Sprintf("%s depends on values that a reader can set, and %s has %d rows; a page recomputes at most %d", column, file, rows, most),
		"Let it depend only on the file's columns and on fixed values, or shorten the file.")
}

// AddedTwice reports an added column with a name that the file already has.
func AddedTwice(name, file string) Problem {
	return fault("added-twice", fmt.Sprintf("%s already has a column %s", file, name), "Give the added column another name.")
}

// NameOfBoth reports a name in a formula over rows that is both a column and a name of the page.
func NameOfBoth(name, file string) Problem {
	return fault("name-of-both", fmt.Sprintf("%s is a column of %s and a name of this page too", name, file), "Rename the page's, so that it is clear which is meant.")
}

// AddedFails reports an added column that has no value in a row; why is empty if it
// is not finite.
func AddedFails(name, file string, line int, why string) Problem {
	if why == "" {
		why = "it gives no finite number"
	}
	return fault("added-fails", fmt.Sprintf("%s has no value in line %d of %s: %s", name, line, file, why), "Correct the row, or write the formula so that it holds for every row.")
}

// LivePoints reports points that depend on values that a reader can set, where limits are to be
// worked out from them and kept.
func LivePoints(column string) Problem {
	return fault("live-points", fmt.Sprintf("limits are worked out from readings and kept, and %s depends on values that a reader can set", column),
		"Name limits of your own (aim, action, control), or let the column depend only on the file's columns and on fixed values.")
}

// RowsWithoutOf reports a key of a table of rows in a table that has no file.
func RowsWithoutOf(key string) Problem {
	return fault("rows-without-of", key+" goes with a table of a data file's rows", "Write of: and the name of the data file, or leave "+key+" out.")
}

// OfAndGrid reports a table that is both of a file's rows and of figures.
func OfAndGrid(key string) Problem {
	return fault("of-and-grid", "a table of a data file's rows has no "+key, "Leave "+key+" out, or leave of out.")
}

// TotalNotShown reports a total of a column that the table does not show.
func TotalNotShown(column string) Problem {
	return fault("total-not-shown", "the total of "+column+" has no column to go in", "Name "+column+" under columns as well.")
}

// RowHolds reports a row of a data file for which a limit holds; a refusal is an error.
func RowHolds(kind string, rows int) Problem {
	if kind == "refuse" {
		return fault("row-refused", "a limit refuses the page for this row", "Do what the limit says, and correct the row.")
	}
	said := "a " + kind + " of the page holds for this row"
	if rows > 1 {
		said += fmt.Sprintf(", one of %d", rows)
	}
	return remark("row-holds", said, "Do what the limit says; the page shows it with its rows.")
}

// PointBeyond reports a measured point beyond the shop's own limits for its chart; off is
// how far it lies from the aim, and count how many such points the chart has.
func PointBeyond(chart, reading, off string, stop bool, count int) Problem {
	limit, do := "action", "Find the cause, and note beside the reading what was done."
	if stop {
		limit, do = "control", "Stop the work until the cause is found, and note beside the reading what was done."
	}
	return remark("point-beyond", fmt.Sprintf("%s lies beyond the %s limit of %s: %s off aim%s", reading, limit, chart, off, oneOf(count)), do)
}

// PointOut reports a measured point that breaks the limits worked out from the first readings,
// and why.
func PointOut(chart, reading, why string, count int) Problem {
	return remark("point-out", fmt.Sprintf("%s is out of the limits of %s: %s%s", reading, chart, why, oneOf(count)),
		"Look for the cause before the next reading, and note beside it what was done.")
}

func oneOf(count int) string {
	if count < 2 {
		return ""
	}
	return fmt.Sprintf(" (one of %d points)", count)
}

// Measured reports whether a code is one that reports a row or a point at its line of a data
// file, because of a page that measures it.
func Measured(code string) bool {
	return code == "row-holds" || code == "point-beyond" || code == "point-out"
}
