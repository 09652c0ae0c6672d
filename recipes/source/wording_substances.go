package source

import (
	"fmt"
	"strings"
)

// Messages about substances and safety data sheets.

// UnknownSubstance reports a name that is in no list of substances.
func UnknownSubstance(name, nearest string) Problem {
	hint := "Use a generic name or a CAS number of the list, or add the substance and its safety data sheet to hazards.yaml."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s? If not, add the substance and its safety data sheet to hazards.yaml.", nearest)
	}
	return fault("unknown-substance", fmt.Sprintf("%s is not in the hazard list", name), hint).offering(nearest)
}

// StrengthRange reports a strength that is not a share of a whole.
func StrengthRange(written string) Problem {
	return fault("strength-range", fmt.Sprintf("%s is not a strength", written), "Give the share by weight, above 0 % and at most 100 %.")
}

// SubstanceUndeclared reports a substance that a page names and does not declare.
func SubstanceUndeclared(written, name string) Problem {
	return remark("substance-undeclared", fmt.Sprintf("the page mentions %s but does not declare it", written),
		fmt.Sprintf("Add %s to substances, so that its hazards are shown.", name))
}

// UnknownCaution reports a caution that is neither the page's nor a standing one.
func UnknownCaution(name, nearest string) Problem {
	hint := "Define it under cautions with a word and a text."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("unknown-caution", fmt.Sprintf("there is no standing caution named %s", name), hint).offering(nearest)
}

// SheetTooLarge reports a file above the bound.
func SheetTooLarge(bytes int) Problem {
	return fault("sheet-too-large", fmt.Sprintf("the file is larger than %d KiB", bytes>>10), "Keep only substances and their sheets in it.")
}

// SheetLongLine reports a line above the bound.
func SheetLongLine(bytes int) Problem {
	return fault("sheet-long-line", fmt.Sprintf("this line is longer than %d bytes", bytes), "Break the text after > or |, over several lines.")
}

// SheetShape reports a value of the wrong shape, such as a list instead of a text.
func SheetShape(key, want, got string) Problem {
	return fault("sheet-shape", fmt.Sprintf("%s must be %s, but this is %s", key, want, got), "")
}

// SheetUnknownKey reports a key that no sheet has.
func SheetUnknownKey(key, nearest string, known []string) Problem {
	hint := "The keys here are " + strings.Join(known, ", ") + "."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-key", fmt.Sprintf("there is no key %s here", key), hint).offering(nearest)
}

// SheetMissing reports a key that must be there.
func SheetMissing(key, why string) Problem {
	return fault("sheet-missing", fmt.Sprintf("the key %s is missing", key), fmt.Sprintf("Add %s: %s.", key, why))
}

// SheetChoice reports a value that is not one of a few.
func SheetChoice(key, written, choices string) Problem {
	return fault("sheet-choice", fmt.Sprintf("%s cannot be %q", key, written), "Write "+choices+".")
}

// SheetNameTwice reports a name that two rows have.
func SheetNameTwice(name string) Problem {
	return fault("sheet-name-twice", fmt.Sprintf("%s is here twice", name), "One name belongs to one substance.")
}

// SheetCASShape reports something that is not a CAS number.
func SheetCASShape(written string) Problem {
	return fault("sheet-cas-shape", fmt.Sprintf("%q is not a CAS number", written), "It has two to seven digits, two digits and one check digit: 123-31-9.")
}

// SheetCASDigit reports a CAS number whose check digit is wrong.
func SheetCASDigit(written string, want byte) Problem {
	return fault("sheet-cas-digit", fmt.Sprintf("the CAS number %s has a wrong check digit", written),
		fmt.Sprintf("The digits before it need %c: one of them is mistyped. Copy it from the sheet again.", want))
}

// SheetFormula reports a formula that cannot be read.
func SheetFormula(message string) Problem {
	return fault("sheet-formula", message, "Write it like Na2S2O3·5H2O or (NH4)2S2O3.")
}

// SheetMassAlone reports a molar mass without a formula to test it by.
func SheetMassAlone() Problem {
	return fault("sheet-mass-alone", "a molar mass needs a formula", "Add formula, or leave molar_mass out.")
}

// SheetMassDiffers reports a molar mass that its formula does not give.
func SheetMassDiffers(written, formula, computed string) Problem {
	return fault("sheet-mass-differs", fmt.Sprintf("%s does not weigh %s g/mol", formula, written),
		fmt.Sprintf("The standard atomic weights give %s g/mol; is the water of a hydrate missing?", computed))
}

// SheetUnknownCode reports a statement or a pictogram that is not in the list.
func SheetUnknownCode(what, code, nearest string) Problem {
	hint := "Copy the code from section 2 of the sheet."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-code", fmt.Sprintf("there is no %s %s", what, code), hint).offering(nearest)
}

// SheetUnknownWaste reports a kind of waste that is not in the list.
func SheetUnknownWaste(kind, nearest string, known []string) Problem {
	hint := "The kinds are " + strings.Join(known, ", ") + "."
	if nearest != "" {
		hint = fmt.Sprintf("Did you mean %s?", nearest)
	}
	return fault("sheet-unknown-waste", fmt.Sprintf("there is no kind of waste named %s", kind), hint).offering(nearest)
}

// SheetWordLow reports a signal word weaker than the statements require.
func SheetWordLow(written, least, codes string) Problem {
	return remark("sheet-word-low", fmt.Sprintf("the signal word %s is weaker than %s requires", written, codes),
		fmt.Sprintf("%s is shown until the sheet has been checked again.", least))
}

// SheetPictogramsLow reports missing pictograms that the statements require.
func SheetPictogramsLow(missing, codes string) Problem {
	return remark("sheet-pictograms-low", fmt.Sprintf("%s requires %s as well", codes, missing), "It is shown until the sheet has been checked again.")
}

// SheetDay reports something that is not a date.
func SheetDay(key, written string) Problem {
	return fault("sheet-day", fmt.Sprintf("%s is not a date: %q", key, written), "Write it as 2026-10-01.")
}

// SheetPeriod reports something that is not a review period.
func SheetPeriod(written string) Problem {
	return fault("sheet-period", fmt.Sprintf("%q is not a period", written), "Write a whole number of days, weeks, months or years: 24 months.")
}

// SheetOverdue reports a sheet whose review is past.
func SheetOverdue(name, dated, due string) Problem {
	return remark("sheet-overdue", fmt.Sprintf("the safety data sheet of %s, dated %s, was due for review on %s", name, dated, due),
		"Ask the supplier for the current sheet, compare it, and enter its date.")
}

// SheetNotYet reports a sheet dated after today.
func SheetNotYet(name, dated string) Problem {
	return remark("sheet-not-yet", fmt.Sprintf("the safety data sheet of %s is dated %s, which is still to come", name, dated), "Check the date.")
}
