package script

import (
	"strings"

	"labsite/recipes/source"
)

// wording gives the runtime the messages of package source that a reader can meet, as code, message
// and hint. They are made by that package's functions, with marks ⟦0⟧, ⟦1⟧ … for the arguments.
func wording() map[string][3]string {
	const a, b, c, d = "⟦0⟧", "⟦1⟧", "⟦2⟧", "⟦3⟧"
	out := map[string][3]string{}
	put := func(key string, p source.Problem) { out[key] = [3]string{p.Code, p.Message, p.Hint} }
	put("missing", source.NotANumber(""))
	put("number", source.NotANumber(a))
	put("point", source.NumberPoint(a))
	put("long", source.NumberTooLong())
	put("zeros", source.LeadingZeros(a, b))
	put("underscore", source.NumberUnderscore(a))
	put("hex", source.Hexadecimal(a))
	put("hexlong", source.Hexadecimal(""))
	put("comma", source.DecimalComma(a))
	put("eithercomma", source.WhichComma(a, b))
	put("groups", source.DigitGroups(a))
	put("nogroups", source.DigitGroups(""))
	put("clock", source.ClockTime(a, b))
	put("ratio", source.BareRatio(a, b))
	put("either", source.RatioOrTime(a, b))
	put("nodate", source.DateMissing())
	put("noday", source.NoSuchDay(a))
	put("dateform", source.DateForm(a, "", []string{b}, 0))
	put("datesign", source.DateNegated(a))
	put("datetime", source.DateWithTime(a))
	put("blank", source.BlankBeforeUnit(a, b))
	put("unit", source.UnknownUnit(a, b))
	put("nounit", source.UnknownUnit(a))
	put("measure", source.WhichMeasure(a, b, c, d, "⟦4⟧"))
	put("ounce", source.WhichOunce(a))
	put("scalefirst", source.ScaleJoined(true, a))
	put("scale", source.ScaleJoined(false, a))
	put("join", source.UnitsDoNotJoin(a))
	put("whole", source.DurationWhole(a))
	put("part", source.DurationUnit(a, b))
	put("order", source.DurationOrder())
	most := source.DurationBelow(a, 70001, c, d)
	most.Hint = strings.ReplaceAll(most.Hint, "70000", b)
	put("below", most)
	put("operator", source.OperatorMissing(a))
	put("byzero", source.FractionByZero())
	put("large", source.FractionTooLarge(a))
	put("blanks", source.DilutionBlanks(a))
	put("three", source.DilutionThreeParts(a))
	put("empty", source.DilutionEmpty(a))
	put("after", source.TextAfterValue(a))
	put("oneof", source.NotOneOf(a, b, []string{"yes", "no"}))
	put("choice", source.NotAChoice(a, "", []string{b}))
	put("needs", source.UnitMissing(a, b, c))
	put("kind", source.WantsKind(a, b, c))
	put("fixed", source.GivenFixed(a, b))
	put("range", source.OutOfRange(a, b, c, d))
	put("wholes", source.WholeOnly(a, b))
	for key, message := range reasons(a, b, c) {
		put(key, source.Problem{Message: message})
	}
	return out
}

// reasons are the texts of refusals, with up to three marks.
func reasons(a, b, c string) map[string]string {
	return map[string]string{
		"norow": source.NotInData(a, b, false), "beyond": source.NotInData(a, b, true),
		"norows": source.NoRows(a, ""), "norowsof": source.NoRows(a, b),
		"fewrows": source.FewRows(a, ""), "fewrowsof": source.FewRows(a, b),
		"outside": source.UseOutside(a, b, c),
	}
}
