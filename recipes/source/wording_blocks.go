package source

import "fmt"

// Messages about steps, tables and charts.

// UnknownCautionName reports a step's caution that the page does not have.
func UnknownCautionName(name, nearest string) Problem {
	hint := "Name one of the page's cautions, a standing caution, or write a signal word and a text: {word: WARNING, text: …}."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-caution", fmt.Sprintf("there is no caution %s", name), hint).offering(nearest)
}

// CautionWord reports a step's caution in words without a signal word.
func CautionWord() Problem {
	return fault("caution-word", "this caution has no signal word", "Begin it with DANGER, WARNING, CAUTION or NOTICE and a colon, or write {word: WARNING, text: …}.")
}

// ListAndGrid reports rows, columns or cell together with list.
func ListAndGrid(key string) Problem {
	return fault("list-and-grid", key+" does not go with list", "A weighing list has list and blanks; a table has rows, columns and cell.")
}

// BlanksWithout reports blanks without a list.
func BlanksWithout() Problem {
	return fault("blanks-without-list", "blanks belong to a weighing list", "Add list, or leave blanks out.")
}

// TooManyCells reports a table beyond its bound.
func TooManyCells(cells, most int) Problem {
	return fault("too-many-cells", fmt.Sprintf("this table has %d cells; a table has at most %d", cells, most), "Take larger steps, or make two tables.")
}

// OneGivenTwice reports a given on both axes.
func OneGivenTwice(name string) Problem {
	return fault("one-given-twice", name+" is on both axes", "Choose two given values.")
}

// NoSteps reports a given without steps where its values are wanted.
func NoSteps(name string) Problem {
	return fault("no-steps", name+" has no steps of its own", "Write its values, such as {"+name+": 18 °C .. 24 °C by 1 °C}.")
}

// NoRange reports a chart's x without a range.
func NoRange(name string) Problem {
	return fault("no-range", name+" has no range to draw over", "Give it from and to.")
}

// FewBaseline reports a chart that would compute its limits from too few readings.
func FewBaseline(got string, least int) Problem {
	return fault("few-baseline", fmt.Sprintf("a baseline of %s is too short: limits from fewer than %d readings set off alarms by chance", got, least),
		fmt.Sprintf("Write baseline: %d or more. Until there are that many readings, the chart has no limits, and says so.", least))
}

// BaselineWithoutMethod reports a baseline on a chart that does not compute limits from readings.
func BaselineWithoutMethod() Problem {
	return fault("baseline-without-method", "baseline goes with limits worked out from readings", "Write limits: individuals, or limits: ewma, or leave baseline out.")
}

// LimitsCrossed reports an outer limit of a chart that is nearer to the aim than the inner one.
func LimitsCrossed(action, is, control, other, at string) Problem {
	return fault("limits-crossed", fmt.Sprintf("the limits cross at %s: %s is %s and %s is %s", at, action, is, control, other),
		"An action limit is zero or more, and the control limit is at least as far from the aim. Correct the values, or swap their names.")
}

// Unplaced reports a table or a chart that the page's text does not place.
func Unplaced(what, name string) Problem {
	return remark("unplaced", fmt.Sprintf("the %s %s is not placed anywhere on the page", what, name), "Write {"+name+"} in a paragraph of its own.")
}

// LimitsWithoutPoints reports a chart's limits without points to judge.
func LimitsWithoutPoints() Problem {
	return fault("limits-without-points", "there are no points for these limits to judge", "Add points: {x: log.date, y: log.density}.")
}

// TurnedTwice reports agitation by inversions and by turning, of which the page could show only one.
func TurnedTwice() Problem {
	return fault("turned-twice", "turning does not go with inversions", "Keep one of the two, or write in words how it is agitated.")
}
