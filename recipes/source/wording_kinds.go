package source

import (
	"fmt"
	"strings"
)

// Messages about the names and kinds of formulas.

// UnknownName reports a name that the page does not have.
func UnknownName(name, nearest string) Problem {
	hint := "A name must be that of a given or a figure on this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-name", fmt.Sprintf("there is no %s on this page", name), hint).offering(nearest)
}

// TextUnquoted reports a text in a formula whose quotes were forgotten; of is what has it
// among its texts.
func TextUnquoted(text, of string) Problem {
	return fault("text-unquoted", fmt.Sprintf("%s is a text of %s, and has no quotes here", text, of), fmt.Sprintf(`Write '%s'. In a formula, a word without quotes is the name of a given or a figure.`, text))
}

// ApertureInFormula reports f/8 in a formula.
func ApertureInFormula(number string) Problem {
	return fault("aperture-in-formula", fmt.Sprintf("f/%s cannot be written inside a formula", number), fmt.Sprintf("An f-number is a plain number there: write %s, or make f/%s a given.", number, number))
}

// NoSuchFunction reports a call of something that other languages have.
func NoSuchFunction(name string) Problem {
	return fault("not-allowed", fmt.Sprintf("there is no function %s", name), "A formula has single values, and columns of a data file; take a value from a column with lookup, or write the terms out.")
}

// UnknownFunction reports a call of something that is not a function.
func UnknownFunction(name, nearest string) Problem {
	hint := "The functions are listed in the page format and by `labsite formula`."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-function", fmt.Sprintf("there is no function %s", name), hint).offering(nearest)
}

// ArgumentCount reports a call with too few or too many arguments.
func ArgumentCount(name, form string, got int) Problem {
	return fault("argument-count", fmt.Sprintf("%s got %d %s", name, got, plural(got, "argument", "arguments")), "Write "+form+".")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// WantsKind reports an operand of the wrong kind.
func WantsKind(what, want, got string) Problem {
	hint := "Look for a factor too many or one that is missing."
	if !strings.Contains(want, ",") {
		hint = "Put " + want + " here, or look for a factor too many or one that is missing."
	}
	if x := suchAs[want]; x != "" && got == "a plain number" {
		hint = "Give it a unit, such as " + x + ", or look for a factor that is missing."
	}
	switch want {
	case "a plain number":
		hint = "Divide by a unit, such as tank / 1 ml, or leave the unit out."
	case "yes or no":
		hint = "Write a comparison, such as tank > 500 ml."
		if got == "a text" {
			hint = `Compare the text, as in film == "sheet".`
		}
	case "a number or a quantity":
		hint = "Choose between two values with condition ? value : other value."
	}
	return fault("wrong-kind", fmt.Sprintf("%s needs %s, but this is %s", what, want, got), hint)
}

// suchAs is a quantity of a kind, as it is usually written.
var suchAs = map[string]string{
	"a time": "30 s or 10 min", "a volume": "500 ml", "a mass": "12.5 g", "a length": "20 cm", "an area": "0.05 m2",
	"a temperature": "20 °C", "a temperature difference": "0.5 K", "stops": "1/3 stop",
}

// Factor is what would make two sides of different kinds fit.
type Factor struct{ Side, Kind, Unit string }

// KindsSides reports two sides that must be of one kind; it shows both aligned and, where one
// factor would make them fit, names it.
func KindsSides(what, left, leftKind, right, rightKind string, f Factor) Problem {
	width := max(len([]rune(left)), len([]rune(right)))
	hint := fmt.Sprintf("%-*s  is %s\n%-*s  is %s", width, left, leftKind, width, right, rightKind)
	if f.Kind != "" && f.Unit != "" {
		hint += fmt.Sprintf("\nIt would fit if the %s side were multiplied by %s (%s).", f.Side, f.Kind, f.Unit)
	}
	message := what + " needs the same kind on both sides"
	if strings.HasPrefix(what, "the ") {
		message = what + " must be of one kind"
	}
	return fault("kinds-differ", message, hint)
}

// PointsAdded reports 20 °C + 2 °C.
func PointsAdded(right string) Problem {
	return fault("points-added", "two temperatures cannot be added", "A difference is written in K or Δ°F: bath + 2 K.")
}

// PointFromDifference reports 2 K - 20 °C.
func PointFromDifference() Problem {
	return fault("point-from-difference", "a temperature cannot be subtracted from a difference", "Swap the two, or subtract two temperatures.")
}

// PointMultiplied reports 2 * 20 °C.
func PointMultiplied() Problem {
	return fault("point-multiplied", "a temperature on a scale cannot be multiplied or divided", "Subtract a temperature first, or use kelvin(t).")
}

// PointNegated reports -bath.
func PointNegated() Problem {
	return fault("point-negated", "a temperature on a scale has no negative and no absolute value", "Subtract a temperature first: bath - 20 °C is a difference.")
}

// StopsMultiplied reports stops times stops.
func StopsMultiplied() Problem {
	return fault("stops-multiplied", "stops can be added, not multiplied by one another", "Add them, or turn one into a factor with ratio(…).")
}

// CurrenciesMixed reports two currencies in one expression.
func CurrenciesMixed(a, b string) Problem {
	return fault("currencies-mixed", fmt.Sprintf("%s and %s are mixed in one expression", a, b), "Convert one into the other first, with an exchange rate as a given of your own: 1.27 USD/GBP.")
}

// PowerTooHigh reports kinds beyond the ninth power.
func PowerTooHigh() Problem {
	return fault("power-too-high", "the result would be a unit beyond the ninth power", "Look for a factor too many.")
}

// PowerWhole reports a power that is not a literal whole number.
func PowerWhole(kind string) Problem {
	return fault("power-whole", fmt.Sprintf("the power of %s must be written as a whole number", kind), "Write the power as a number, or divide by a unit first to make a plain number.")
}

// NoRoot reports sqrt over a kind without a root.
func NoRoot(kind string) Problem {
	return fault("no-root", fmt.Sprintf("there is no square root of %s", kind), "Divide by a unit first to make a plain number, or look for a missing factor.")
}

// YesAmongTexts reports a given whose choices are the texts yes and no, where a condition
// is needed.
func YesAmongTexts(what, text string, words []string) Problem {
	return fault("yes-among-texts", fmt.Sprintf("%s needs yes or no, but %s is one of the texts %s", what, text, listed(words)),
		fmt.Sprintf(`Give it value: true or value: false and no choices, which makes it a yes or no; or compare it: %s == "yes".`, text))
}

// TextsApart reports two texts that are never equal.
func TextsApart(a, b string) Problem {
	return fault("texts-apart", fmt.Sprintf("%s and %s have no text in common, so they are never equal", a, b), "Compare with a text that can occur on both sides.")
}

// TextCompared reports < between texts.
func TextCompared(sign string) Problem {
	return fault("text-compared", fmt.Sprintf("texts cannot be compared with %s", sign), "Use == or !=.")
}

// TextBeside reports a text in quotes that is not compared with a text that can vary.
func TextBeside() Problem {
	return fault("text-beside", "a text in quotes can be compared only with something that is a text", `Write a given with choices or a figure on one side and the text on the other: film == "sheet".`)
}

// YesBesideText reports a yes or no that is compared with a text.
func YesBesideText(name, instead string) Problem {
	return fault("yes-beside-text", name+" is yes or no, not a text", "Write just "+instead+"; choices of only yes and no make a yes or no.")
}

// NotAChoice reports a text that is not one of a given's choices.
func NotAChoice(text, nearest string, choices []string) Problem {
	return fault("not-a-choice", fmt.Sprintf("%q is not one of the choices", text), choicesAre(nearest, choices)).offering(nearest)
}

// NotAChoiceOf is NotAChoice where the place does not show which given is meant.
func NotAChoiceOf(given, text, nearest string, choices []string) Problem {
	return fault("not-a-choice", fmt.Sprintf("%q is not one of the choices of %s", text, given), choicesAre(nearest, choices)).offering(nearest)
}

func choicesAre(nearest string, choices []string) string {
	hint := "The choices are " + listed(choices) + "."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %q? %s", nearest, hint)
	}
	return hint
}

func listed(words []string) string {
	const most = 12
	out := ""
	for i, w := range words {
		if i == most {
			return out + fmt.Sprintf(" and %d more", len(words)-most)
		}
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}

// KeyDiffers reports a key of another kind than its column.
func KeyDiffers(column, kind, key string) Problem {
	hint := "Give both in units of one kind."
	if key == "a text" {
		hint = fmt.Sprintf("If the cells are names that look like numbers, write %s [text] in the first row of the file.", column)
	}
	return fault("kinds-differ", fmt.Sprintf("the column %s and its key are of different kinds: %s and %s", column, kind, key), hint)
}

// LetName reports a let whose name is not free.
func LetName(name string) Problem {
	return fault("let-name", fmt.Sprintf("%s cannot be bound by let", name), "Choose a name of letters, digits and _ that is neither a unit nor a function.")
}

// NameTaken reports a name that is used twice.
func NameTaken(name string) Problem {
	return fault("name-taken", fmt.Sprintf("the name %s is already used on this page", name), "Choose another name; each may be used only once on a page.")
}

// DataAlone reports a data file's name outside a data function.
func DataAlone(name string) Problem {
	return fault("data-alone", fmt.Sprintf("%s is a data file, not a value", name), "Use lookup("+name+".result, "+name+".key, key).")
}

// ColumnAlone reports a column outside a data function.
func ColumnAlone(name string) Problem {
	return fault("column-alone", fmt.Sprintf("the column %s is used outside a data function", name), "Use lookup or interpolate to take one value from it.")
}

// RowsOfKind reports a column that a function over rows cannot take.
func RowsOfKind(function, column, kind string) Problem {
	hint := "Count the rows with count, or use another column."
	if function == "sum" {
		hint = "Temperatures on a scale, dates and texts cannot be added. Use mean, or count the rows."
	}
	return fault("rows-of-kind", fmt.Sprintf("%s does not work on the column %s, which is %s", function, column, kind), hint)
}

// TooManyGroups reports a function over rows whose keys can choose more sets of rows than a
// page's script may hold.
func TooManyGroups(function, file string, count, most int) Problem {
	return fault("too-many-groups", fmt.Sprintf("a reader can ask this %s for %d different sets of rows of %s; a page holds at most %d", function, count, file, most),
		"Choose the rows by a given value with few choices, or give its range larger steps.")
}

// WantsColumn reports an argument that must be a column.
func WantsColumn(form string) Problem {
	return fault("wants-column", "a column of a data file is needed here", "Write "+form+".")
}

// UnknownData reports a data file that the page does not name.
func UnknownData(name, nearest string) Problem {
	hint := "Data files are named under data:."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-data", fmt.Sprintf("there is no data file named %s", name), hint).offering(nearest)
}

// UnknownColumn reports a column that a file does not have.
func UnknownColumn(file, name, nearest string) Problem {
	hint := "The first row of the file names its columns."
	repaired := ""
	if nearest != "" {
		repaired = file + "." + nearest
		hint = "Did you mean " + file + "." + nearest + "?"
	}
	return fault("unknown-column", fmt.Sprintf("%s has no column %s", file, name), hint).offering(repaired)
}

// ColumnsOfTwoFiles reports a call that mixes data files.
func ColumnsOfTwoFiles(a, b string) Problem {
	return fault("columns-of-two-files", fmt.Sprintf("the columns come from two files, %s and %s", a, b), "All columns of a call come from one file.")
}

// LogOfNothing reports interpolate_log over values that have no logarithm.
func LogOfNothing() Problem {
	return fault("log-of-nothing", "interpolate_log needs columns above zero, and no temperatures on a scale", "Use interpolate, or correct the data.")
}

// RowsWithOneKey reports two rows that a lookup could not tell apart.
func RowsWithOneKey(file string, a, b int) Problem {
	return fault("rows-with-one-key", fmt.Sprintf("lines %d and %d of %s have the same key", a, b, file), "Remove one of the two rows, or add a column to tell them apart.").
		alsoLine(file, a, "the first row of this key").alsoLine(file, b, "the second row of this key")
}

// TradeFails reports a bench formula that does not fit its arguments.
func TradeFails(name, why string) Problem {
	return fault("bench-formula-fails", fmt.Sprintf("%s does not fit these arguments: %s", name, why), "`labsite formula "+name+"` explains it.")
}

// TradeResult reports a bench formula that comes out as the wrong kind.
func TradeResult(name, want, got string) Problem {
	return fault("bench-formula-result", fmt.Sprintf("%s should give %s, but with these arguments it gives %s", name, want, got), "`labsite formula "+name+"` explains it.")
}

// ArgumentNotOwned reports a constant of the shop that nobody answers for.
func ArgumentNotOwned(param, form, argument string, number bool) Problem {
	why := argument + " has no source and no owner"
	if number {
		why = argument + " is a number that nobody owns"
	}
	return fault("not-owned", fmt.Sprintf("%s in %s is a constant that the shop must own, but %s", param, form, why),
		"Make it a given with a source and an owner, or take it from a data file of the shop, and name that here.")
}

// WiderThanTested reports a given that can be set beyond its tested window.
func WiderThanTested(name, from, to, low, high string) Problem {
	return remark("wider-than-tested", fmt.Sprintf("%s can be set from %s to %s, but this was tested from %s to %s only", name, from, to, low, high),
		"Outside the tested window the page refuses. Narrow the range, so that nobody can set what was not tested.")
}
