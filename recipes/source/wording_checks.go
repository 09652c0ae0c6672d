package source

import "fmt"

// Messages about figures, limits and checks.

// TooManyFigures reports a page beyond its bound.
func TooManyFigures(most int) Problem {
	return fault("too-many-figures", fmt.Sprintf("a page has at most %d figures", most), "Split the page in two; one can draw on the other.")
}

// Cycle reports figures that need one another.
func Cycle(path string) Problem {
	return fault("cycle", "these figures need one another: "+path, "One of them must be worked out without the others.")
}

// NotFinite reports a formula that gives no number.
func NotFinite(name, at string) Problem {
	return fault("not-finite", fmt.Sprintf("%s gives no finite number at %s", name, at), "Something is divided by zero, overflows, or is the root or logarithm of a negative number. Guard it with a limit that refuses, or correct the range.")
}

// RefusedAtOwn reports a page that refuses its own values.
func RefusedAtOwn(why string) Problem {
	return fault("refused-at-own-values", "the page refuses its own values: "+why, "Give the page values at which its recipe holds.")
}

// RefusedAlways reports a page that refuses in every case.
func RefusedAlways() Problem {
	return fault("refused-always", "the page refuses in every case of its ranges", "Correct the limit or the ranges.")
}

// LimitTwice reports a limit with two texts.
func LimitTwice() Problem {
	return fault("limit-twice", "a limit has only one of notice, caution, warning and refuse", "Make two limits.")
}

// LimitWithout reports a limit that says nothing.
func LimitWithout() Problem {
	return fault("limit-without-text", "this limit says nothing when it holds", "Add notice, caution, warning or refuse, and a text.")
}

// LimitNever reports a limit that holds in no case.
func LimitNever(cases int, proved bool) Problem {
	message := "this limit holds in none of " + countCases(cases)
	if proved {
		message = "this limit never holds, whatever is set (proved)"
	}
	return remark("limit-never", message, "Correct its formula, widen the ranges, or leave it out.")
}

// countCases words a number of cases.
func countCases(n int) string {
	if n == 1 {
		return "1 case"
	}
	return fmt.Sprintf("%d cases", n)
}

// CheckEmpty reports a check without expect and always.
func CheckEmpty() Problem {
	return fault("check-empty", "this check tests nothing", "Add expect and source, or always.")
}

// CheckBoth reports a check that mixes its two forms.
func CheckBoth() Problem {
	return fault("check-both", "always cannot be combined with other keys in a check", "Make two checks: one with at, expect and source, one with always.")
}

// ExpectWord reports something that cannot be expected.
func ExpectWord(word string) Problem {
	return fault("expect-word", fmt.Sprintf("%q cannot be expected", word), "Write figures and values, such as {concentrate: 5.0 ml}, or refused, notice, caution or warning, or no notice for none of them.")
}

// UnknownFigure reports an expected name that is not a figure.
func UnknownFigure(name, nearest string) Problem {
	hint := "It must be the name of a figure on this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-figure", fmt.Sprintf("there is no figure %s", name), hint).offering(nearest)
}

// CheckFails reports an expected value that was not found.
func CheckFails(name, at, expected, found string) Problem {
	return fault("check-fails", fmt.Sprintf("at %s, %s should be %s but is %s", at, name, expected, found), "Correct the formula, or the expected value if its source says otherwise.")
}

// CheckShownOtherwise reports a figure that has the expected value but is shown rounded.
func CheckShownOtherwise(name, at, expected, shown string) Problem {
	return fault("check-fails", fmt.Sprintf("at %s, %s is %s, but shown as %s", at, name, expected, shown),
		fmt.Sprintf("An expected value is what is shown: write %s. To compare the unrounded value with its source, give it a tolerance, as in %s ± 1 %%.", shown, expected))
}

// CheckFailsLimit reports an expected limit that does not hold.
func CheckFailsLimit(kind, at, found string) Problem {
	want := "a " + kind + " should hold"
	if kind == "refuse" {
		want = "the page should refuse"
	}
	return fault("check-fails", fmt.Sprintf("at %s, %s, but %s", at, want, found), "Correct the limit's formula, or the check.")
}

// CheckRefused reports an expected value where the page refuses.
func CheckRefused(at, why string) Problem {
	return fault("check-refused", fmt.Sprintf("at %s the page refuses: %s", at, why), "Choose values at which the recipe holds, or write expect: refused.")
}

// AlwaysFails reports a rule that does not hold in some case; sides are the values found
// on its two sides, "" if it compares nothing.
func AlwaysFails(at, sides string, failing, cases int) Problem {
	if sides != "" {
		at += ", with " + sides
	}
	return fault("always-fails", fmt.Sprintf("this does not hold at %s (and in %d of %s altogether)", at, failing, countCases(cases)), "Correct the formulas, add a limit that refuses such cases, or narrow the ranges.")
}

// AlwaysConstant reports a rule that depends on nothing that can be set.
func AlwaysConstant() Problem {
	return remark("always-constant", "this cannot fail: nothing in it depends on a value that can be set", "Test something that the given values change.")
}

// NotInData is the reason that a page gives where its data end.
func NotInData(file, where string, beyond bool) string {
	if beyond {
		return "Nobody tested " + where + ": it lies outside the points of " + file + "."
	}
	return "Nobody tested " + where + ": " + file + " has no row for it."
}

// FewRows is the reason for a case in which a deviation has only one row.
func FewRows(file, where string) string {
	if where == "" {
		return "A deviation needs two rows or more, and " + file + " has one."
	}
	return "A deviation needs two rows or more, and " + file + " has one for " + where + "."
}

// NoRows is the reason for a case in which a function over rows has no rows.
func NoRows(file, where string) string {
	if where == "" {
		return file + " has no rows yet."
	}
	return file + " has no row for " + where + "."
}

// NotFiniteNear reports a formula that gives no number between two values that were tried.
func NotFiniteNear(name, at string) Problem {
	return fault("not-finite", fmt.Sprintf("%s gives no finite number near %s, between values that were tried", name, at), NotFinite("", "").Hint)
}

// StepNegative reports a step that takes a negative time.
func StepNegative(at, time string) Problem {
	return fault("step-negative", "this step takes a negative time, "+time+", at "+at, "Correct its formula, or add a limit that refuses such values.")
}
