package source

import (
	"fmt"
	"strings"
)

// What is said of a page's text, and what braces place in it.

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

// TitleInBody is said of a heading of the first level.
func TitleInBody() Problem {
	return fault("title-in-body", "the title is the page's first heading, so the body has no other of its level", "Write ## for a part of the page. A line of === below a text makes such a heading too.")
}

// CommentNotClosed is said of a comment that does not end.
func CommentNotClosed() Problem {
	return fault("comment-not-closed", "this comment does not end, so that what follows it would be left out, or the comment be shown to readers", "Write --> where the comment ends, or \\<!-- for the signs themselves.")
}

// HeadingEmpty is said of a heading without text.
func HeadingEmpty() Problem {
	return remark("heading-empty", "this heading has no text", "Write it on the same line, or write \\# for a sign.")
}

// LinkScheme is said of an address that a page must not lead to.
func LinkScheme(scheme string) Problem {
	return fault("link-scheme", scheme+": leads nowhere from a page", "Link to a page or file of the content folder, or to an address that starts with https:, http:, mailto:, tel: or sms:.")
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

// UnknownPlacement is said of braces that name nothing of the page.
func UnknownPlacement(name, nearest string) Problem {
	hint := "Braces place a given, a figure, a caution, a table, a chart, a formula, or one of given, figures, cautions, steps, arithmetic, checks."
	if nearest != "" {
		hint = "Did you mean {" + nearest + "}?"
	}
	return fault("unknown-name", fmt.Sprintf("there is no %s on this page", name), hint).offering(nearest)
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

// BracesInLabel is said of a placement in a label, which takes none.
func BracesInLabel(text string) Problem {
	return remark("braces-in-label", "a label takes no braces, so readers would see "+text+" as it stands here", "Name what is meant, and place the value in a text beside it.")
}

// HandTypedLabel is said of a quantity in a label.
func HandTypedLabel(text string) Problem {
	return remark("hand-typed", text+" is typed by hand in a label, and nobody checks it", "A label takes no braces: name what is meant, and place the quantity in a text beside it.")
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
