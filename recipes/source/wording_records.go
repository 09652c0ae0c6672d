package source

import (
	"fmt"
	"strings"
)

// Messages about the records that pages keep, and about the files that bring them.

// KeepsWhat reports a file that cannot keep records.
func KeepsWhat(name string) Problem {
	return fault("keeps-what", "keeps: names a CSV beside the page, and "+name+" is not one", "Write just its name: keeps: mixing-log.csv. It need not exist yet; labsite record makes it.")
}

// KeepsColumn reports a name of the page that every record uses for something else.
func KeepsColumn(name string) Problem {
	return fault("keeps-column", "a record has a column "+name+" of its own, so no given value and no figure of this page can be called that", "Call it something else, or leave keeps: out.")
}

// KeepsKind reports a figure that is worked out from its own records and does not give its kind.
func KeepsKind(name string) Problem {
	return fault("keeps-kind", name+" is worked out from its own records, and there are none yet to show its kind", "Give its kind with show:, for example show: 1 ml.")
}

const runSheetAgain = "Use the file as the run sheet saved it; nothing was recorded."

// RecordNotRead reports a file that is not a record.
func RecordNotRead(why string) Problem {
	return fault("record-form", "this is not a record of a page: "+why, runSheetAgain)
}

// RecordTooLarge reports a file that is larger than any record.
func RecordTooLarge(most int64) Problem {
	return fault("record-too-large", fmt.Sprintf("a record has at most %d KiB", most>>10), runSheetAgain)
}

// RecordLacks reports a record without something that every record has.
func RecordLacks(key string) Problem {
	return fault("record-lacks", "the record does not say "+key, runSheetAgain)
}

// RecordTimes reports impossible moments in a record.
func RecordTimes(what, why string) Problem {
	return fault("record-times", what+" "+why, "Set the device's clock right and save the record again; nothing was recorded.")
}

// RecordNoPage reports a record of a page that this lab does not have.
func RecordNoPage(page, near string) Problem {
	hint := "It may be another lab's record: look at its lab."
	if near != "" {
		hint = "Did you mean " + near + "? " + hint
	}
	return fault("record-no-page", "there is no page "+page+" here", hint)
}

// RecordOtherLab reports a record of another lab.
func RecordOtherLab(theirs, ours string) Problem {
	return fault("record-other-lab", "the record is from "+theirs+", and this is "+ours, "Hand it to that lab; nothing was recorded.")
}

// RecordOtherNumber reports a record whose page has another number.
func RecordOtherNumber(page, has, said string) Problem {
	return fault("record-other-number", fmt.Sprintf("the record is for number %s, and the number of %s is %s", orNoNumber(said), page, orNoNumber(has)), "Look for the page of that number; nothing was recorded.")
}

func orNoNumber(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// RecordOtherRevision reports a record of a revision that is no longer kept.
func RecordOtherRevision(page string, said, now int) Problem {
	return fault("record-other-revision", fmt.Sprintf("the record is for revision %d; %s is now revision %d, and no approved record has revision %d", said, page, now, said), "Nothing can be worked out again without that revision: restore its file in approved/.")
}

// RecordKeepsNone reports a page that keeps no records.
func RecordKeepsNone(page string) Problem {
	return fault("record-keeps-none", page+" keeps no records", "Write keeps: and the name of a CSV into its front matter.")
}

// RecordUnknown reports a name that the page does not have.
func RecordUnknown(kind, name, page, near string) Problem {
	hint := "labsite figure " + page + " lists what it has."
	if near != "" {
		hint = "Did you mean " + near + "?"
	}
	return fault("record-unknown", fmt.Sprintf("%s has no %s %s", page, kind, name), hint)
}

// RecordWants reports a setting or a reading that a record does not have.
func RecordWants(kind, name string) Problem {
	return fault("record-wants", "the record has no "+kind+" "+name, "Give it: "+name+"=value. A record must not hold a reading that nobody made.")
}

// RecordValue reports a value that the page does not take.
func RecordValue(name, message, hint string) Problem {
	if !strings.HasPrefix(message, name) {
		message = name + ": " + message
	}
	return fault("record-value", message, hint)
}

// RecordRefused reports settings and readings that the page refuses.
func RecordRefused(page, why string) Problem {
	return fault("record-refused", page+" refuses these values: "+why, "A record holds only what the page gives; nothing was recorded.")
}

// RecordFigure reports a figure for which the page gives another value.
func RecordFigure(name, said, now string, revision int) Problem {
	return fault("record-figure", fmt.Sprintf("%s: the record says %s, and revision %d gives %s at these values", name, orNoNumber(said), revision, orNoNumber(now)), "The file was changed, or it belongs to another page; nothing was recorded.")
}

// RecordSteps reports steps that are not the page's.
func RecordSteps(why string) Problem {
	return fault("record-steps", why, "The file was changed, or it belongs to another revision; nothing was recorded.")
}

// RecordTwice reports a record that is already kept.
func RecordTwice(made, file string, line int) Problem {
	return fault("record-twice", fmt.Sprintf("the record of %s is already kept: %s:%d", made, file, line), "A run is recorded once; nothing was recorded.")
}

// RecordColumns reports a file whose columns are not those that the page keeps.
func RecordColumns(has, wants []string) Problem {
	return fault("record-columns", "the page keeps other columns now: "+strings.Join(wants, ", ")+"; the file has "+strings.Join(has, ", "), "Put the columns in that order, with a value in each row for every new one, or keep new records in a file of another name.")
}

// RecordHeld reports that somebody else is recording.
func RecordHeld(file string) Problem {
	return fault("record-held", "somebody else is writing to "+file, "Try again; nothing was recorded.")
}
