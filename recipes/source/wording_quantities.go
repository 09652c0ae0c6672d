package source

import (
	"fmt"
	"strings"
)

// Messages about numbers, units and how values are shown.

// NotANumber reports a missing number, or something that is not one.
func NotANumber(word string) Problem {
	if word == "" {
		return fault("number-missing", "a value is missing here", "Write a number and its unit, such as 500 ml.")
	}
	return fault("not-a-number", fmt.Sprintf("%q is not a quantity", word), "Write a number, a space and a unit, such as 500 ml; a plain number has no unit.")
}

// NumberPoint reports .5 and 5. with the number to write.
func NumberPoint(repaired string) Problem {
	return fault("number-point", "a number needs digits on both sides of its point", "Write "+repaired+".").offering(repaired)
}

// NumberTooLong reports numbers beyond the bounds of exact reading.
func NumberTooLong() Problem {
	return fault("number-too-long", "this number is too long", "A number has at most 40 characters and an exponent of at most 99.")
}

// LeadingZeros reports 007.
func LeadingZeros(text, repaired string) Problem {
	return fault("leading-zeros", text+" begins with zeros that mean nothing", "Write "+repaired+".").offering(repaired)
}

// NumberUnderscore reports 1_000.
func NumberUnderscore(repaired string) Problem {
	return fault("number-underscore", "a number has no _ in it", "Write "+repaired+".").offering(repaired)
}

// Hexadecimal reports 0x1F.
func Hexadecimal(decimal string) Problem {
	hint := "Write it as a decimal number."
	if decimal != "" {
		hint = "Write " + decimal + "."
	}
	return fault("hexadecimal", "hexadecimal numbers are not understood here", hint).offering(decimal)
}

// DecimalComma reports 0,5.
func DecimalComma(repaired string) Problem {
	return fault("decimal-comma", "a comma is not a decimal sign here", "Write "+repaired+", with a point.").offering(repaired)
}

// WhichComma reports 1,000, which can be one or a thousand.
func WhichComma(decimals, thousands string) Problem {
	return fault("which-comma", "the comma can separate thousands or decimals", "Write "+decimals+" or "+thousands+".").offering(decimals, thousands)
}

// DigitGroups reports 1,234.5 and 1.000,5; repaired is "" if nobody can tell what
// number it is.
func DigitGroups(repaired string) Problem {
	hint := "Write the number with a decimal point and no other separators."
	if repaired != "" {
		hint = "Write " + repaired + "."
	}
	return fault("digit-groups", "the only separator in a number here is one decimal point", hint).offering(repaired)
}

// ClockTime reports 10:30.
func ClockTime(a, b string) Problem {
	return fault("clock-time", fmt.Sprintf("%s:%s can be minutes or hours", a, b), fmt.Sprintf("Write %s min %s s or %s h %s min.", a, trimZero(b), a, trimZero(b))).
		offering(a+" min "+trimZero(b)+" s", a+" h "+trimZero(b)+" min")
}

// BareRatio reports 1:100.
func BareRatio(a, b string) Problem {
	return fault("bare-ratio", fmt.Sprintf("%s:%s can be read in two ways", a, b), fmt.Sprintf("Write %s+%s for %s of one added to %s of the other, or %s in %s for %s in %s altogether.", a, b, partsWord(a), partsWord(b), a, b, partsWord(a), b)).offering(a+"+"+b, a+" in "+b)
}

// RatioOrTime reports 1:30, where nothing reports whether a dilution or a time is meant.
func RatioOrTime(a, b string) Problem {
	return fault("bare-ratio", fmt.Sprintf("%s:%s can be a dilution or a time", a, b),
		BareRatio(a, b).Hint+fmt.Sprintf(" For a time write %s min %s s or %s h %s min.", a, trimZero(b), a, trimZero(b)))
}

func partsWord(n string) string {
	if n == "1" {
		return "1 part"
	}
	return n + " parts"
}

func trimZero(s string) string {
	if len(s) == 2 && s[0] == '0' {
		return s[1:]
	}
	return s
}

// BlankBeforeUnit reports 500ml.
func BlankBeforeUnit(number, unit string) Problem {
	return fault("blank-before-unit", "a space is missing between the number and what follows", "Write "+number+" "+unit+".").offering(number + " " + unit)
}

// UnknownUnit reports a unit that the table does not have; offers are what may have
// been meant, each with the number before it.
func UnknownUnit(name string, offers ...string) Problem {
	hint := "`labsite units` lists the units."
	if len(offers) > 0 {
		hint = "Did you mean " + either(offers) + "?"
	}
	return fault("unknown-unit", fmt.Sprintf("there is no unit %q", name), hint).offering(offers...)
}

// NotAUnit reports something that is not even a word where a unit alone is expected.
func NotAUnit(text string) Problem {
	if text == "" {
		return fault("not-a-unit", "there is no unit between these brackets", "Write one, such as minutes [min], or leave the brackets out.")
	}
	return fault("not-a-unit", fmt.Sprintf("%q is not a unit", text), "Write a unit, such as minutes [min]; `labsite units` lists them.")
}

// either joins what may be meant: a, b or c.
func either(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// WhichOunce reports a bare oz; before is the number and its space.
func WhichOunce(before string) Problem {
	return fault("which-ounce", "an ounce can be four things", fmt.Sprintf("Write %soz_av (28.35 g), %soz_ap (31.10 g), %sfl_oz (US, 29.57 ml) or %simp_fl_oz (28.41 ml).", before, before, before, before))
}

// WhichMeasure reports a word for two units, one of the US and an imperial one; before
// is the number and its space.
func WhichMeasure(what, before, us, usSize, impSize string) Problem {
	return fault("which-measure", what+" can be two things", fmt.Sprintf("Write %s%s (US, %s) or %simp_%s (imperial, %s).", before, us, usSize, before, us, impSize))
}

// ScaleJoined reports °C/min and J/°C; first where the scale begins the unit.
func ScaleJoined(first bool, repaired string) Problem {
	message := "a temperature on a scale cannot be joined to another unit"
	if !first {
		message = "no unit can be joined to a temperature on a scale"
	}
	return fault("scale-joined", message, "Write "+repaired+".").offering(repaired)
}

// UnitsDoNotJoin reports USD*EUR, stop*stop and powers beyond the ninth.
func UnitsDoNotJoin(text string) Problem {
	return fault("units-do-not-join", fmt.Sprintf("%s is not a unit", text), "A unit can have one currency, or one over another, stops once, and no power beyond the ninth.")
}

// UnitAlone reports a unit without a number in a formula.
func UnitAlone(name, repaired string) Problem {
	hint := "A unit follows a number and a space, such as 1 " + name + "."
	if repaired != "" {
		hint = "Write " + repaired + ", without spaces inside the unit."
	}
	return fault("unit-alone", fmt.Sprintf("the unit %s has no number", name), hint).offering(repaired)
}

// DurationWhole reports 1.5 h 10 min.
func DurationWhole(part string) Problem {
	return fault("duration-whole", part+" has decimals inside a duration", "Days, hours and minutes are whole numbers; only the seconds at the end may have decimals.")
}

// DurationUnit reports 5 min 30.
func DurationUnit(part, unit string) Problem {
	return fault("duration-unit", part+" has no unit inside a duration", "Write "+part+" "+unit+", or put an operator before it.").offering(part + " " + unit)
}

// DurationOrder reports 30 s 2 min.
func DurationOrder() Problem {
	return fault("duration-order", "the parts of a duration are out of order", "Write days, hours, minutes, seconds in that order, each once: 1 h 5 min, 10 min 30 s.")
}

// DurationBelow reports 1 h 90 min.
func DurationBelow(part string, most int, unit, of string) Problem {
	return fault("duration-below", fmt.Sprintf("%s is a whole %s or more", part, of), fmt.Sprintf("After the %s at most %d %s may follow; carry the rest over.", of, most-1, unit))
}

// OperatorMissing reports two values side by side.
func OperatorMissing(before string) Problem {
	return fault("operator-missing", fmt.Sprintf("an operator is missing before %s", before), "Write +, -, * or / between the two.")
}

// FractionByZero reports 1/0.
func FractionByZero() Problem {
	return fault("fraction-by-zero", "a fraction has 0 as its denominator", "Write the number that was meant.")
}

// FractionTooLarge reports 1 5/3.
func FractionTooLarge(text string) Problem {
	return fault("fraction-too-large", text+" has a fraction of one or more after its whole number", "Carry the whole part over, such as 2 2/3 for 1 5/3.")
}

// DilutionBlanks reports 1 + 100 where a value is written.
func DilutionBlanks(repaired string) Problem {
	return fault("dilution-blanks", "a dilution has no spaces in it", "Write "+repaired+".").offering(repaired)
}

// DilutionThreeParts reports 1+2+100.
func DilutionThreeParts(text string) Problem {
	return fault("dilution-three-parts", text+" has three parts", "Give each part a given value of its own and compute with them.")
}

// DilutionEmpty reports 0+0 and 2 in 1.
func DilutionEmpty(text string) Problem {
	return fault("dilution-empty", text+" is not a dilution", "The parts must add up to more than zero, and a part cannot be larger than the whole.")
}

// DilutionInFormula reports 1+100 inside a formula.
func DilutionInFormula(text, a, added string) Problem {
	if !strings.Contains(text, "+") {
		return fault("dilution-in-formula", text+" is a dilution, and a formula has no in", fmt.Sprintf("Write dilution(%s, %s).", a, added))
	}
	return fault("dilution-in-formula", text+" is a dilution, and a formula reads + as a sum", fmt.Sprintf("Write dilution(%s, %s); for a sum put spaces around the +.", a, added))
}

// RangeDots reports a range without dots between its ends.
func RangeDots() Problem {
	return fault("range-dots", "a range needs two dots between its ends", "Write 18 °C .. 24 °C, or 18 °C .. 24 °C by 1 °C.")
}

// RangeOrder reports a range that begins with its larger end.
func RangeOrder(low, high string) Problem {
	return fault("range-order", "the range begins with its larger end", "Write "+low+" .. "+high+".").offering(low + " .. " + high)
}

// EndsTurned reports a lower end that is not below the upper one, each with its key.
func EndsTurned(lowKey, low, highKey, high string) Problem {
	return fault("range-order", fmt.Sprintf("%s is not less than %s: %s and %s", lowKey, highKey, low, high),
		fmt.Sprintf("Write %s: %s, %s: %s, or correct the one that is wrong.", lowKey, high, highKey, low))
}

// KindsDiffer reports two values that must be of one kind.
func KindsDiffer(what, a, b string) Problem {
	return fault("kinds-differ", fmt.Sprintf("%s are of different kinds: %s and %s", what, a, b), "Give both in units of one kind.")
}

// StepNotPositive reports a step of zero or less.
func StepNotPositive() Problem {
	return fault("step-not-positive", "a step must be more than zero", "Write a step such as 50 ml or 0.5 K.")
}

// ToleranceNegative reports ± -1.
func ToleranceNegative() Problem {
	return fault("tolerance-negative", "a tolerance cannot be negative", "Write it without the minus.")
}

// PercentOfTemperature reports 20 °C ± 1 %.
func PercentOfTemperature() Problem {
	return fault("percent-of-temperature", "a percentage of a temperature means nothing", "Write the tolerance as a difference, such as ± 0.5 K.")
}

// TextAfterValue reports something after a whole value.
func TextAfterValue(rest string) Problem {
	return fault("text-after-value", fmt.Sprintf("%q follows the value and is not understood", rest), "A value is a number and a unit. For several, use a list or separate entries.")
}

// ShowKind reports a show that does not fit its figure.
func ShowKind(show, of, kind string) Problem {
	return fault("show-kind", fmt.Sprintf("%s shows %s, but this is %s", show, of, kind), "Show it in a unit of its own kind, or correct the formula.")
}

// ShowNothing reports a show beside a yes/no or a text.
func ShowNothing(kind string) Problem {
	return fault("show-nothing", "a show says how a number is written, but this is "+kind, "Leave the show out.")
}

// ShowUsual reports usual beside a kind without bands.
func ShowUsual(kind string) Problem {
	return fault("show-usual", "usual has bands for volumes, masses and times, but this is "+kind, "Write a step such as 0.1, or a unit.")
}

// ShowEmpty reports a show without text.
func ShowEmpty() Problem {
	return fault("show-empty", "the show is empty", "Write a step such as 0.1 ml, or a unit.")
}

// ShowUnknown reports a show that is neither a unit nor a form.
func ShowUnknown(text string, offers ...string) Problem {
	hint := "Write a step (0.1 ml), a unit (fl_oz), or one of 1+n, 1/n s, f/n, usual; weekday for a date."
	if len(offers) > 0 {
		hint = fmt.Sprintf("Did you mean %s? A show is a step (0.1 ml), a unit, or one of 1+n, 1/n s, f/n, usual.", either(offers))
	}
	return fault("show-unknown", fmt.Sprintf("%q is not a way to show a value", text), hint)
}

// ShowTooFine reports a step with more decimals than a float has.
func ShowTooFine(most int) Problem {
	return fault("show-too-fine", fmt.Sprintf("this step has more than %d decimals", most), "Write a step that somebody could measure, or a smaller unit.")
}

// ShowFraction reports a show such as 2/3 stop or 1/3 ml.
func ShowFraction() Problem {
	return fault("show-fraction", "only stops are shown in fractions, in steps of one third, one half and so on", "Write 1/3 stop, or a decimal step.")
}
