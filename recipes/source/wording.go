package source

import (
	"fmt"
	"strings"
)

// This file holds the wording of every diagnostic, a function each. A message
// says what is wrong in the writer's terms, its hint how to mend it. Codes are
// short names that machines may rely on.

func fault(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Error, Message: message, Hint: hint}
}

func remark(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Report, Message: message, Hint: hint}
}

func advice(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Advice, Message: message, Hint: hint}
}

// Files.

// NotUTF8 is said of a file whose bytes are no UTF-8 text.
func NotUTF8() Problem {
	return fault("not-utf8", "this file is not UTF-8 text", "Save it again with the encoding UTF-8.")
}

// ControlCharacter is said of a character that no text needs.
func ControlCharacter(r rune) Problem {
	return fault("control-character", fmt.Sprintf("the control character U+%04X stands here", r), "Delete it; it may be invisible in the editor.")
}

// Numbers and quantities.

// NotANumber is said where a number was to stand.
func NotANumber(word string) Problem {
	if word == "" {
		return fault("number-missing", "a value is missing here", "Write a number and its unit, such as 500 ml.")
	}
	return fault("not-a-number", fmt.Sprintf("%q is not a quantity", word), "Write a number, a blank and a unit, such as 500 ml; a plain number has no unit.")
}

// NumberPoint is said of .5 and 5. with the number to write.
func NumberPoint(repaired string) Problem {
	return fault("number-point", "a number has digits on both sides of its point", "Write "+repaired+".")
}

// NumberTooLong is said of numbers beyond the bounds of exact reading.
func NumberTooLong() Problem {
	return fault("number-too-long", "this number is too long", "A number has at most 40 characters and an exponent of at most 99.")
}

// LeadingZeros is said of 007.
func LeadingZeros(text, repaired string) Problem {
	return fault("leading-zeros", text+" begins with zeros that say nothing", "Write "+repaired+".")
}

// NumberUnderscore is said of 1_000.
func NumberUnderscore(repaired string) Problem {
	return fault("number-underscore", "a number has no _ in it", "Write "+repaired+".")
}

// Hexadecimal is said of 0x1F.
func Hexadecimal(decimal string) Problem {
	hint := "Write it as a decimal number."
	if decimal != "" {
		hint = "Write " + decimal + "."
	}
	return fault("hexadecimal", "a hexadecimal number is not understood here", hint)
}

// DecimalComma is said of 0,5.
func DecimalComma(repaired string) Problem {
	return fault("decimal-comma", "a comma is not a decimal sign here", "Write "+repaired+", with a point.")
}

// WhichComma is said of 1,000, which can be one or a thousand.
func WhichComma(decimals, thousands string) Problem {
	return fault("which-comma", "the comma can part thousands or decimals", "Write "+decimals+" or "+thousands+".")
}

// DigitGroups is said of 1,234.5 and 1.000,5; repaired is "" where nobody can tell what
// number it is.
func DigitGroups(repaired string) Problem {
	hint := "Write the number with a decimal point and no other separators."
	if repaired != "" {
		hint = "Write " + repaired + "."
	}
	return fault("digit-groups", "nothing parts the digits of a number here but one decimal point", hint)
}

// ClockTime is said of 10:30.
func ClockTime(a, b string) Problem {
	return fault("clock-time", fmt.Sprintf("%s:%s can be minutes or hours", a, b), fmt.Sprintf("Write %s min %s s or %s h %s min.", a, trimZero(b), a, trimZero(b)))
}

// BareRatio is said of 1:100.
func BareRatio(a, b string) Problem {
	return fault("bare-ratio", fmt.Sprintf("%s:%s is read in two ways", a, b), fmt.Sprintf("Write %s+%s for %s of one added to %s of the other, or %s in %s for %s in %s altogether.", a, b, partsWord(a), partsWord(b), a, b, partsWord(a), b))
}

// RatioOrTime is said of 1:30, where nothing tells whether a dilution or a time is meant.
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

// BlankBeforeUnit is said of 500ml.
func BlankBeforeUnit(number, unit string) Problem {
	return fault("blank-before-unit", "a blank is missing between the number and what follows", "Write "+number+" "+unit+".")
}

// UnknownUnit is said of a unit that the table does not have; offers are what may have
// been meant, each with the number before it.
func UnknownUnit(name string, offers ...string) Problem {
	hint := "`labsite units` lists the units."
	if len(offers) > 0 {
		hint = "Did you mean " + either(offers) + "?"
	}
	return fault("unknown-unit", fmt.Sprintf("there is no unit %q", name), hint)
}

// NotAUnit is said of something that is not even a word where a unit alone stands.
func NotAUnit(text string) Problem {
	if text == "" {
		return fault("not-a-unit", "there is no unit between these brackets", "Write one, such as minutes [min], or leave the brackets out.")
	}
	return fault("not-a-unit", fmt.Sprintf("%q is no unit", text), "Write a unit, such as minutes [min]; `labsite units` lists them.")
}

// either joins what may be meant: a, b or c.
func either(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// WhichOunce is said of a bare oz; before is the number and its blank.
func WhichOunce(before string) Problem {
	return fault("which-ounce", "an ounce can be four things", fmt.Sprintf("Write %soz_av (28.35 g), %soz_ap (31.10 g), %sfl_oz (US, 29.57 ml) or %simp_fl_oz (28.41 ml).", before, before, before, before))
}

// WhichMeasure is said of a word for two units, one of the US and an imperial one; before
// is the number and its blank.
func WhichMeasure(what, before, us, usSize, impSize string) Problem {
	return fault("which-measure", what+" can be two things", fmt.Sprintf("Write %s%s (US, %s) or %simp_%s (imperial, %s).", before, us, usSize, before, us, impSize))
}

// ScaleJoined is said of °C/min and J/°C; first where the scale begins the unit.
func ScaleJoined(first bool, repaired string) Problem {
	message := "a temperature on a scale joins no other unit"
	if !first {
		message = "no unit joins a temperature on a scale"
	}
	return fault("scale-joined", message, "Write "+repaired+".")
}

// UnitsDoNotJoin is said of USD/EUR, stop*stop and powers beyond the ninth.
func UnitsDoNotJoin(text string) Problem {
	return fault("units-do-not-join", fmt.Sprintf("%s is no unit", text), "A unit holds one currency, stops once, and no power beyond the ninth.")
}

// UnitAlone is said of a unit without a number in a formula.
func UnitAlone(name, repaired string) Problem {
	hint := "A unit follows a number and a blank, such as 1 " + name + "."
	if repaired != "" {
		hint = "Write " + repaired + ", without blanks inside the unit."
	}
	return fault("unit-alone", fmt.Sprintf("the unit %s stands without a number", name), hint)
}

// DurationWhole is said of 1.5 h 10 min.
func DurationWhole(part string) Problem {
	return fault("duration-whole", part+" has decimals inside a duration", "Days, hours and minutes are whole numbers; only the seconds at the end may have decimals.")
}

// DurationUnit is said of 5 min 30.
func DurationUnit(part, unit string) Problem {
	return fault("duration-unit", part+" has no unit inside a duration", "Write "+part+" "+unit+", or put an operator before it.")
}

// DurationOrder is said of 30 s 2 min.
func DurationOrder() Problem {
	return fault("duration-order", "the parts of a duration are out of order", "Write days, hours, minutes, seconds in that order, each once: 1 h 5 min, 10 min 30 s.")
}

// DurationBelow is said of 1 h 90 min.
func DurationBelow(part string, most int, unit, of string) Problem {
	return fault("duration-below", fmt.Sprintf("%s is a whole %s or more", part, of), fmt.Sprintf("After the %s at most %d %s may follow; carry the rest over.", of, most-1, unit))
}

// OperatorMissing is said where two values stand side by side.
func OperatorMissing(before string) Problem {
	return fault("operator-missing", fmt.Sprintf("an operator is missing before %s", before), "Write +, -, * or / between the two.")
}

// FractionByZero is said of 1/0.
func FractionByZero() Problem {
	return fault("fraction-by-zero", "a fraction has 0 below its line", "Write the number that was meant.")
}

// FractionTooLarge is said of 1 5/3.
func FractionTooLarge(text string) Problem {
	return fault("fraction-too-large", text+" has a fraction of one or more beside its whole number", "Carry the whole part over, such as 2 2/3 for 1 5/3.")
}

// DilutionBlanks is said of 1 + 100 where a value is written.
func DilutionBlanks(repaired string) Problem {
	return fault("dilution-blanks", "a dilution has no blanks in it", "Write "+repaired+".")
}

// DilutionThreeParts is said of 1+2+100.
func DilutionThreeParts(text string) Problem {
	return fault("dilution-three-parts", text+" has three parts", "Give each part a given value of its own and compute with them.")
}

// DilutionEmpty is said of 0+0 and 2 in 1.
func DilutionEmpty(text string) Problem {
	return fault("dilution-empty", text+" is no dilution", "The parts must add up to more than nothing, and a part cannot be larger than the whole.")
}

// DilutionInFormula is said of 1+100 inside a formula.
func DilutionInFormula(text, a, added string) Problem {
	if !strings.Contains(text, "+") {
		return fault("dilution-in-formula", text+" is a dilution, and a formula has no in", fmt.Sprintf("Write dilution(%s, %s).", a, added))
	}
	return fault("dilution-in-formula", text+" is a dilution, and a formula reads + as a sum", fmt.Sprintf("Write dilution(%s, %s); for a sum put blanks around the +.", a, added))
}

// RangeDots is said of a range without its dots.
func RangeDots() Problem {
	return fault("range-dots", "a range needs two dots between its ends", "Write 18 °C .. 24 °C, or 18 °C .. 24 °C by 1 °C.")
}

// RangeOrder is said of a range that begins with its larger end.
func RangeOrder(low, high string) Problem {
	return fault("range-order", "the range begins with its larger end", "Write "+low+" .. "+high+".")
}

// EndsTurned is said of two ends, each with its key, whose smaller one is not the smaller.
func EndsTurned(lowKey, low, highKey, high string) Problem {
	return fault("range-order", fmt.Sprintf("%s is not less than %s: %s and %s", lowKey, highKey, low, high),
		fmt.Sprintf("Write %s: %s, %s: %s, or mend the one that is wrong.", lowKey, high, highKey, low))
}

// KindsDiffer is said of two values that must be of one kind.
func KindsDiffer(what, a, b string) Problem {
	return fault("kinds-differ", fmt.Sprintf("%s are of two kinds: %s and %s", what, a, b), "Give both in units of one kind.")
}

// StepNotPositive is said of a step of nothing or less.
func StepNotPositive() Problem {
	return fault("step-not-positive", "a step must be more than nothing", "Write a step such as 50 ml or 0.5 K.")
}

// ToleranceNegative is said of ± -1.
func ToleranceNegative() Problem {
	return fault("tolerance-negative", "a tolerance cannot be negative", "Write it without the minus.")
}

// PercentOfTemperature is said of 20 °C ± 1 %.
func PercentOfTemperature() Problem {
	return fault("percent-of-temperature", "a share of a temperature means nothing", "Write the tolerance as a difference, such as ± 0.5 K.")
}

// TextAfterValue is said of something behind a whole value.
func TextAfterValue(rest string) Problem {
	return fault("text-after-value", fmt.Sprintf("%q follows the value and is not understood", rest), "A value is a number and a unit. For several, use a list or separate entries.")
}

// Showing.

// ShowKind is said of a show that does not fit its figure.
func ShowKind(show, of, kind string) Problem {
	return fault("show-kind", fmt.Sprintf("%s shows %s, but this is %s", show, of, kind), "Show it in a unit of its own kind, or mend the formula.")
}

// ShowNothing is said of a show beside a yes/no or a text.
func ShowNothing(kind string) Problem {
	return fault("show-nothing", "a show says how a number is written, but this is "+kind, "Leave the show out.")
}

// ShowUsual is said of usual beside a kind without bands.
func ShowUsual(kind string) Problem {
	return fault("show-usual", "usual has bands for volumes, masses and times, but this is "+kind, "Write a step such as 0.1, or a unit.")
}

// ShowEmpty is said of a show without text.
func ShowEmpty() Problem {
	return fault("show-empty", "the show is empty", "Write a step such as 0.1 ml, or a unit.")
}

// ShowUnknown is said of a show that is no unit and no form.
func ShowUnknown(text string, offers ...string) Problem {
	hint := "Write a step (0.1 ml), a unit (fl_oz), or one of 1+n, 1/n s, f/n, usual."
	if len(offers) > 0 {
		hint = fmt.Sprintf("Did you mean %s? A show is a step (0.1 ml), a unit, or one of 1+n, 1/n s, f/n, usual.", either(offers))
	}
	return fault("show-unknown", fmt.Sprintf("%q is no way to show a value", text), hint)
}

// ShowTooFine is said of a step with more decimals than a float has.
func ShowTooFine(most int) Problem {
	return fault("show-too-fine", fmt.Sprintf("this step has more than %d decimals", most), "Write a step that somebody could measure, or a smaller unit.")
}

// ShowFraction is said of a show such as 2/3 stop or 1/3 ml.
func ShowFraction() Problem {
	return fault("show-fraction", "only stops are shown in fractions, and one k-th at a time", "Write 1/3 stop, or a decimal step.")
}

// The files of a theme.

// ThemeSyntax is said of a template that does not read as one.
func ThemeSyntax(detail string) Problem {
	return fault("theme-syntax", "this template cannot be read: "+detail, "Templates are Go html/template files: look for a missing {{end}}, quote or brace in this line or the one before it.")
}

// ThemeFunction is said of a function that templates do not have.
func ThemeFunction(name, nearest string) Problem {
	return fault("theme-function", "templates have no function called "+name, offer(nearest, "Only the built-in functions of Go templates are there, such as len, index and printf."))
}

// ThemeField is said of a value that the data at this place does not hold.
func ThemeField(name, view, nearest string) Problem {
	return fault("theme-field", view+" has no "+name, offer(nearest, "render/site/view.go and the files beside it list what templates are given."))
}

// ThemeTemplate is said of a template that is asked for and not there.
func ThemeTemplate(name, nearest string) Problem {
	return fault("theme-template", "there is no template called "+name, offer(nearest, "A template is a file of that name, ending in .html, in the theme folder."))
}

// ThemeEmpty is said of a value asked of something that may be empty.
func ThemeEmpty(field string) Problem {
	return fault("theme-empty", field+" is asked of something that is empty here", "Ask first whether it is there, with {{with}} or {{if}}.")
}

// ThemeRun is said of any other failure while a template is filled.
func ThemeRun(detail string) Problem {
	return fault("theme-run", "this template cannot be filled: "+detail, "")
}

// ThemeUnsafe is said of a template that puts a value where it cannot be made safe.
func ThemeUnsafe(detail string) Problem {
	return fault("theme-unsafe", "a value in this template cannot be made safe: "+detail, "Close every tag and quote in the file that opens it, and put values only in text, in quoted attributes and in addresses.")
}

// ThemeDrops is said of a template that leaves out a safety message.
func ThemeDrops(what string) Problem {
	return fault("theme-drops", "this template leaves out "+what, "A theme may change how a safety message looks, but every one of them must stand on the page.")
}

// ThemeOrder is said of a template that puts numbers above safety messages.
func ThemeOrder(what string) Problem {
	return fault("theme-order", "this template puts "+what+" below the first number", "Hazards and cautions stand above every number of the page.")
}

// ThemeFixed is said of a theme's file that would replace one that must stay.
func ThemeFixed(name string) Problem {
	return fault("theme-fixed", name+" cannot be replaced", "It keeps safety messages in sight. Put other rules in lab.css.")
}

// ThemeFolder is said of a theme folder that cannot be read.
func ThemeFolder(detail string) Problem {
	return fault("theme-folder", "the theme folder cannot be read: "+detail, "theme in labsite.yaml names a folder.")
}

// ThemeNoUse is said of a file in a theme folder that nothing uses.
func ThemeNoUse(name, nearest string) Problem {
	return remark("theme-no-use", "nothing uses the template "+name, offer(nearest, "It is used when another template asks for it by its name."))
}

func offer(nearest, otherwise string) string {
	if nearest == "" {
		return otherwise
	}
	return "Did you mean " + nearest + "?"
}

// Formulas: reading.

// FormulaEmpty is said of a formula without text.
func FormulaEmpty() Problem {
	return fault("formula-empty", "the formula is empty", "Write what is to be worked out, such as tank * strength.")
}

// FormulaTooLong is said of a formula beyond its bound of characters.
func FormulaTooLong(most int) Problem {
	return fault("formula-too-long", fmt.Sprintf("the formula has more than %d characters", most), "Split it into figures that use one another.")
}

// FormulaTooLarge is said of a formula beyond its bound of parts.
func FormulaTooLarge(most int) Problem {
	return fault("formula-too-large", fmt.Sprintf("the formula has more than %d parts", most), "Split it into figures that use one another.")
}

// FormulaTooDeep is said of a formula nested beyond its bound.
func FormulaTooDeep(most int) Problem {
	return fault("formula-too-deep", fmt.Sprintf("the formula is nested more than %d levels deep", most), "Split it into figures that use one another.")
}

// FormulaUnreadable is said where nothing better is known.
func FormulaUnreadable() Problem {
	return fault("formula-unreadable", "the formula cannot be read", "A formula has names, quantities, operators and calls, such as round(tank / 101, 0.1 ml).")
}

// FormulaEndsEarly is said where something must follow the last word.
func FormulaEndsEarly(last string) Problem {
	return fault("formula-ends-early", fmt.Sprintf("the formula ends after %s, but something must follow", last), "Finish the formula, or take the last sign away.")
}

// BracketOpen is said of a bracket that is not closed.
func BracketOpen() Problem {
	return fault("bracket-open", "a bracket is opened and not closed", "Add the missing ).")
}

// UnexpectedSign is said of a sign that cannot stand where it does.
func UnexpectedSign(sign string) Problem {
	hint := "Look at what stands before it: an operand or a bracket is missing, or one too many."
	return fault("unexpected-sign", fmt.Sprintf("%s cannot stand here", sign), hint)
}

// BracesForm is said of braces that belong to no if.
func BracesForm() Problem {
	return fault("braces-form", "braces stand only in if … { … } else { … }", "Write if condition { value } else { other value }, or condition ? value : other value.")
}

// NothingAfterElse is said of an operator-less follower of an if.
func NothingAfterElse(word string) Problem {
	return fault("after-else", fmt.Sprintf("%s follows an if … else … that has already ended", word), "Put the whole if in round brackets to compute on with it.")
}

// SingleEquals is said of = outside a let.
func SingleEquals() Problem {
	return fault("single-equals", "= stands only after let and a name", "Write == to compare.")
}

// IfPlace is said of an if in the middle of a formula.
func IfPlace() Problem {
	return fault("if-place", "an if stands at the start, after = or ;, or in brackets", "Put it in round brackets.")
}

// QuoteOpen is said of a quote that is not closed.
func QuoteOpen() Problem {
	return fault("quote-open", "a quote is opened and not closed", "Close it with the same sign.")
}

// NotAllowed is said of what the engine could do and pages do not.
func NotAllowed(what, repair string) Problem {
	return fault("not-allowed", what+" is not part of a formula", repair)
}

// NameUnderscore is said of names that begin with _.
func NameUnderscore(name string) Problem {
	return fault("name-underscore", fmt.Sprintf("no name begins with _, as %s does", name), "Names are a–z, digits and _, and start with a letter.")
}

// PercentSign is said of % that follows no literal number.
func PercentSign() Problem {
	return fault("percent-sign", "% stands only after a number and a blank", "Write 2 % for two hundredths.")
}

// ForeignSign is said of × and its like.
func ForeignSign(r rune, repair string) Problem {
	hint := "A formula has letters a to z, digits, blanks, units and the signs + - * / ** ( ) < > = ? : , ; \"."
	if repair != "" {
		hint = "Write " + repair + "."
	}
	return fault("foreign-sign", fmt.Sprintf("%c is not a sign of the formula language", r), hint)
}

// Braces in the body.

// BraceNotClosed is said of a placement that does not end on its line; inCell
// where the end of a table's cell cut it.
func BraceNotClosed(inCell bool) Problem {
	hint := "Write the closing } on the same line; a quote inside braces must be closed too. For a brace that is only a sign, write \\{."
	if inCell {
		hint = "| ends the cell of a table, inside braces too: write or for alternatives."
	}
	return remark("brace-not-closed", "this brace opens a placement that does not close on its line", hint)
}

// BraceNotOpened is said of a closing brace that no other belongs to.
func BraceNotOpened() Problem {
	return remark("brace-not-opened", "this brace closes nothing", "Write { right before the name, or \\} for a brace that is only a sign.")
}

// BraceBeforeBlank is said of a blank after an opening brace.
func BraceBeforeBlank(what string) Problem {
	return remark("brace-before-blank", "a brace before a blank places nothing", "Write {"+what+"}, or \\{ for a brace that is only a sign.")
}

// BracesEmpty is said of braces with nothing between them.
func BracesEmpty() Problem {
	return remark("braces-empty", "empty braces place nothing", "Write the name of what to place, or \\{ for a brace that is only a sign.")
}

// BracesDoubled is said of two opening braces in a row.
func BracesDoubled() Problem {
	return remark("braces-doubled", "one pair of braces is enough", "Write a single { before the name and a single } behind it.")
}

// BraceOpensNothing is said of braces around something that is no placement.
func BraceOpensNothing(what string) Problem {
	hint := "A brace opens a placement only before a letter, a digit or (. For a brace that is only a sign, write \\{."
	if strings.ContainsAny(what[:min(1, len(what))], "+-.") {
		formula, show := what, ""
		if i := strings.LastIndex(what, " in "); i > 0 {
			formula, show = what[:i], what[i:]
		}
		hint = "A brace opens a placement only before a letter, a digit or (. Write {(" + formula + ")" + show + "}, or \\{ for a brace that is only a sign."
	}
	return remark("brace-opens-nothing", "these braces place nothing", hint)
}

// The text of a body.

// TitleInBody is said of a heading of the first level.
func TitleInBody() Problem {
	return fault("title-in-body", "the title is the page's first heading, so the body has no other of its level", "Write ## for a part of the page. A line of === below a text makes such a heading too.")
}

// HeadingEmpty is said of a heading without text.
func HeadingEmpty() Problem {
	return remark("heading-empty", "this heading has no text", "Write it on the same line, or write \\# for a sign.")
}

// LinkScheme is said of an address that a page must not lead to.
func LinkScheme(scheme string) Problem {
	return fault("link-scheme", scheme+": leads nowhere from a page", "Link to a page or file of the content folder, or to an address that starts with https:.")
}

// LinkWithoutText is said of a link with nothing to read or press.
func LinkWithoutText() Problem {
	return remark("link-without-text", "this link has no text", "Write between [ and ] what stands behind it.")
}

// PictureWithoutText is said of a picture with an empty description.
func PictureWithoutText() Problem {
	return fault("picture-without-text", "this picture has no description", "Write between [ and ] what it shows, for readers who cannot see it.")
}

// NoteUnused is said of a footnote that no mark leads to.
func NoteUnused(name string) Problem {
	return remark("note-unused", "nothing leads to the footnote "+name+", so it is not shown", "Write [^"+name+"] where it belongs.")
}

// NoteMissing is said of a footnote mark without a footnote.
func NoteMissing(name string) Problem {
	return remark("note-missing", "there is no footnote "+name, "Write [^"+name+"]: and its text on a line of its own.")
}

// BodyTooLarge is said of a body that is longer than a page may be.
func BodyTooLarge() Problem {
	return fault("body-too-large", "this page is longer than 1 MiB", "Make several pages of it.")
}

// BodyUnreadable is said of a body that the reader of Markdown fails on.
func BodyUnreadable() Problem {
	return fault("body-unreadable", "this text cannot be read as Markdown", "The fault is in the program. Please keep the text and report it; taking out half of it at a time shows the lines that matter.")
}

// MarkupTooDense is said where a body holds more lines or signs than are read.
func MarkupTooDense() Problem {
	return fault("markup-too-dense", "up to here this page holds more than 100,000 lines or 200,000 signs of Markdown", "Make several pages of it; large data belongs in a CSV file.")
}

// MarkupTooInvolved is said where reading would take too long.
func MarkupTooInvolved() Problem {
	return fault("markup-too-involved", "there are too many open brackets, quotes or stars to read on from here", "Break the paragraph up, or put \\ before signs that mean themselves.")
}

// MarkupTooDeep is said where quotes, lists or emphasis stand too deep in one another.
func MarkupTooDeep() Problem {
	return fault("markup-too-deep", "too many quotes, lists or other parts stand inside one another here", "Twenty lists in one another are the most.")
}

// TextTableTooLarge is said of a table that is written out and too large.
func TextTableTooLarge(most int) Problem {
	return fault("text-table-too-large", fmt.Sprintf("with this table the page has more than %d cells", most), "Large data belongs in a CSV file.")
}

// TooManyNotes is said of the first footnote above the bound.
func TooManyNotes(most int) Problem {
	return fault("too-many-notes", fmt.Sprintf("a page has at most %d footnotes", most), "Make several pages of it.")
}

// Formulas: names and kinds.

// UnknownName is said of a name that the page does not have.
func UnknownName(name, nearest string) Problem {
	hint := "Names are those of this page's given and figures."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-name", fmt.Sprintf("there is no %s on this page", name), hint)
}

// UnknownFunction is said of a call of something that is no function.
func UnknownFunction(name, nearest string) Problem {
	hint := "The functions are listed in the page format and by `labsite formula`."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-function", fmt.Sprintf("there is no function %s", name), hint)
}

// ArgumentCount is said of a call with too few or too many arguments.
func ArgumentCount(name, form string, got int) Problem {
	return fault("argument-count", fmt.Sprintf("%s got %d %s", name, got, plural(got, "argument", "arguments")), "Write "+form+".")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// WantsKind is said of an operand of the wrong kind.
func WantsKind(what, want, got string) Problem {
	hint := "Look for a factor too many, or one that is missing."
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
	case "a number or a quantity":
		hint = "Choose between two values with condition ? value : other value."
	}
	return fault("wrong-kind", fmt.Sprintf("%s wants %s, but this is %s", what, want, got), hint)
}

// suchAs is a quantity of a kind, as it is usually written.
var suchAs = map[string]string{
	"a time": "30 s or 10 min", "a volume": "500 ml", "a mass": "12.5 g", "a length": "20 cm", "an area": "0.05 m2",
	"a temperature": "20 °C", "a temperature difference": "0.5 K", "stops": "1/3 stop",
}

// Factor is what would mend two sides of different kinds.
type Factor struct{ Side, Kind, Unit string }

// KindsSides is said where two sides must be of one kind; it shows both aligned and,
// where one factor would mend it, names it.
func KindsSides(what, left, leftKind, right, rightKind string, f Factor) Problem {
	width := max(len([]rune(left)), len([]rune(right)))
	hint := fmt.Sprintf("%-*s  is %s\n%-*s  is %s", width, left, leftKind, width, right, rightKind)
	if f.Kind != "" && f.Unit != "" {
		hint += fmt.Sprintf("\nIt would fit if the %s side were multiplied by %s (%s).", f.Side, f.Kind, f.Unit)
	}
	message := what + " wants one kind on both sides"
	if strings.HasPrefix(what, "the ") {
		message = what + " must be of one kind"
	}
	return fault("kinds-differ", message, hint)
}

// PointsAdded is said of 20 °C + 2 °C.
func PointsAdded(right string) Problem {
	return fault("points-added", "two temperatures do not add", "A difference is written in K or Δ°F: bath + 2 K.")
}

// PointFromDifference is said of 2 K - 20 °C.
func PointFromDifference() Problem {
	return fault("point-from-difference", "a temperature cannot be taken from a difference", "Turn the two around, or subtract two temperatures.")
}

// PointMultiplied is said of 2 * 20 °C.
func PointMultiplied() Problem {
	return fault("point-multiplied", "a temperature on a scale is not multiplied or divided", "Subtract a temperature first, or use kelvin(t).")
}

// PointNegated is said of -bath.
func PointNegated() Problem {
	return fault("point-negated", "a temperature on a scale has no opposite and no size", "Subtract a temperature first: bath - 20 °C is a difference.")
}

// StopsMultiplied is said of stops times stops.
func StopsMultiplied() Problem {
	return fault("stops-multiplied", "stops add; they do not multiply one another", "Add them, or turn one into a factor with ratio(…).")
}

// CurrenciesMixed is said of two currencies in one expression.
func CurrenciesMixed(a, b string) Problem {
	return fault("currencies-mixed", fmt.Sprintf("%s and %s stand in one expression", a, b), "Keep one currency in an expression; a rate of exchange is a given of your own.")
}

// PowerTooHigh is said of kinds beyond the ninth power.
func PowerTooHigh() Problem {
	return fault("power-too-high", "the result would be a unit beyond the ninth power", "Look for a factor too many.")
}

// PowerWhole is said of a power that is no whole number written in place.
func PowerWhole(kind string) Problem {
	return fault("power-whole", fmt.Sprintf("the power of %s must be a whole number written in place", kind), "Write it as a number, or divide by a unit first to make a plain number.")
}

// NoRoot is said of sqrt over a kind without a root.
func NoRoot(kind string) Problem {
	return fault("no-root", fmt.Sprintf("there is no square root of %s", kind), "Divide by a unit first to make a plain number, or look for a missing factor.")
}

// TextResult is said of a text where a value must come out.
func TextResult() Problem {
	return fault("text-result", "a text cannot be the result of a formula", "A text is only compared with a given that has choices.")
}

// TextCompared is said of < between texts.
func TextCompared(sign string) Problem {
	return fault("text-compared", fmt.Sprintf("texts are not compared with %s", sign), "Use == or !=.")
}

// TextBeside is said of a text that stands beside no given with choices.
func TextBeside() Problem {
	return fault("text-beside", "a text is compared only with a given that has choices", `Write the given on one side and the text on the other: film == "sheet".`)
}

// NotAChoice is said of a text that is none of a given's choices.
func NotAChoice(text, nearest string, choices []string) Problem {
	return fault("not-a-choice", fmt.Sprintf("%q is none of the choices", text), choicesAre(nearest, choices))
}

// NotAChoiceOf is NotAChoice where the place does not show which given is meant.
func NotAChoiceOf(given, text, nearest string, choices []string) Problem {
	return fault("not-a-choice", fmt.Sprintf("%q is none of the choices of %s", text, given), choicesAre(nearest, choices))
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

// LetName is said of a let that binds no free name.
func LetName(name string) Problem {
	return fault("let-name", fmt.Sprintf("%s cannot be bound by let", name), "Choose a name of letters, digits and _ that is no unit and no function.")
}

// NameTaken is said of a name that is used twice.
func NameTaken(name string) Problem {
	return fault("name-taken", fmt.Sprintf("the name %s is already used on this page", name), "Choose another name; each is used once, whatever for.")
}

// DataAlone is said of a data file's name outside a data function.
func DataAlone(name string) Problem {
	return fault("data-alone", fmt.Sprintf("%s is a data file, not a value", name), "Use lookup("+name+".result, "+name+".key, key).")
}

// ColumnAlone is said of a column outside a data function.
func ColumnAlone(name string) Problem {
	return fault("column-alone", fmt.Sprintf("the column %s stands outside a data function", name), "Use lookup or interpolate to take one value from it.")
}

// WantsColumn is said of an argument that must be a column.
func WantsColumn(form string) Problem {
	return fault("wants-column", "a column of a data file must stand here", "Write "+form+".")
}

// UnknownData is said of a data file that the page does not name.
func UnknownData(name, nearest string) Problem {
	hint := "Data files are named under data:."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-data", fmt.Sprintf("there is no data file named %s", name), hint)
}

// UnknownColumn is said of a column that a file does not have.
func UnknownColumn(file, name, nearest string) Problem {
	hint := "The first row of the file names its columns."
	if nearest != "" {
		hint = "Did you mean " + file + "." + nearest + "?"
	}
	return fault("unknown-column", fmt.Sprintf("%s has no column %s", file, name), hint)
}

// ColumnsOfTwoFiles is said of a call that mixes data files.
func ColumnsOfTwoFiles(a, b string) Problem {
	return fault("columns-of-two-files", fmt.Sprintf("the columns come from two files, %s and %s", a, b), "All columns of a call come from one file.")
}

// LogOfNothing is said of interpolate_log over values that have no logarithm.
func LogOfNothing() Problem {
	return fault("log-of-nothing", "interpolate_log needs columns above zero, and no temperatures on a scale", "Use interpolate, or mend the data.")
}

// RowsWithOneKey is said of two rows that a lookup could not tell apart.
func RowsWithOneKey(file string, a, b int) Problem {
	return fault("rows-with-one-key", fmt.Sprintf("lines %d and %d of %s have the same key", a, b, file), "Remove one of the two rows, or add a column to tell them apart.")
}

// TradeFails is said of a bench formula that does not fit its arguments.
func TradeFails(name, why string) Problem {
	return fault("bench-formula-fails", fmt.Sprintf("%s does not fit these arguments: %s", name, why), "`labsite formula "+name+"` explains it.")
}

// TradeResult is said of a bench formula that comes out as the wrong kind.
func TradeResult(name, want, got string) Problem {
	return fault("bench-formula-result", fmt.Sprintf("%s should give %s, but with these arguments it gives %s", name, want, got), "`labsite formula "+name+"` explains it.")
}

// ArgumentNotOwned is said of a constant of the shop that nobody answers for.
func ArgumentNotOwned(param, form, argument string, number bool) Problem {
	why := argument + " has no source and no owner"
	if number {
		why = argument + " is a number that nobody answers for"
	}
	return fault("not-owned", fmt.Sprintf("%s in %s is a constant that the shop must own, but %s", param, form, why),
		"Make it a given with a source and an owner, or take it from a data file of the shop, and name that here.")
}

// WiderThanTested is said of a given that can be set beyond its tested window.
func WiderThanTested(name, from, to, low, high string) Problem {
	return remark("wider-than-tested", fmt.Sprintf("%s can be set from %s to %s, but this was tested from %s to %s only", name, from, to, low, high),
		"Beyond the tested window the page refuses. Narrow the range, so that nobody can set what was not tested.")
}

// Front matter.

// NoFrontMatter is said of a page that does not begin with one.
func NoFrontMatter() Problem {
	return fault("no-front-matter", "this page has no front matter", "Begin the file with a line of three hyphens, the keys title and audience, and another line of three hyphens.")
}

// FrontMatterOpen is said of front matter that is not closed.
func FrontMatterOpen() Problem {
	return fault("front-matter-open", "the front matter is not closed", "Put a line of three hyphens after its last key.")
}

// FrontMatterMap is said of front matter, or of a file, that is not a set of keys.
func FrontMatterMap() Problem {
	return fault("front-matter-map", "this is not a set of keys", "Write keys and values, such as title: Washing film.")
}

// FrontMatterTooLarge is said of front matter, or of a file, beyond its bounds.
func FrontMatterTooLarge() Problem {
	return fault("front-matter-too-large", "this is too large or nested too deep", "At most 8,000 keys and 50,000 values, nested at most 64 levels deep.")
}

// YAMLUnreadable passes on what the YAML reader says.
func YAMLUnreadable(message string) Problem {
	return fault("bad-yaml", "YAML cannot read this: "+message, "Look at the indentation, brackets and quotes here and on the line above. A text with special signs goes in quotes.")
}

// NoColon is said of a line whose key has no colon.
func NoColon(key, value string) Problem {
	hint := "Write " + key + ": and its value."
	if value != "" {
		hint = "Write " + key + ": " + short(value) + "."
	}
	return fault("no-colon", "a colon is missing after "+key, hint)
}

// NoBlankAfterColon is said of exact:tank.
func NoBlankAfterColon(key, value string) Problem {
	return fault("no-blank-after-colon", "a blank is missing behind the colon of "+key, "Write "+key+": "+short(value)+".")
}

// NoBlankAfterDash is said of -do: Fix.
func NoBlankAfterDash(text string) Problem {
	return fault("no-blank-after-dash", "a blank is missing behind this dash", "Write - "+short(text[1:])+".")
}

// short is the beginning of a text, as much as a hint may repeat.
func short(text string) string {
	runes := []rune(text)
	if len(runes) <= 40 {
		return text
	}
	return string(runes[:39]) + "…"
}

// TabIndents is said of the first of the lines that are indented by tabs.
func TabIndents(lines int) Problem {
	message := "a tab indents this line, and YAML takes blanks only"
	if lines > 1 {
		message = fmt.Sprintf("a tab indents this line and %d more, and YAML takes blanks only", lines-1)
	}
	return fault("tab", message, "Put two blanks for each tab. Most editors can be told to write blanks when the tab key is pressed.")
}

// NotClosed is said of a bracket or a quote that is opened and not closed.
func NotClosed(sign string) Problem {
	closing, what := sign, "this quote"
	switch sign {
	case "{":
		closing, what = "}", "this brace"
	case "[":
		closing, what = "]", "this bracket"
	}
	return fault("not-closed", what+" is opened and not closed", "Add "+closing+" where it ends, most likely at the end of this line.")
}

// ClosesNothing is said of a bracket that no other opened.
func ClosesNothing(sign string) Problem {
	what := "brace"
	opening := "{"
	if sign == "]" {
		what, opening = "bracket", "["
	}
	return fault("closes-nothing", "this "+what+" closes nothing", "Take it away, or add the "+opening+" that belongs to it.")
}

// IndentedDeeper is said of a line that stands deeper than the level above it, under its
// last key, "" where it has none. goesOn says that it may continue a text.
func IndentedDeeper(got, want int, above string, goesOn bool) Problem {
	hint := "Begin it " + afterBlanks(want)
	if above != "" {
		hint += ", below " + above
	}
	hint += "."
	if goesOn {
		hint += " If it goes on with the text above, put that whole text in double quotes."
	}
	return fault("indentation", fmt.Sprintf("this line has %s too many", blanks(got-want)), hint)
}

// IndentedLess is said of the first line of a block, where the next one stands deeper.
func IndentedLess(got, want int, below string) Problem {
	return fault("indentation", fmt.Sprintf("this line has %s too few", blanks(want-got)), fmt.Sprintf("Begin it %s, above %s.", afterBlanks(want), below))
}

// IndentedBetween is said of a line that stands between two levels.
func IndentedBetween(got, deeper int, inner string, outer int, outerName string) Problem {
	hint := fmt.Sprintf("Begin it %s, below %s, or %s, below %s.", afterBlanks(deeper), inner, afterBlanks(outer), outerName)
	return fault("indentation", fmt.Sprintf("this line begins %s, as no line above it does", afterBlanks(got)), hint)
}

func blanks(n int) string {
	if n == 1 {
		return "1 blank"
	}
	return fmt.Sprintf("%d blanks", n)
}

func afterBlanks(n int) string {
	if n == 0 {
		return "at the edge"
	}
	return "after " + blanks(n)
}

// TypographicQuotes is said of “…” that were to be YAML's quotes.
func TypographicQuotes(sign string) Problem {
	return fault("typographic-quotes", sign+" is no quote to YAML, so that the signs behind it count", "Put the text in straight double quotes: \"…\".")
}

// CommaOrColon is said of a comma in braces behind which a key may lack its colon.
func CommaOrColon(word string) Problem {
	p := QuoteForYAML("comma")
	return fault("quote-for-yaml", p.Message, "Put the whole text in double quotes; or, if "+word+" is a key, write "+word+": with a colon and a blank.")
}

// ColonOrComma is said of a colon in braces before which a comma may lack.
func ColonOrComma(word string) Problem {
	p := QuoteForYAML("colon")
	return fault("quote-for-yaml", p.Message, "Put the whole text in double quotes; or, if "+word+" is a key, put a comma before it.")
}

// NoMergeKey is said of <<.
func NoMergeKey() Problem {
	return fault("no-merge-key", "<< is not part of a page", "Write the keys out.")
}

// KeyNotText is said of a key that is a list or a map.
func KeyNotText() Problem {
	return fault("key-not-text", "a key must be a word", "Write a name and a colon.")
}

// QuoteForYAML is said at the sign for which a text needs quotes.
func QuoteForYAML(sign string) Problem {
	what := "this " + sign
	if len(sign) <= 2 {
		what = "a text that starts with " + sign
	}
	return fault("quote-for-yaml", "YAML takes "+what+" for its own", "Put the whole text in double quotes.")
}

// CutShort is said of a # that YAML takes for a comment.
func CutShort(rest string) Problem {
	return fault("cut-short", fmt.Sprintf("YAML cuts the text short here: %s becomes a comment", rest), "Put the whole text in double quotes; a comment has a blank after its #.")
}

// RepeatedKey is said of a key that stands twice.
func RepeatedKey(key string) Problem {
	return fault("repeated-key", fmt.Sprintf("the key %s stands here a second time", key), "Keep one of the two.")
}

// UnknownKey is said of a key that means nothing there.
func UnknownKey(key, nearest string, known []string) Problem {
	hint := "The keys here are " + listed(known) + "."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-key", fmt.Sprintf("there is no key %q here", key), hint)
}

// MissingKey is said of a required key that is not there.
func MissingKey(key, example string) Problem {
	return fault("missing-key", "the key "+key+" is missing", "Add "+example+".")
}

// ValueMissing is said of a required key with nothing behind its colon.
func ValueMissing(key, example string) Problem {
	return fault("missing-key", "the key "+key+" has no value", "Write "+example+".")
}

// WantsShape is said of a value of the wrong YAML shape.
func WantsShape(key, want string) Problem {
	return fault("wrong-shape", key+" must be "+want, "Look at the dashes, colons, brackets and indentation here.")
}

// Substances and sheets.

// UnknownSubstance is said of a name that is in no list of substances.
func UnknownSubstance(name, nearest string) Problem {
	hint := "Use a generic name or a CAS number of the list, or add the substance and its safety data sheet to hazards.yaml."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s? If not, add the substance and its safety data sheet to hazards.yaml.", nearest)
	}
	return fault("unknown-substance", fmt.Sprintf("%s is not in the hazard list", name), hint)
}

// StrengthRange is said of a strength that is no share of a whole.
func StrengthRange(written string) Problem {
	return fault("strength-range", fmt.Sprintf("%s is no strength", written), "Give the share by weight, above 0 % and at most 100 %.")
}

// SubstanceUndeclared is said of a substance that a page names and does not declare.
func SubstanceUndeclared(written, name string) Problem {
	return remark("substance-undeclared", fmt.Sprintf("the page names %s and does not declare it", written),
		fmt.Sprintf("Add %s to substances, so that its hazards are shown.", name))
}

// UnknownCaution is said of a caution that is neither the page's nor a standing one.
func UnknownCaution(name, nearest string) Problem {
	hint := "Define it under cautions with a word and a text."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("unknown-caution", fmt.Sprintf("there is no standing caution named %s", name), hint)
}

// SheetTooLarge is said of a file above the bound.
func SheetTooLarge(bytes int) Problem {
	return fault("sheet-too-large", fmt.Sprintf("the file is larger than %d KiB", bytes>>10), "Keep only substances and their sheets in it.")
}

// SheetLongLine is said of a line above the bound.
func SheetLongLine(bytes int) Problem {
	return fault("sheet-long-line", fmt.Sprintf("this line is longer than %d characters", bytes), "Break the text after > or |, over several lines.")
}

// SheetShape is said of a list where a text is wanted, and so on.
func SheetShape(key, want, got string) Problem {
	return fault("sheet-shape", fmt.Sprintf("%s wants %s, and this is %s", key, want, got), "")
}

// SheetUnknownKey is said of a key that no sheet has.
func SheetUnknownKey(key, nearest string, known []string) Problem {
	hint := "The keys here are " + strings.Join(known, ", ") + "."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-key", fmt.Sprintf("there is no key %s here", key), hint)
}

// SheetMissing is said of a key that must be there.
func SheetMissing(key, why string) Problem {
	return fault("sheet-missing", fmt.Sprintf("the key %s is missing", key), fmt.Sprintf("Add %s: %s.", key, why))
}

// SheetChoice is said of a value that is none of a few.
func SheetChoice(key, written, choices string) Problem {
	return fault("sheet-choice", fmt.Sprintf("%s cannot be %q", key, written), "Write "+choices+".")
}

// SheetNameTwice is said of a name that two rows have.
func SheetNameTwice(name string) Problem {
	return fault("sheet-name-twice", fmt.Sprintf("%s stands twice", name), "One name belongs to one substance.")
}

// SheetCASShape is said of what is no CAS number.
func SheetCASShape(written string) Problem {
	return fault("sheet-cas-shape", fmt.Sprintf("%q is no CAS number", written), "It has two to seven figures, two figures and one check digit: 123-31-9.")
}

// SheetCASDigit is said of a CAS number whose check digit is wrong.
func SheetCASDigit(written string, want byte) Problem {
	return fault("sheet-cas-digit", fmt.Sprintf("the CAS number %s has a wrong check digit", written),
		fmt.Sprintf("The figures before it ask for %c: one of them is mistyped. Copy it from the sheet again.", want))
}

// SheetFormula is said of a formula that cannot be read.
func SheetFormula(message string) Problem {
	return fault("sheet-formula", message, "Write it like Na2S2O3·5H2O or (NH4)2S2O3.")
}

// SheetMassAlone is said of a molar mass without a formula to test it by.
func SheetMassAlone() Problem {
	return fault("sheet-mass-alone", "a molar mass needs its formula", "Add formula, or leave molar_mass out.")
}

// SheetMassDiffers is said of a molar mass that its formula does not give.
func SheetMassDiffers(written, formula, computed string) Problem {
	return fault("sheet-mass-differs", fmt.Sprintf("%s does not weigh %s g/mol", formula, written),
		fmt.Sprintf("The standard atomic weights give %s g/mol; is the water of a hydrate missing?", computed))
}

// SheetUnknownCode is said of a statement or a pictogram that is not in the list.
func SheetUnknownCode(what, code, nearest string) Problem {
	hint := "Copy the code from section 2 of the sheet."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-code", fmt.Sprintf("there is no %s %s", what, code), hint)
}

// SheetUnknownWaste is said of a kind of waste that is not in the list.
func SheetUnknownWaste(kind, nearest string, known []string) Problem {
	hint := "The kinds are " + strings.Join(known, ", ") + "."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-waste", fmt.Sprintf("there is no kind of waste named %s", kind), hint)
}

// SheetWordLow is said of a signal word below what the statements ask for.
func SheetWordLow(written, least, codes string) Problem {
	return remark("sheet-word-low", fmt.Sprintf("the signal word %s is less than %s asks for", written, codes),
		fmt.Sprintf("%s is shown until the sheet has been read again.", least))
}

// SheetPictogramsLow is said of pictograms that the statements ask for.
func SheetPictogramsLow(missing, codes string) Problem {
	return remark("sheet-pictograms-low", fmt.Sprintf("%s asks for %s as well", codes, missing), "It is shown until the sheet has been read again.")
}

// SheetDay is said of a date that is none.
func SheetDay(key, written string) Problem {
	return fault("sheet-day", fmt.Sprintf("%s is no day: %q", key, written), "Write it as 2026-10-01.")
}

// SheetPeriod is said of a review period that is none.
func SheetPeriod(written string) Problem {
	return fault("sheet-period", fmt.Sprintf("%q is no period", written), "Write a whole number of days, weeks, months or years: 24 months.")
}

// SheetOverdue is said of a sheet whose review is past.
func SheetOverdue(name, dated, due string) Problem {
	return remark("sheet-overdue", fmt.Sprintf("the safety data sheet of %s, dated %s, was due for review on %s", name, dated, due),
		"Ask the supplier for the current sheet, compare it, and enter its date.")
}

// SheetNotYet is said of a sheet dated after today.
func SheetNotYet(name, dated string) Problem {
	return remark("sheet-not-yet", fmt.Sprintf("the safety data sheet of %s is dated %s, which is still to come", name, dated), "Check the date.")
}

// BadName is said of a name that is none.
func BadName(name string) Problem {
	return fault("bad-name", fmt.Sprintf("%q cannot be a name", name), "Names are a–z, digits and _, start with a letter, and have at most 60 characters.")
}

// NameIsUnit is said of a name that is a unit's.
func NameIsUnit(name string) Problem {
	return fault("name-is-unit", name+" is a unit and cannot be a name", "Choose a longer name.")
}

// NameReserved is said of a name that the language or the page has already.
func NameReserved(name string) Problem {
	return fault("name-reserved", name+" is a word of the page format and cannot be a name", "Choose another name.")
}

// NotOneOf is said of a word that is none of a few.
func NotOneOf(key, got string, words []string) Problem {
	hint := "Write " + listed(words[:len(words)-1]) + " or " + words[len(words)-1] + "."
	return fault("not-one-of", fmt.Sprintf("%s cannot be %q", key, got), hint)
}

// ChangeBeyond is said of a change in a revision that is still to come.
func ChangeBeyond(n, revision int) Problem {
	return fault("change-beyond", fmt.Sprintf("there is a change for revision %d, but this is revision %d", n, revision), "Raise the revision, or mend the number.")
}

// NotADate is said of a date that is none.
func NotADate(key, text string) Problem {
	return fault("not-a-date", fmt.Sprintf("%s is no date: %q", key, text), "Write year, month and day: 2026-09-30.")
}

// NotAPeriod is said of a review period that is none.
func NotAPeriod(key, text string) Problem {
	return fault("not-a-period", fmt.Sprintf("%s is no period: %q", key, text), "Write a whole number of days, weeks, months or years: 12 months.")
}

// Given values.

// ChoicesAndRange is said of from, to or step beside choices.
func ChoicesAndRange(key string) Problem {
	return fault("choices-and-range", key+" stands beside choices", "Give either choices, or from and to.")
}

// StepAlone is said of a step without a range.
func StepAlone() Problem {
	return fault("step-alone", "a step needs a range", "Add from and to, or leave the step out.")
}

// HalfRange is said of from without to, and the other way.
func HalfRange(missing string) Problem {
	return fault("half-range", "a range needs both ends", "Add "+missing+".")
}

// OutsideOwnRange is said of a page's own value outside its range.
func OutsideOwnRange(value, from, to string) Problem {
	return fault("outside-own-range", fmt.Sprintf("the value %s lies outside its own range, %s to %s", value, from, to), "Mend the value or the range.")
}

// OutOfRange is said of a value that a given does not take.
func OutOfRange(name, value, from, to string) Problem {
	return fault("out-of-range", fmt.Sprintf("%s is tested from %s to %s, not at %s", name, from, to, value), "Choose a value in that range.")
}

// WholeOnly is said of a value between whole numbers.
func WholeOnly(name, value string) Problem {
	return fault("whole-only", fmt.Sprintf("%s takes whole numbers, not %s", name, value), "Choose a whole number.")
}

// GivenFixed is said of a value set for a given that is fixed.
func GivenFixed(name, value string) Problem {
	return fault("given-fixed", fmt.Sprintf("%s is fixed at %s on this page", name, value), "Only given values with a range or choices are set.")
}

// UnitMissing is said of 68 where a temperature is wanted.
func UnitMissing(name, value, unit string) Problem {
	hint := "Write " + value + " " + unit + "."
	if unit == "°C" || unit == "°F" {
		hint = "Write " + value + " °C or " + value + " °F."
	}
	return fault("unit-missing", fmt.Sprintf("%s needs a unit", name), hint)
}

// NoChoices is said of an empty list of choices.
func NoChoices() Problem {
	return fault("no-choices", "there are no choices", "Write a list such as [1+50, 1+100].")
}

// ChoiceTwice is said of a choice that stands there twice.
func ChoiceTwice(text string) Problem {
	return fault("choice-twice", text+" stands among the choices twice", "Keep one of the two.")
}

// UnknownGiven is said of a name under at that is no given.
func UnknownGiven(name, nearest string) Problem {
	hint := "Only given values can be set."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-given", fmt.Sprintf("there is no given value %s", name), hint)
}

// Figures, limits and checks.

// TooManyFigures is said of a page beyond its bound.
func TooManyFigures(most int) Problem {
	return fault("too-many-figures", fmt.Sprintf("a page has at most %d figures", most), "Split the page in two; one can draw on the other.")
}

// Cycle is said of figures that need one another.
func Cycle(path string) Problem {
	return fault("cycle", "these figures need one another: "+path, "One of them must be worked out without the others.")
}

// NotFinite is said of a formula that gives no number.
func NotFinite(name, at string) Problem {
	return fault("not-finite", fmt.Sprintf("%s gives no finite number at %s", name, at), "Something is divided by nothing, overflows, or is a root or logarithm of less than nothing. Guard it with a limit that refuses, or mend the range.")
}

// RefusedAtOwn is said of a page that refuses its own values.
func RefusedAtOwn(why string) Problem {
	return fault("refused-at-own-values", "the page refuses its own values: "+why, "Give the page values at which its recipe holds.")
}

// RefusedAlways is said of a page that refuses every case.
func RefusedAlways() Problem {
	return fault("refused-always", "the page refuses every case of its ranges", "Mend the limit or the ranges.")
}

// LimitTwice is said of a limit with two texts.
func LimitTwice() Problem {
	return fault("limit-twice", "a limit has one of notice, caution, warning and refuse", "Make two limits.")
}

// LimitWithout is said of a limit that says nothing.
func LimitWithout() Problem {
	return fault("limit-without-text", "this limit says nothing when it holds", "Add notice, caution, warning or refuse, and a text.")
}

// LimitNever is said of a limit that holds in no case.
func LimitNever(cases int) Problem {
	return remark("limit-never", "this limit holds in none of "+cased(cases), "Mend its formula, widen the ranges, or leave it out.")
}

// cased counts cases.
func cased(n int) string {
	if n == 1 {
		return "1 case"
	}
	return fmt.Sprintf("%d cases", n)
}

// CheckEmpty is said of a check without expect and always.
func CheckEmpty() Problem {
	return fault("check-empty", "this check tests nothing", "Add expect and source, or always.")
}

// CheckBoth is said of a check that mixes its two forms.
func CheckBoth() Problem {
	return fault("check-both", "always stands alone in a check", "Make two checks: one with at, expect and source, one with always.")
}

// ExpectWord is said of an expectation that is none.
func ExpectWord(word string) Problem {
	return fault("expect-word", fmt.Sprintf("%q cannot be expected", word), "Write figures and values, such as {concentrate: 5.0 ml}, or refused, notice, caution or warning.")
}

// UnknownFigure is said of an expected name that is no figure.
func UnknownFigure(name, nearest string) Problem {
	hint := "Its name must be that of a figure of this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-figure", fmt.Sprintf("there is no figure %s", name), hint)
}

// CheckFails is said of an expected value that was not found.
func CheckFails(name, at, expected, found string) Problem {
	return fault("check-fails", fmt.Sprintf("at %s, %s should be %s but is %s", at, name, expected, found), "Mend the formula, or the expected value if its source says otherwise.")
}

// CheckFailsLimit is said of an expected limit that does not hold.
func CheckFailsLimit(kind, at, found string) Problem {
	want := "a " + kind + " should hold"
	if kind == "refuse" {
		want = "the page should refuse"
	}
	return fault("check-fails", fmt.Sprintf("at %s, %s, but %s", at, want, found), "Mend the limit's formula, or the check.")
}

// CheckRefused is said of an expected value where the page refuses.
func CheckRefused(at, why string) Problem {
	return fault("check-refused", fmt.Sprintf("at %s the page refuses: %s", at, why), "Choose values at which the recipe holds, or write expect: refused.")
}

// AlwaysFails is said of a rule that does not hold in some case; sides are the values found
// on its two sides, "" where it compares nothing.
func AlwaysFails(at, sides string, failing, cases int) Problem {
	if sides != "" {
		at += ", with " + sides
	}
	return fault("always-fails", fmt.Sprintf("this does not hold at %s (and in %d of %s altogether)", at, failing, cased(cases)), "Mend the formulas, add a limit that refuses such cases, or narrow the ranges.")
}

// AlwaysConstant is said of a rule that depends on nothing that can be set.
func AlwaysConstant() Problem {
	return remark("always-constant", "this cannot fail: nothing in it depends on a value that can be set", "Test something that the given values change.")
}

// NotInData is the reason a page shows where its data end.
func NotInData(file, where string, beyond bool) string {
	if beyond {
		return "Nobody tested " + where + ": it lies outside the points of " + file + "."
	}
	return "Nobody tested " + where + ": " + file + " has no row for it."
}

// The site.

// NotAnAddress is said of an address that is none.
func NotAnAddress(text string) Problem {
	return fault("not-an-address", fmt.Sprintf("%q is no address of a site", text), "Write it in full, such as https://lab.example/guides/.")
}

// PageTooLarge is said of a page's file beyond its bound.
func PageTooLarge(bytes int64) Problem {
	return fault("page-too-large", fmt.Sprintf("this page has %d bytes; a page has less than 1 MiB (1,048,576)", bytes), "Split it into several pages.")
}

// LinkOutside is said of a symbolic link that leads out of the content folder.
func LinkOutside() Problem {
	return fault("link-outside", "this symbolic link leads out of the content folder", "Put the file itself here.")
}

// LinkToFolder is said of a symbolic link to a folder.
func LinkToFolder() Problem {
	return fault("link-to-folder", "this symbolic link leads to a folder", "Put the files themselves here; a folder would be read twice.")
}

// LinkToNoFile is said of a symbolic link whose file is not there, or that leads round in a
// circle.
func LinkToNoFile() Problem {
	return fault("link-to-no-file", "this symbolic link leads to no file", "Make the link again, or put the file itself here.")
}

// CannotRead is said of a file that the system does not give.
func CannotRead(why string) Problem {
	return fault("cannot-read", "this cannot be read: "+why, "Look at the file's permissions.")
}

// NoContent is said of a content folder that is not there.
func NoContent(dir, why string) Problem {
	return fault("no-content", fmt.Sprintf("the content folder %s cannot be read: %s", dir, why), "Name the folder with --from, or go to the folder above it.")
}

// NoPages is said of a content folder without a page.
func NoPages() Problem {
	return fault("no-pages", "there is no page in the content folder", "Write one: a Markdown file that begins with front matter.")
}

// OwnFile is said of a page or a picture at an address that the site needs for a file
// that it makes by itself, such as the page for addresses that are not there.
func OwnFile(address string) Problem {
	return fault("own-file", "the site makes a file "+address+" of its own", "Give this file another name.")
}

// SameAddress is said of two pages that would stand at one address.
func SameAddress(other string) Problem {
	return fault("same-address", "this page would stand at the same address as "+other, "Rename one of the two; capital and small letters count as one.")
}

// SameNumber is said of two pages with one document number.
func SameNumber(number, other string) Problem {
	return fault("same-number", fmt.Sprintf("the document number %s is already that of %s", number, other), "Give each page its own number.")
}

// LinkNowhere is said of a link whose file is not there.
func LinkNowhere(to, nearest string) Problem {
	hint := "Paths are relative to this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("link-nowhere", fmt.Sprintf("there is no file %s", to), hint)
}

// AnchorNowhere is said of a link to a heading that is not there.
func AnchorNowhere(anchor, page, nearest string) Problem {
	hint := "An anchor is the heading in small letters with hyphens for blanks."
	if nearest != "" {
		hint = "Did you mean #" + nearest + "?"
	}
	return fault("anchor-nowhere", fmt.Sprintf("%s has no heading #%s", page, anchor), hint)
}

// LinkAbsolute is said of a link that begins with a slash.
func LinkAbsolute(to string) Problem {
	return fault("link-absolute", fmt.Sprintf("%s starts at the top of a server, and a site can stand anywhere", to), "Write it relative to this page, such as ../mixing/index.md.")
}

// PathOutside is said of a path that leaves the content folder.
func PathOutside(to string) Problem {
	return fault("path-outside", fmt.Sprintf("%s leads out of the content folder", to), "Keep files inside it.")
}

// LinkToStaff is said of a customers' page that leads to a staff page.
func LinkToStaff(to string) Problem {
	return fault("link-to-staff", fmt.Sprintf("%s is for staff, and this page is for customers", to), "Take the link away, or make this page a staff page.")
}

// LinkToUnpublished is said of a published page that leads to a draft or withdrawn one.
func LinkToUnpublished(to, status string) Problem {
	return fault("link-to-unpublished", fmt.Sprintf("%s is %s and not to be linked to from a published page", to, status), "Take the link away, or approve that page first.")
}

// PictureKind is said of a picture that the program cannot measure.
func PictureKind(to string) Problem {
	return fault("picture-kind", fmt.Sprintf("%s is no picture that this program knows", to), "Use PNG, JPEG, GIF or a plain SVG.")
}

// PictureUnsafe is said of an SVG that could run or load something.
func PictureUnsafe(to, what string) Problem {
	return fault("picture-unsafe", fmt.Sprintf("%s holds %s", to, what), "Save it as a plain SVG of shapes and text, or as PNG.")
}

// PictureElsewhere is said of a picture from another server.
func PictureElsewhere() Problem {
	return fault("picture-elsewhere", "a picture from elsewhere would not show on the site", "Put a copy of it beside the page.")
}

// LevelOneHeading, bodies, placements.

// UnknownPlacement is said of braces that name nothing of the page.
func UnknownPlacement(name, nearest string) Problem {
	hint := "Braces place a given, a figure, a caution, a table, a chart, a formula, or one of given, figures, cautions, steps, arithmetic, checks."
	if nearest != "" {
		hint = "Did you mean {" + nearest + "}?"
	}
	return fault("unknown-name", fmt.Sprintf("there is no %s on this page", name), hint)
}

// BlockInLine is said of a block placed in the middle of a text.
func BlockInLine(name string) Problem {
	return fault("block-in-line", fmt.Sprintf("{%s} stands in a line of text", name), "Put it in a paragraph of its own.")
}

// BlockHasShow is said of "in" behind a block.
func BlockHasShow(name string) Problem {
	return fault("block-has-show", fmt.Sprintf("{%s} is no value that a unit could be given for", name), "Leave the in and what follows it out.")
}

// BlockInText is said of a block placed in a text of the front matter.
func BlockInText(name string) Problem {
	return fault("block-in-text", fmt.Sprintf("{%s} cannot stand in a text of the front matter", name), "Place values there; blocks stand in the body.")
}

// FigureInRefusal is said of a figure placed in a refuse text.
func FigureInRefusal(name string) Problem {
	return fault("figure-in-refusal", fmt.Sprintf("%s is withdrawn when this text is shown", name), "A refuse text may place given values only.")
}

// HandTyped is said of a quantity that nobody checks; written is how a page writes it, ""
// where that is not known.
func HandTyped(text, written string) Problem {
	hint := "Place a figure or a given in braces."
	if written != "" {
		hint = "Place a figure or a given in braces, or write {" + written + "} if it is the name of a size."
	}
	return remark("hand-typed", text+" is typed by hand, and nobody checks it", hint)
}

// ReviewOverdue is said of a page whose review is due.
func ReviewOverdue(number, due string) Problem {
	return remark("review-overdue", fmt.Sprintf("the review of %s was due on %s", number, due), "Review the page, and raise its effective date and revision.")
}

// ConstantOverdue is said of an owned value whose review is due.
func ConstantOverdue(name, due string) Problem {
	return remark("review-overdue", fmt.Sprintf("the review of %s was due on %s", name, due), "Measure it again, and give the new value its source and date.")
}

// DataLinked is said of a link to a data file.
func DataLinked(file string) Problem {
	return fault("data-linked", fmt.Sprintf("%s is a data file, and those are never published whole", file), "Show what readers need of it in a table.")
}

// Bench formulas.

// BenchKind is said of a kind that is none.
func BenchKind(text, nearest string, words []string) Problem {
	hint := "Write a unit such as ml or g/l, or one of " + strings.Join(words, ", ") + ", like x, difference of x."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("bench-kind", fmt.Sprintf("%q is no kind of quantity", text), hint)
}

// BenchLike is said of a kind that points to a parameter that is not before it.
func BenchLike(name, nearest string) Problem {
	return fault("bench-like", fmt.Sprintf("there is no parameter %s before this one", name), offer(nearest, "A kind may be that of a parameter that stands above it."))
}

// BenchGivesAny is said of a result of any kind.
func BenchGivesAny() Problem {
	return fault("bench-gives-any", "a result has a kind", "Write a kind, or like and the parameter that has the same one.")
}

// BenchEndTwice is said of a range with two ends on one side.
func BenchEndTwice() Problem {
	return fault("bench-end-twice", "this range has two ends on one side", "Write from or above, and to or below.")
}

// BenchTested is said of a tested window that is no pair of parameters.
func BenchTested() Problem {
	return fault("bench-tested", "tested names the two parameters between which this one was tested", "Write tested: [lowest_tested, highest_tested].")
}

// UnknownParameter is said of a name that is no parameter of the entry.
func UnknownParameter(name, nearest string) Problem {
	return fault("unknown-parameter", fmt.Sprintf("there is no parameter %s", name), offer(nearest, "The parameters are listed under takes."))
}

// BenchSwapAlone is said of a key that a swap makes by itself.
func BenchSwapAlone(key string) Problem {
	return fault("bench-swap-alone", "swap makes "+key+" by itself", "Leave "+key+" out.")
}

// BenchSwapDiffers is said of two chemical formulas that hold different amounts.
func BenchSwapDiffers(a, b string) Problem {
	return fault("bench-swap-differs", fmt.Sprintf("%s and %s do not hold the same amount of one salt", a, b), "Write both for one unit of the salt: NaBO2·4H2O, not Na2B2O4·8H2O, beside NaBO2·2H2O.")
}

// BenchShow is said of a show beside a result whose kind is open.
func BenchShow() Problem {
	return fault("bench-show", "the kind of this result is open, so no show fits it", "Leave the show out.")
}

// BenchClass is said of a source that does not say what it is.
func BenchClass(text string) Problem {
	return fault("bench-class", fmt.Sprintf("%q does not say what kind of source it is", text), "Begin with common practice, no source; from memory; or measured here and the date; or write {class: published, text: …}.")
}

// BenchNotSet is said of a check that leaves a parameter out.
func BenchNotSet(name string) Problem {
	return fault("bench-not-set", "this check sets no "+name, "A check sets every parameter; none has a value of its own.")
}

// BenchNameTwice is said of the second entry of one name.
func BenchNameTwice(name, where string) Problem {
	hint := "The other one is built in. Choose another name."
	if where != "" {
		hint = "The other one stands in " + where + ". Keep one, or choose another name."
	}
	return fault("bench-name-twice", fmt.Sprintf("there are two bench formulas called %s", name), hint)
}

// BenchCycle is said of entries that use one another.
func BenchCycle(path string) Problem {
	return fault("bench-cycle", "these bench formulas need one another: "+path, "One of them must be worked out without the others.")
}

// BenchFails is said of an entry that does not hold together as a whole.
func BenchFails(why string) Problem {
	return fault("bench-fails", why, "Mend the formula, or what it takes and gives.")
}

// BenchTooLarge is said of an entry that grows beyond its bound.
func BenchTooLarge(most int) Problem {
	return fault("bench-too-large", fmt.Sprintf("with all that it uses this bench formula has more than %d parts", most), "Use fewer bench formulas in it.")
}

// BenchUnused is said of a parameter that nothing uses.
func BenchUnused(name string) Problem {
	return remark("bench-unused", "nothing uses the parameter "+name, "Use it in the formula or in outside, or leave it out.")
}

// BenchCheckRefused is said of a check at values that the entry refuses.
func BenchCheckRefused(call, why string) Problem {
	return fault("bench-check-refused", fmt.Sprintf("%s refuses: %s", call, why), "Choose values in its range, or write expect: refused.")
}

// BenchOutOfRange is what a reader is told of a value outside the range of a bench
// formula; ends are written as quantities, "" where there is none.
func BenchOutOfRange(label, from, above, to, below string) string {
	low, high := "", ""
	switch {
	case above == "0" || strings.HasPrefix(above, "0 "):
		low = "more than nothing"
	case above != "":
		low = "more than " + above
	case from != "" && to != "":
		return label + ": must be from " + from + " to " + to + "."
	case from == "0" || strings.HasPrefix(from, "0 ") && !strings.HasPrefix(from, "0 °"):
		low = "nothing or more"
	case from != "":
		low = "at least " + from
	}
	switch {
	case to != "":
		high = "at most " + to
	case below != "":
		high = "less than " + below
	}
	if low != "" && high != "" {
		return label + ": must be " + low + " and " + high + "."
	}
	return label + ": must be " + low + high + "."
}

// BenchWhole is what a reader is told of a number that must be whole.
func BenchWhole(label string) string { return label + ": must be a whole number." }

// BenchNotTested is what a reader is told of a value outside its tested window.
func BenchNotTested(label string) string {
	return label + ": outside the window in which this was tested."
}

// Data files and pages drawn on.

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
	return fault("data-mixed", fmt.Sprintf("%q is no quantity, but other cells of %s are", text, column), "Mend the cell, or write ["+"text] behind the column's name.")
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
func PageCycle(path string) Problem {
	return fault("page-cycle", "these pages draw on one another: "+path, "One of them must do without the others.")
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

// Steps, tables, charts.

// UnknownCautionName is said of a step's caution that the page does not have.
func UnknownCautionName(name, nearest string) Problem {
	hint := "Name one of the page's cautions, a standing caution, or write a signal word and a text: {word: WARNING, text: …}."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-caution", fmt.Sprintf("there is no caution %s", name), hint)
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

// The page's script.

// ScriptFails is said of a page's script that does not run.
func ScriptFails(why string) Problem {
	return fault("script-fails", "the script of this page does not run: "+why, "The fault is in the program, not in the page. Please report it with the page.")
}

// ScriptDiffers is said where a page's script works something else out than the build.
func ScriptDiffers(what, at, want, found string) Problem {
	return fault("script-differs", fmt.Sprintf("at %s the build and the page's script differ in %s: %s there, %s here", at, what, want, found), "The fault is in the program, not in the page. Please report it with the page.")
}

// LimitsWithoutPoints is said of a chart's limits without points to judge.
func LimitsWithoutPoints() Problem {
	return fault("limits-without-points", "there are no points for these limits to judge", "Add points: {x: log.date, y: log.density}.")
}

// Advice, and the preview.

// GivenWithoutSource is said of a fixed value that does not say where it
// comes from.
func GivenWithoutSource(name string) Problem {
	return advice("given-without-source", name+" is taken as fixed and does not say where its value comes from", "Add source: and, where the shop must own the value, owner:.")
}

// FigureUnguarded is said of a result that no check holds.
func FigureUnguarded(name string) Problem {
	return advice("figure-unguarded", "no check guards "+name, "Add a check that expects it at some given values, or a rule that always holds.")
}

// PageFails is said in the preview of a page that the program could not write.
func PageFails(why string) Problem {
	return fault("page-fails", "this page could not be written: "+why, "The fault is in the program, not in the page. Please report it with the page.")
}
