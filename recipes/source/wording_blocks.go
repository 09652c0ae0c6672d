package source

import "fmt"

// What is said of steps, tables and charts.

// UnknownCautionName is said of a step's caution that the page does not have.
func UnknownCautionName(name, nearest string) Problem {
	hint := "Name one of the page's cautions, a standing caution, or write a signal word and a text: {word: WARNING, text: …}."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-caution", fmt.Sprintf("there is no caution %s", name), hint).offering(nearest)
}

// CautionWord is said of a step's caution in words without a signal word.
func CautionWord() Problem {
	return fault("caution-word", "this caution has no signal word", "Begin it with DANGER, WARNING, CAUTION or NOTICE and a colon, or write {word: WARNING, text: …}.")
}

// ListAndGrid is said of rows, columns or cell beside list.
func ListAndGrid(key string) Problem {
	return fault("list-and-grid", key+" stands beside list", "A weighing list has list and blanks; a table has rows, columns and cell.")
}

// BlanksWithout is said of blanks without list.
func BlanksWithout() Problem {
	return fault("blanks-without-list", "blanks belong to a weighing list", "Add list, or leave blanks out.")
}

// TooManyCells is said of a table beyond its bound.
func TooManyCells(cells, most int) Problem {
	return fault("too-many-cells", fmt.Sprintf("this table has %d cells; a table has at most %d", cells, most), "Take larger steps, or make two tables.")
}

// OneGivenTwice is said of a given on both axes.
func OneGivenTwice(name string) Problem {
	return fault("one-given-twice", name+" runs along both", "Choose two given values.")
}

// NoSteps is said of a given without steps where its values are wanted.
func NoSteps(name string) Problem {
	return fault("no-steps", name+" has no steps of its own", "Write its values, such as {"+name+": 18 °C .. 24 °C by 1 °C}.")
}

// NoRange is said of a chart's x without a range.
func NoRange(name string) Problem {
	return fault("no-range", name+" has no range to draw over", "Give it from and to.")
}

// FewBaseline is said of a chart that is to work its limits out from too few readings.
func FewBaseline(got string, least int) Problem {
	return fault("few-baseline", fmt.Sprintf("a baseline of %s is too short: limits from fewer than %d readings set off alarms by chance", got, least),
		fmt.Sprintf("Write baseline: %d or more. Until there are that many readings, the chart has no limits, and says so.", least))
}

// BaselineWithoutMethod is said of a baseline whose chart works no limits out from readings.
func BaselineWithoutMethod() Problem {
	return fault("baseline-without-method", "baseline goes with limits worked out from readings", "Write limits: individuals, or limits: ewma, or leave baseline out.")
}

// LimitsCrossed is said of limits of a chart of which the outer one is the nearer.
func LimitsCrossed(action, is, control, other, at string) Problem {
	return fault("limits-crossed", fmt.Sprintf("the limits cross at %s: %s is %s and %s is %s", at, action, is, control, other),
		"An action limit is nothing or more, and the control limit lies no nearer to the aim. Mend the values, or name them the other way round.")
}

// Unplaced is said of a table or a chart that the page's text does not place.
func Unplaced(what, name string) Problem {
	return remark("unplaced", fmt.Sprintf("the %s %s stands nowhere on the page", what, name), "Write {"+name+"} in a paragraph of its own.")
}

// LimitsWithoutPoints is said of a chart's limits without points to judge.
func LimitsWithoutPoints() Problem {
	return fault("limits-without-points", "there are no points for these limits to judge", "Add points: {x: log.date, y: log.density}.")
}
