package source

import "fmt"

// ChangedFormula describes a change of a formula.
func ChangedFormula(name, was, is string) string {
	return fmt.Sprintf("%s worked out as `%s` and not as `%s`", name, is, was)
}

// ChangedValue describes a change of a value that is kept somewhere.
func ChangedValue(name, is, was string) string { return fmt.Sprintf("%s %s and not %s", name, is, was) }

// ChangedUse says that a page drawn on keeps its own value.
func ChangedUse(use, given, own string) string {
	return fmt.Sprintf("%s worked out with its own %s, %s, and not with what this page sets", use, given, own)
}

// ChangeUnnoticed reports a change that no check of a page notices; check is one that would,
// "" if none can tell.
func ChangeUnnoticed(what, check string) Problem {
	hint := "No check can tell the two apart as they are shown; say in the formula or in a limit what matters."
	if check != "" {
		hint = "This check would, with its source:\n" + check
	}
	return advice("change-unnoticed", what+": no check would notice", hint)
}

// GuardedShare reports a share in the settings that is out of range.
func GuardedShare() Problem {
	return fault("guarded-share", "guarded must be a share above 0 % and at most 100 %", "With guarded: 95 %, check says so of any page whose checks notice fewer of the changes tried on it.")
}

// FactTwoValues advises where one fact has two values in a lab.
func FactTwoValues(name, here, there, file string, line int) Problem {
	return advice("fact-two-values", fmt.Sprintf("%s is %s here and %s in %s, line %d", name, here, there, file, line),
		"If they are one fact, let one page keep it and the other draw on that page; if they are two facts, give them different labels.")
}

// FactKeptTwice advises where one fact is kept in two places, with one value so far.
func FactKeptTwice(name, here, _, file string, line int) Problem {
	return advice("fact-kept-twice", fmt.Sprintf("%s, %s, is also kept in %s, line %d", name, here, file, line),
		"Sooner or later only one of the two will be changed. Let one page keep it and the other draw on that page.")
}

// GuardedShort advises that a page's checks notice too few of the changes tried on it.
func GuardedShort(noticed, counted int, share string) Problem {
	return advice("guarded-short", fmt.Sprintf("guarded %d of %d: the lab wants a page's checks to notice %s of the changes tried on it", noticed, counted, share),
		"labsite guard with this page lists the others, each with a check that would notice it.")
}
