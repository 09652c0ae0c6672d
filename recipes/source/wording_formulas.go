package source

import "fmt"

// Messages about formulas as they are read.

// FormulaEmpty reports a formula without text.
func FormulaEmpty() Problem {
	return fault("formula-empty", "the formula is empty", "Write what is to be worked out, such as tank * strength.")
}

// FormulaTooLong reports a formula beyond its bound of characters.
func FormulaTooLong(most int) Problem {
	return fault("formula-too-long", fmt.Sprintf("the formula has more than %d characters", most), "Split it into figures that use one another.")
}

// FormulaTooLarge reports a formula beyond its bound of parts.
func FormulaTooLarge(most int) Problem {
	return fault("formula-too-large", fmt.Sprintf("the formula has more than %d parts", most), "Split it into figures that use one another.")
}

// FormulaTooDeep reports a formula nested beyond its bound.
func FormulaTooDeep(most int) Problem {
	return fault("formula-too-deep", fmt.Sprintf("the formula is nested more than %d levels deep", most), "Split it into figures that use one another.")
}

// FormulaUnreadable is the last resort, when nothing more specific is known.
func FormulaUnreadable() Problem {
	return fault("formula-unreadable", "the formula cannot be read", "A formula has names, quantities, operators and calls, such as round(tank / 101, 0.1 ml).")
}

// FormulaEndsEarly reports a formula whose last word needs something after it.
func FormulaEndsEarly(last string) Problem {
	return fault("formula-ends-early", fmt.Sprintf("the formula ends after %s, but something must follow", last), "Finish the formula, or remove what it ends with.")
}

// BracketOpen reports a bracket that is not closed.
func BracketOpen() Problem {
	return fault("bracket-open", "a bracket is opened and not closed", "Add the missing ).")
}

// UnexpectedSign reports a sign that cannot stand where it does.
func UnexpectedSign(sign string) Problem {
	hint := "Look at what is before it: an operand or a bracket is missing, or there is one too many."
	return fault("unexpected-sign", fmt.Sprintf("%s does not belong here", sign), hint)
}

// BracesForm reports braces that belong to no if.
func BracesForm() Problem {
	return fault("braces-form", "braces belong only to if … { … } else { … }", "Write if condition { value } else { other value }, or condition ? value : other value.")
}

// NothingAfterElse reports something after the end of an if.
func NothingAfterElse(word string) Problem {
	return fault("after-else", fmt.Sprintf("%s follows an if … else … that has already ended", word), "Put the whole if in round brackets to go on computing with it.")
}

// SingleEquals reports = outside a let.
func SingleEquals() Problem {
	return fault("single-equals", "= belongs only after let and a name", "Write == to compare.")
}

// IfPlace reports an if in the middle of a formula.
func IfPlace() Problem {
	return fault("if-place", "an if must be at the start, after = or ;, or in brackets", "Put it in round brackets.")
}

// QuoteOpen reports a quote that is not closed.
func QuoteOpen() Problem {
	return fault("quote-open", "a quote is opened and not closed", "Close it with the same mark.")
}

// NotAllowed reports what the parsing library knows and the language leaves out.
func NotAllowed(what, repair string) Problem {
	return fault("not-allowed", what+" is not part of a formula", repair)
}

// NameUnderscore reports names that begin with _.
func NameUnderscore(name string) Problem {
	return fault("name-underscore", fmt.Sprintf("a name cannot begin with _, as %s does", name), "Names are a–z, digits and _, and start with a letter.")
}

// PercentSign reports % that follows no literal number.
func PercentSign() Problem {
	return fault("percent-sign", "% belongs only after a number and a space", "Write 2 % for two hundredths.")
}

// ForeignSign reports × and other characters that the language does not have.
func ForeignSign(r rune, repair string) Problem {
	hint := "A formula has letters a to z, digits, spaces, units and the characters + - * / ** ( ) < > = ? : , ; \"."
	if repair != "" {
		hint = "Write " + repair + "."
	}
	return fault("foreign-sign", fmt.Sprintf("%c is not a character of the formula language", r), hint).offering(repair)
}
