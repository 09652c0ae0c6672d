package source

import "fmt"

// Messages about given values.

// WithinOfKind reports a within that is not a difference of the given's kind.
func WithinOfKind(name, kind string) Problem {
	return fault("within-kind", "within says how far off the true value of "+name+" may be, so it must be "+kind+" above zero", "For example, within: 0.3 K for a thermometer, or within: 0.1 ml for the mark of a syringe.")
}

// ChoicesAndRange reports from, to or step beside choices.
func ChoicesAndRange(key string) Problem {
	return fault("choices-and-range", key+" does not go with choices", "Give either choices, or from and to.")
}

// StepAlone reports a step without a range.
func StepAlone() Problem {
	return fault("step-alone", "a step needs a range", "Add from and to, or leave the step out.")
}

// HalfRange reports from without to, or to without from.
func HalfRange(missing string) Problem {
	return fault("half-range", "a range needs both ends", "Add "+missing+".")
}

// OutsideOwnRange reports a page's own value outside its range.
func OutsideOwnRange(value, from, to string) Problem {
	return fault("outside-own-range", fmt.Sprintf("the value %s lies outside its own range, %s to %s", value, from, to), "Correct the value or the range.")
}

// OutOfRange reports a value that a given does not take.
func OutOfRange(name, value, from, to string) Problem {
	return fault("out-of-range", fmt.Sprintf("%s is tested from %s to %s, not at %s", name, from, to, value), "Choose a value in that range.")
}

// WholeOnly reports a value between whole numbers.
func WholeOnly(name, value string) Problem {
	return fault("whole-only", fmt.Sprintf("%s takes whole numbers, not %s", name, value), "Choose a whole number.")
}

// GivenFixed reports a value set for a given that is fixed.
func GivenFixed(name, value string) Problem {
	return fault("given-fixed", fmt.Sprintf("%s is fixed at %s on this page", name, value), "Only given values with a range or choices can be set.")
}

// UnitMissing reports 68 where a temperature is wanted.
func UnitMissing(name, value, unit string) Problem {
	if unit == "°C" || unit == "°F" {
		return fault("unit-missing", fmt.Sprintf("%s needs a unit", name), "Write "+value+" °C or "+value+" °F.").offering(value+" °C", value+" °F")
	}
	return fault("unit-missing", fmt.Sprintf("%s needs a unit", name), "Write "+value+" "+unit+".").offering(value + " " + unit)
}

// NoChoices reports an empty list of choices.
func NoChoices() Problem {
	return fault("no-choices", "there are no choices", "Write a list such as [1+50, 1+100].")
}

// ChoiceTwice reports a choice that is there twice.
func ChoiceTwice(text string) Problem {
	return fault("choice-twice", text+" is among the choices twice", "Keep one of the two.")
}

// UnknownGiven reports a name under at that is not a given.
func UnknownGiven(name, nearest string) Problem {
	hint := "Only given values can be set."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-given", fmt.Sprintf("there is no given value %s", name), hint).offering(nearest)
}

// ExampleAndValue reports a given with both an example and a value.
func ExampleAndValue(name string) Problem {
	return fault("example-and-value", name+" has an example and a value", "A value that somebody reads off has an example; one that the page gives has a value. Keep one.")
}

// ReadingUnbounded reports a reading that may be anything.
func ReadingUnbounded(name string) Problem {
	return fault("reading-unbounded", "the reading "+name+" has no range", "Give from: and to: for what can be read off, or list choices:, so that the page can be tried over all of it.")
}

// ElseBraces reports braces in the text that replaces a figure.
func ElseBraces() Problem {
	return fault("else-braces", "else takes no braces", "Write in plain words what to show there; the page's text can say more.")
}
