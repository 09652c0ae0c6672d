package source

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Messages about approved revisions and their records.

// RecordEdited reports a record whose contents are not those that were written.
func RecordEdited(path string) Problem {
	return fault("record-edited", "the record "+path+" was changed after it was written: its digest does not match its contents", "Undo the change. To change what was approved, approve a new revision; never edit a record by hand.")
}

// NoRecordFile reports a file among the records that is not a record.
func NoRecordFile(path string) Problem {
	return remark("no-record", path+" is not a record of an approval", "labsite approve writes records as approved/NUMBER/REVISION.json; move anything else out of that folder, since nothing in it is published.")
}

// RecordBroken reports a record that cannot be read as one.
func RecordBroken(path string) Problem {
	return fault("record-broken", path+" is not a record of an approval, or only part of one", "Restore the file as labsite approve wrote it.")
}

// RecordElsewhere reports a record in the place of another.
func RecordElsewhere(path, number string, revision int) Problem {
	return fault("record-elsewhere", fmt.Sprintf("%s is the record of %s revision %d", path, number, revision), "Move it back to where labsite approve wrote it.")
}

// Unrecorded reports an approved page of which there is no record.
func Unrecorded(number string, revision int, page, by string) Problem {
	return remark("unrecorded", fmt.Sprintf("there is no record of what was approved as %s revision %d", number, revision), fmt.Sprintf("Write it: labsite approve %s --by %q", page, by))
}

// WaitsAlone reports a revision not yet in force, with no earlier one to show until then.
func WaitsAlone(number string, revision int, day string) Problem {
	return remark("waits-alone", fmt.Sprintf("%s revision %d comes into force on %s, and there is no record of an earlier revision; it is published as it stands", number, revision, day), "Write status: draft until that day, or approve the revision before it with labsite approve.")
}

// RaiseRevision says how to correct a page that differs from what was approved.
const RaiseRevision = "Raise the revision and approve it, or undo the change."

// ApprovedNumber reports a number that differs from what was approved.
func ApprovedNumber(name, before string, revision int, after, because string) Problem {
	text := fmt.Sprintf("%s: %s was approved in revision %d, but it now works out to %s", name, before, revision, after)
	switch {
	case before == "":
		text = fmt.Sprintf("%s: no such number was approved in revision %d, but it now works out to %s", name, revision, after)
	case after == "":
		text = fmt.Sprintf("%s: %s was approved in revision %d, and there is no such number now", name, before, revision)
	}
	return fault("not-as-approved", text+becauseText(because), RaiseRevision)
}

// ApprovedMoves reports a figure that is as approved at the page's own values and not at others.
func ApprovedMoves(name, at, before string, revision int, after string, moved, cases int, because string) Problem {
	return fault("not-as-approved", fmt.Sprintf("%s at %s: %s was approved in revision %d, but it now works out to %s (%d of %d cases differ, this one most)", name, at, before, revision, after, moved, cases)+becauseText(because), RaiseRevision)
}

// ApprovedSomewhere reports a figure that is still as approved at the page's own values, and that
// a change of a bench formula moved at others.
func ApprovedSomewhere(name string, revision int, because string) Problem {
	return fault("not-as-approved", fmt.Sprintf("%s differs from what was approved in revision %d at some values that a reader can set, though not at the page's own", name, revision)+becauseText(because), RaiseRevision)
}

// ApprovedCells reports the cells of a table that differ beyond those listed one by one.
func ApprovedCells(table string, more, revision int) Problem {
	return fault("not-as-approved", fmt.Sprintf("%d more cells of the table %s differ from what was approved in revision %d", more, table, revision), RaiseRevision)
}

func becauseText(because string) string {
	if because == "" {
		return ""
	}
	return ", because " + because
}

// ApprovedElse reports something other than a number that differs from what was approved; what is
// "a limit", "a caution", "a step", "the text", "the formula of base" or "the range of tank".
func ApprovedElse(what, before string, revision int, after string) Problem {
	before, after = aroundDifference(before, after)
	text := fmt.Sprintf("%s differs: revision %d was approved with %q, now it is %q", what, revision, before, after)
	switch {
	case before == "":
		text = fmt.Sprintf("%s is new since revision %d was approved: %q", what, revision, after)
	case after == "":
		text = fmt.Sprintf("%s was approved in revision %d and is gone: %q", what, revision, before)
	}
	return fault("not-as-approved", text, RaiseRevision)
}

// NotAsRecorded reports a revision that cannot be printed again as its record has it.
func NotAsRecorded(number string, revision int, because string) Problem {
	return fault("not-as-recorded", fmt.Sprintf("%s revision %d is in force and cannot be printed again as it was approved: %s", number, revision, because), "A bench formula, a unit or the program has changed since; approve that page again under a new revision number.")
}

// mostExcerpt is how many characters of a text a message shows.
const mostExcerpt = 90

// aroundDifference cuts two long texts down to where they differ.
func aroundDifference(a, b string) (string, string) {
	if utf8.RuneCountInString(a) <= mostExcerpt && utf8.RuneCountInString(b) <= mostExcerpt {
		return a, b
	}
	x, y := []rune(a), []rune(b)
	same := 0
	for same < len(x) && same < len(y) && x[same] == y[same] {
		same++
	}
	return excerpt(x, same), excerpt(y, same)
}

func excerpt(text []rune, at int) string {
	if len(text) <= mostExcerpt {
		return string(text)
	}
	from := max(0, min(at-mostExcerpt/3, len(text)-mostExcerpt))
	to := min(len(text), from+mostExcerpt)
	out := strings.TrimSpace(string(text[from:to]))
	if from > 0 {
		out = "… " + out
	}
	if to < len(text) {
		out += " …"
	}
	return out
}
