package source

import "fmt"

// Messages about the files that a lab hands out along with its pages.

// LinkKind reports a link to a file that a page may not link to.
func LinkKind(name, may string) Problem {
	return fault("link-kind", name+" is not a file that a page can hand out", "A page links to other pages (.md) and to "+may+". Put anything else into a ZIP archive, or show what readers need of it on the page.")
}

// PictureKind reports a picture in a format that pages do not show.
func PictureKind(name string) Problem {
	return fault("picture-kind", name+" is not a picture that a page can show", "Use PNG, JPEG, GIF, WebP or a plain SVG.")
}

// FileOtherForm reports a file whose contents are in another format than its name says.
func FileOtherForm(name, says, is, ending string) Problem {
	return fault("file-other-form", fmt.Sprintf("%s is named as %s, but its contents are %s", name, says, is), "Give it the ending "+ending+", or save it again as "+says+".")
}

// FileNoForm reports a file whose bytes are not what its name says.
func FileNoForm(name, says string) Problem {
	return fault("file-no-form", fmt.Sprintf("%s is named as %s, but its contents are something else", name, says), "Save it again from the program that made it, as "+says+".")
}

// FileBroken reports a file that cannot be read as what it is.
func FileBroken(name, form, why string) Problem {
	return fault("file-broken", fmt.Sprintf("%s cannot be read as %s: %s", name, form, why), "Save it again from the program that made it, as "+form+".")
}

// FileMarkup reports a picture that a program could take for a web page.
func FileMarkup(name, tag string) Problem {
	return fault("file-markup", fmt.Sprintf("%s is a picture but contains the start of a web page, %s", name, tag), "Export the picture again from the program that made it, or save it as PNG.")
}

// PictureUnsafe reports an SVG that could run or load something, or that draws without end.
func PictureUnsafe(name, what string, line int) Problem {
	return fault("picture-unsafe", fmt.Sprintf("%s holds %s%s", name, what, onLine(line)), "Save it as a plain SVG of shapes and text, with styles as attributes and text as text, or as PNG.")
}

// PictureNameless reports an SVG that no browser would show.
func PictureNameless(name string, line int) Problem {
	return fault("picture-nameless", fmt.Sprintf("%s does not say that it is an SVG%s", name, onLine(line)), `Its first element begins <svg xmlns="http://www.w3.org/2000/svg".`)
}

// PictureLarge reports a picture with more pixels than a page hands out.
func PictureLarge(name string, width, height, most int) Problem {
	return fault("picture-large", fmt.Sprintf("%s has %d × %d pixels over all its frames; the limit is %d million in all", name, width, height, most/1_000_000), "Save it smaller: a page seldom shows more than 2,000 pixels across.")
}

// DocumentMacros reports an office document with programs in it.
func DocumentMacros(name, part string) Problem {
	return fault("document-macros", fmt.Sprintf("%s holds macros (%s)", name, part), "Save it without macros, or as PDF.")
}

// TextUnfit reports a text that browsers would not read, with what is wrong with it.
func TextUnfit(name string, line int, message, hint string) Problem {
	return fault("text-unfit", fmt.Sprintf("%s%s: %s", name, onLine(line), message), hint)
}

func onLine(line int) string {
	if line == 0 {
		return ""
	}
	return fmt.Sprintf(" (line %d)", line)
}

// FileTooLarge reports a file larger than its kind may be.
func FileTooLarge(name string, bytes, most int64) Problem {
	return fault("file-too-large", fmt.Sprintf("%s has %s; the limit is %s", name, megabytes(bytes), megabytes(most)), "Make it smaller, or split it.")
}

// megabytes writes the size of a file the way people say it.
func megabytes(bytes int64) string {
	if bytes < 1<<20 {
		return fmt.Sprintf("%d bytes", bytes)
	}
	return fmt.Sprintf("%.1f MiB", float64(bytes)/(1<<20))
}

// PictureElsewhere reports a picture from another server.
func PictureElsewhere() Problem {
	return fault("picture-elsewhere", "a picture from another server would not show on the site", "Put a copy of it beside the page.")
}
