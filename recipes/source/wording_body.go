package source

import (
	"fmt"
	"strings"
)

// Messages about a page's text, and about what braces place in it.

// BraceNotClosed reports a placement that does not end on its line; inCell
// where the end of a table's cell cut it.
func BraceNotClosed(inCell bool) Problem {
	hint := "Write the closing } on the same line; a quote inside braces must be closed too. For a literal brace, write \\{."
	if inCell {
		hint = "| ends a table cell even inside braces: write or for alternatives."
	}
	return remark("brace-not-closed", "this brace opens a placement that does not close on its line", hint)
}

// BraceNotOpened reports a closing brace without an opening one.
func BraceNotOpened() Problem {
	return remark("brace-not-opened", "this brace closes nothing", "Write { right before the name, or \\} for a literal brace.")
}

// BraceBeforeBlank reports a space after an opening brace.
func BraceBeforeBlank(what string) Problem {
	return remark("brace-before-blank", "a brace before a space places nothing", "Write {"+what+"}, or \\{ for a literal brace.")
}

// BracesEmpty reports braces with nothing between them.
func BracesEmpty() Problem {
	return remark("braces-empty", "empty braces place nothing", "Write the name of what to place, or \\{ for a literal brace.")
}

// BracesDoubled reports two opening braces in a row.
func BracesDoubled() Problem {
	return remark("braces-doubled", "one pair of braces is enough", "Write a single { before the name and a single } after it.")
}

// BraceOpensNothing reports braces around something that is not a placement.
func BraceOpensNothing(what string) Problem {
	hint := "A brace opens a placement only before a letter, a digit or (. For a literal brace, write \\{."
	if strings.ContainsAny(what[:min(1, len(what))], "+-.") {
		formula, show := what, ""
		if i := strings.LastIndex(what, " in "); i > 0 {
			formula, show = what[:i], what[i:]
		}
		hint = "A brace opens a placement only before a letter, a digit or (. Write {(" + formula + ")" + show + "}, or \\{ for a literal brace."
	}
	return remark("brace-opens-nothing", "these braces place nothing", hint)
}

// TitleInBody reports a heading of the first level.
func TitleInBody() Problem {
	return fault("title-in-body", "the title is the page's first heading, so the body may not have another of that level", "Write ## for a part of the page. A line of === below a text makes a first-level heading too.")
}

// CommentNotClosed reports a comment that does not end.
func CommentNotClosed() Problem {
	return fault("comment-not-closed", "this comment does not end, so what follows would be left out, or the comment shown to readers", "Write --> where the comment ends, or \\<!-- for the characters themselves.")
}

// HeadingEmpty reports a heading without text.
func HeadingEmpty() Problem {
	return remark("heading-empty", "this heading has no text", "Write it on the same line, or write \\# for a literal #.")
}

// LinkScheme reports an address that a page must not lead to.
func LinkScheme(scheme string) Problem {
	return fault("link-scheme", scheme+": is not an address that a page may link to", "Link to a page or file of the content folder, or to an address that starts with https:, http:, mailto:, tel: or sms:.")
}

// LinkWithoutText reports a link with nothing to read or press.
func LinkWithoutText() Problem {
	return remark("link-without-text", "this link has no text", "Write between [ and ] what it leads to.")
}

// PictureWithoutText reports a picture with an empty description.
func PictureWithoutText() Problem {
	return fault("picture-without-text", "this picture has no description", "Between [ and ], say what it shows, for readers who cannot see it.")
}

// NoteUnused reports a footnote that no mark leads to.
func NoteUnused(name string) Problem {
	return remark("note-unused", "nothing refers to the footnote "+name+", so it is not shown", "Write [^"+name+"] where it belongs.")
}

// NoteMissing reports a footnote mark without a footnote.
func NoteMissing(name string) Problem {
	return remark("note-missing", "there is no footnote "+name, "Write [^"+name+"]: and its text on a line of its own.")
}

// BodyTooLarge reports a body longer than a page may be.
func BodyTooLarge() Problem {
	return fault("body-too-large", "this page is longer than 1 MiB", "Split it into several pages.")
}

// BodyUnreadable reports a body that the Markdown parser fails on.
func BodyUnreadable() Problem {
	return fault("body-unreadable", "this text cannot be read as Markdown", "The fault is in the program. Please keep the text and report it; removing half of it at a time shows which lines matter.")
}

// MarkupTooDense marks where a body exceeds the number of lines or marks that are read.
func MarkupTooDense() Problem {
	return fault("markup-too-dense", "up to here this page holds more than 100,000 lines or 200,000 marks of Markdown", "Make several pages of it; large data belongs in a CSV file.")
}

// MarkupTooInvolved marks where parsing would take too long.
func MarkupTooInvolved() Problem {
	return fault("markup-too-involved", "there are too many open brackets, quotes or stars to read on from here", "Break the paragraph up, or put \\ before characters that are meant literally.")
}

// MarkupTooDeep marks where quotes, lists or emphasis are nested too deeply.
func MarkupTooDeep() Problem {
	return fault("markup-too-deep", "quotes, lists or other parts are nested too deeply here", "Lists may be nested at most twenty deep.")
}

// TextTableTooLarge reports a table that is written out and too large.
func TextTableTooLarge(most int) Problem {
	return fault("text-table-too-large", fmt.Sprintf("with this table the page has more than %d cells", most), "Large data belongs in a CSV file.")
}

// TooManyNotes reports the first footnote above the bound.
func TooManyNotes(most int) Problem {
	return fault("too-many-notes", fmt.Sprintf("a page has at most %d footnotes", most), "Split it into several pages.")
}

// UnknownPlacement reports braces that name nothing of the page.
func UnknownPlacement(name, nearest string) Problem {
	hint := "Braces place a given, a figure, a caution, a table, a chart, a formula, or one of given, figures, cautions, steps, arithmetic, checks."
	if nearest != "" {
		hint = "Did you mean {" + nearest + "}?"
	}
	return fault("unknown-name", fmt.Sprintf("there is no %s on this page", name), hint).offering(nearest)
}

// BlockInLine reports a block placed in the middle of a text.
func BlockInLine(name string) Problem {
	return fault("block-in-line", fmt.Sprintf("{%s} is in the middle of a line of text", name), "Put it in a paragraph of its own.")
}

// BlockHasShow reports "in" after a block.
func BlockHasShow(name string) Problem {
	return fault("block-has-show", fmt.Sprintf("{%s} is not a value, so it cannot have a unit", name), "Leave out in and what follows it.")
}

// BlockInText reports a block placed in a text of the front matter.
func BlockInText(name string) Problem {
	return fault("block-in-text", fmt.Sprintf("{%s} cannot be placed in a text of the front matter", name), "Place only values there; blocks go in the body.")
}

// FigureInRefusal reports a figure placed in a refuse text.
func FigureInRefusal(name string) Problem {
	return fault("figure-in-refusal", fmt.Sprintf("%s is withdrawn when this text is shown", name), "A refuse text may place given values only.")
}

// BracesInLabel reports a placement in a label, which takes none.
func BracesInLabel(text string) Problem {
	return remark("braces-in-label", "a label takes no braces, so readers would see "+text+" as written", "Name what is meant, and place the value in a text beside it.")
}

// HandTypedLabel reports a quantity in a label.
func HandTypedLabel(text string) Problem {
	return remark("hand-typed", text+" is typed by hand in a label, and nobody checks it", "A label takes no braces: name what is meant, and place the quantity in a text beside it.")
}

// HandTyped reports a quantity that nobody checks; written is how a page would
// write it, "" if that is not known.
func HandTyped(text, written string) Problem {
	hint := "Place a figure or a given in braces."
	if strings.HasPrefix(written, "-") {
		written = "(" + written + ")" // a brace opens a placement only before a letter, a digit or a bracket
	}
	if written != "" {
		hint = "Place a figure or a given in braces, or write {" + written + "} if it names a size."
	}
	return remark("hand-typed", text+" is typed by hand, and nobody checks it", hint)
}
