package source

import (
	"fmt"
	"strconv"
)

// Messages about files and their bytes.

// NotUTF8 reports a file whose bytes are not UTF-8 text.
func NotUTF8() Problem {
	return fault("not-utf8", "this file is not UTF-8 text", "Save it again with the encoding UTF-8.")
}

// ControlCharacter reports a control character.
func ControlCharacter(r rune) Problem {
	return fault("control-character", fmt.Sprintf("there is a control character here, U+%04X", r), "Delete it; your editor may not show it.")
}

// ChangedMeanwhile reports a page that was changed while the command was running.
func ChangedMeanwhile() Problem {
	return fault("changed-meanwhile", "this file was changed while the pages were being worked out", "Run the command again.")
}

// NotAFile reports a named pipe, a device, a socket or a folder in place
// of a file; what names it in words.
func NotAFile(what string) Problem {
	return fault("not-a-file", "this is "+what+", not a file that can be read", "Put a plain file in its place, or move it out of the content folder.")
}

// MoreInFile stands for what is not listed for one file, and MoreInAll for what is not listed
// for the whole folder: n errors, reports or pieces of advice.
func MoreInFile(n int, s Severity) Problem {
	return Problem{Code: "more-in-file", Severity: s, Message: "from here on this file has " + manyOf(n, s) + " more, which are not listed", Hint: "Correct those above first: many of the others may go with them."}
}

// MoreInAll: see MoreInFile.
func MoreInAll(n int, s Severity) Problem {
	return Problem{Code: "more-in-all", Severity: s, Message: "from here on there are " + manyOf(n, s) + " more, which are not listed", Hint: "Correct those above first: many of the others may go with them."}
}

func manyOf(n int, s Severity) string {
	word := string(s)
	if s != Advice && n != 1 {
		word += "s"
	}
	return strconv.Itoa(n) + " " + word
}

// TooManyChoices reports a given value with more choices than a reader can look through.
func TooManyChoices(n, most int) Problem {
	return fault("too-many-choices", fmt.Sprintf("there are %d choices here; at most %d can be chosen from", n, most), "Split them over two given values, or give a range with from, to and step.")
}

// FolderMoved reports a file that changed, came or went while the content folder was being read,
// the first of n.
func FolderMoved(n int) Problem {
	what := "this file"
	if n > 1 {
		what = fmt.Sprintf("this file, and %d more,", n-1)
	}
	return fault("folder-moved", what+" changed while the folder was being read, so its pages may not fit together", "Wait until whatever is writing into the folder has finished, and try again.")
}
