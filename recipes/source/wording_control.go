package source

import "fmt"

// Messages about document control.

// ApprovedLater reports an approved page whose approval is still to come.
func ApprovedLater(day string) Problem {
	return remark("approved-later", "the page counts as approved, but its approval of "+day+" is still to come", "Correct the date, or write status: draft until then.")
}

// EffectiveBefore reports a page that is in force before anybody approved it.
func EffectiveBefore(effective, approved string) Problem {
	return remark("effective-before", fmt.Sprintf("the page is in force from %s, before its approval of %s", effective, approved), "Correct one of the two dates.")
}

// RevisionUnsaid reports a revision that the list of changes does not have.
func RevisionUnsaid(revision int) Problem {
	return remark("revision-unsaid", fmt.Sprintf("changes does not say what revision %d changed", revision), fmt.Sprintf("Add %d: and what it changed, under changes.", revision))
}

// ChangeBeyond reports a change in a revision that is still to come.
func ChangeBeyond(n, revision int) Problem {
	return fault("change-beyond", fmt.Sprintf("there is a change for revision %d, but this is revision %d", n, revision), "Raise the revision, or correct the number.")
}

// NotADate reports something that is not a date.
func NotADate(key, text string) Problem {
	return fault("not-a-date", fmt.Sprintf("%s is not a date: %q", key, text), "Write year, month and day: 2026-09-30.")
}

// NotAPeriod reports something that is not a review period.
func NotAPeriod(key, text string) Problem {
	return fault("not-a-period", fmt.Sprintf("%s is not a period: %q", key, text), "Write a whole number of days, weeks, months or years: 12 months.")
}

// ReviewOverdue reports a page whose review is due.
func ReviewOverdue(number, due string) Problem {
	return remark("review-overdue", fmt.Sprintf("the review of %s was due on %s", number, due), "Review the page, and raise its effective date and revision.")
}

// NotMeasured advises what a lab must still measure before the page may be approved.
func NotMeasured(what string) Problem {
	return advice("not-yet-measured", what+" is not yet measured here", "Measure it in this lab, and write the value, source: measured here and the day, and who owns it. Until then the page cannot be approved.")
}

// NotOwned advises that nobody owns something yet.
func NotOwned(what string) Problem {
	return advice("not-yet-owned", "nobody answers for "+what+" yet", "Write the role that does: owner: process lead. Until then the page cannot be approved.")
}

// ApprovedUnmeasured reports an approved page with a value that the lab never measured.
func ApprovedUnmeasured(what string) Problem {
	return fault("approved-unmeasured", "the page counts as approved, but "+what+" is not yet measured here", "Write status: draft until it is measured. Then write the value, source: measured here and the day, and who owns it.")
}

// ApprovedUnowned reports an approved page with a value that nobody answers for.
func ApprovedUnowned(what string) Problem {
	return fault("approved-unowned", "the page counts as approved, but nobody answers for "+what+" yet", "Write the role that does: owner: process lead.")
}

// ApprovedOnUnmeasured reports an approved page that draws on a page where something
// has not been measured.
func ApprovedOnUnmeasured(page, what string) Problem {
	return fault("approved-unmeasured", fmt.Sprintf("the page counts as approved, but it draws on %s, where %s is not yet measured here", page, what), "Write status: draft until it is measured there.")
}

// ConstantOverdue reports an owned value whose review is due.
func ConstantOverdue(name, due string) Problem {
	return remark("review-overdue", fmt.Sprintf("the review of %s was due on %s", name, due), "Measure it again, and give the new value its source and date.")
}
