package source

import (
	"fmt"
	"strings"
)

// What is said of records that pages keep, and of the files that bring them.

// KeepsWhat is said of a file that cannot keep records.
func KeepsWhat(name string) Problem {
	return fault("keeps-what", "keeps: names a CSV beside the page, and "+name+" is none", "Write its bare name: keeps: mixing-log.csv. It need not be there; labsite record makes it.")
}

// KeepsColumn is said of a name of the page that every record has for something else.
func KeepsColumn(name string) Problem {
	return fault("keeps-column", "a record has a column "+name+" of its own, so no given value and no figure of this page can be called that", "Call it something else, or let the page keep no records.")
}

// KeepsKind is said of a figure that is worked out from its own records and does not say what it is.
func KeepsKind(name string) Problem {
	return fault("keeps-kind", name+" is worked out from its own records, and there are none yet to tell its kind", "Say it with show:, for example show: 1 ml.")
}

const runSheetAgain = "Take the file as the run sheet saved it; nothing was recorded."

// RecordNotRead is said of a file that is no record.
func RecordNotRead(why string) Problem {
	return fault("record-form", "this is no record of a page: "+why, runSheetAgain)
}

// RecordTooLarge is said of a file that is larger than any record.
func RecordTooLarge(most int64) Problem {
	return fault("record-too-large", fmt.Sprintf("a record has at most %d KiB", most>>10), runSheetAgain)
}

// RecordLacks is said of a record without something that each has.
func RecordLacks(key string) Problem {
	return fault("record-lacks", "the record does not say "+key, runSheetAgain)
}

// RecordTimes is said of moments in a record that cannot be.
func RecordTimes(what, why string) Problem {
	return fault("record-times", what+" "+why, "Set the clock of the device right and save the record again; nothing was recorded.")
}

// RecordNoPage is said of a record of a page that this lab has not.
func RecordNoPage(page, near string) Problem {
	hint := "It may be another lab's record: see its lab."
	if near != "" {
		hint = "did you mean " + near + "? " + hint
	}
	return fault("record-no-page", "there is no page "+page+" here", hint)
}

// RecordOtherLab is said of a record of another lab.
func RecordOtherLab(theirs, ours string) Problem {
	return fault("record-other-lab", "the record is of "+theirs+", and this is "+ours, "Hand it to the lab that it is of; nothing was recorded.")
}

// RecordOtherNumber is said of a record whose page has another number.
func RecordOtherNumber(page, has, said string) Problem {
	return fault("record-other-number", fmt.Sprintf("the record is of number %s, and %s is %s", orNoNumber(said), page, orNoNumber(has)), "Look for the page of that number; nothing was recorded.")
}

func orNoNumber(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// RecordOtherRevision is said of a record of a revision that nothing is left of.
func RecordOtherRevision(page string, said, now int) Problem {
	return fault("record-other-revision", fmt.Sprintf("the record is of revision %d; %s is revision %d, and no approved record has revision %d", said, page, now, said), "Nothing can be worked out again without that revision: bring its file in approved/ back.")
}

// RecordKeepsNone is said of a page that keeps no records.
func RecordKeepsNone(page string) Problem {
	return fault("record-keeps-none", page+" keeps no records", "Write keeps: and the name of a CSV into its front matter.")
}

// RecordUnknown is said of a name that the page has not.
func RecordUnknown(kind, name, page, near string) Problem {
	hint := "labsite figure " + page + " lists what it has."
	if near != "" {
		hint = "did you mean " + near + "?"
	}
	return fault("record-unknown", fmt.Sprintf("%s has no %s %s", page, kind, name), hint)
}

// RecordWants is said of a setting or a reading that a record does not have.
func RecordWants(kind, name string) Problem {
	return fault("record-wants", "the record has no "+kind+" "+name, "Give it: "+name+"=value. No record holds a reading that nobody made.")
}

// RecordValue is said of a value that the page does not take.
func RecordValue(name, message, hint string) Problem {
	if !strings.HasPrefix(message, name) {
		message = name + ": " + message
	}
	return fault("record-value", message, hint)
}

// RecordRefused is said of settings and readings at which the page has no numbers.
func RecordRefused(page, why string) Problem {
	return fault("record-refused", page+" has no numbers at these values: "+why, "A record holds only what the page gives; nothing was recorded.")
}

// RecordFigure is said of a figure that the page gives otherwise.
func RecordFigure(name, said, now string, revision int) Problem {
	return fault("record-figure", fmt.Sprintf("%s: the record says %s, and revision %d gives %s at these values", name, orNoNumber(said), revision, orNoNumber(now)), "The file was changed, or it is of another page; nothing was recorded.")
}

// RecordSteps is said of steps that are not the page's.
func RecordSteps(why string) Problem {
	return fault("record-steps", why, "The file was changed, or it is of another revision; nothing was recorded.")
}

// RecordTwice is said of a record that is kept already; where is its line there.
func RecordTwice(made, file string, line int) Problem {
	return fault("record-twice", fmt.Sprintf("the record of %s is kept already: %s:%d", made, file, line), "A run is recorded once; nothing was recorded.")
}

// RecordColumns is said of a file whose columns are not those that the page keeps.
func RecordColumns(has, wants []string) Problem {
	return fault("record-columns", "the page keeps other columns now: "+strings.Join(wants, ", ")+"; the file has "+strings.Join(has, ", "), "Put the columns into that order, with a value in each row for what is new, or keep new records in a file of another name.")
}

// RecordHeld is said while somebody else records.
func RecordHeld(file string) Problem {
	return fault("record-held", "somebody else is writing to "+file, "Try again; nothing was recorded.")
}
