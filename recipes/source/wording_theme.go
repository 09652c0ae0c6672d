package source

import "fmt"

// What is said of the files of a theme.

// ThemeSyntax is said of a template that does not read as one.
func ThemeSyntax(detail string) Problem {
	return fault("theme-syntax", "this template cannot be read: "+detail, "Templates are Go html/template files: look for a missing {{end}}, quote or brace in this line or the one before it.")
}

// ThemeFunction is said of a function that templates do not have.
func ThemeFunction(name, nearest string) Problem {
	return fault("theme-function", "templates have no function called "+name, offer(nearest, "Only the built-in functions of Go templates are there, such as len, index and printf."))
}

// ThemeField is said of a value that the data at this place does not hold.
func ThemeField(name, view, nearest string) Problem {
	return fault("theme-field", view+" has no "+name, offer(nearest, "render/theme/view.go and the files beside it list what templates are given."))
}

// ThemeTemplate is said of a template that is asked for and not there.
func ThemeTemplate(name, nearest string) Problem {
	return fault("theme-template", "there is no template called "+name, offer(nearest, "A template is a file of that name, ending in .html, in the theme folder."))
}

// ThemeEmpty is said of a value asked of something that may be empty.
func ThemeEmpty(field string) Problem {
	return fault("theme-empty", field+" is asked of something that is empty here", "Ask first whether it is there, with {{with}} or {{if}}.")
}

// ThemeRun is said of any other failure while a template is filled.
func ThemeRun(detail string) Problem {
	return fault("theme-run", "this template cannot be filled: "+detail, "")
}

// ThemeTooMuch is said of a template that was stopped while it was filled.
func ThemeTooMuch(what string) Problem {
	return fault("theme-too-much", "this template was stopped, since "+what, "Look for a {{range}} over a large number, or for one within another, here and in the templates that it asks for.")
}

// ThemeCircle is said of templates that ask for one another; way leads from one of them back
// to it.
func ThemeCircle(way string) Problem {
	return fault("theme-circle", "this comes back to where it began: "+way, "A template cannot ask for itself, neither directly nor by way of others.")
}

// ThemeDeep is said of blocks, ranges or templates, each of which stands in or asks for the
// next.
func ThemeDeep(what string, most int) Problem {
	return fault("theme-deep", fmt.Sprintf("more than %d %s stand within one another here", most, what), "Make a template of its own of the inner ones, or do with fewer.")
}

// ThemeUnsafe is said of a template that puts a value where it cannot be made safe.
func ThemeUnsafe(detail string) Problem {
	return fault("theme-unsafe", "a value in this template cannot be made safe: "+detail, "Close every tag and quote in the file that opens it, and put values only in text, in quoted attributes and in addresses.")
}

// ThemeDrops is said of a template that leaves out a safety message.
func ThemeDrops(what string) Problem {
	return fault("theme-drops", "this template leaves out "+what, "A theme may change how a safety message looks, but every one of them must stand on the page.")
}

// ThemeOrder is said of a template that puts numbers above safety messages.
func ThemeOrder(what string) Problem {
	return fault("theme-order", "this template puts "+what+" below the first number", "Hazards and cautions stand above every number of the page.")
}

// ThemeFixed is said of a theme's file that would replace one that must stay.
func ThemeFixed(name string) Problem {
	return fault("theme-fixed", name+" cannot be replaced", "It keeps safety messages in sight. Put other rules in lab.css.")
}

// ThemeRenamed is said of a theme's file that has the name of an earlier theme.
func ThemeRenamed(old, now string) Problem {
	return fault("theme-renamed", old+" is called "+now+" now", "Rename the file. What it is given has new names too: themes/"+now+" shows them.")
}

// ThemeFolder is said of a theme folder that cannot be read.
func ThemeFolder(detail string) Problem {
	return fault("theme-folder", "the theme folder cannot be read: "+detail, "theme in labsite.yaml names a folder.")
}

// ThemeTop is said of a theme that is the content folder itself.
func ThemeTop(name string) Problem {
	return fault("theme-top", fmt.Sprintf("%s is the content folder itself, and all files of a theme are published", name), themeAlone)
}

// ThemePages is said of a theme folder with pages in it.
func ThemePages(folder, page string) Problem {
	return fault("theme-pages", fmt.Sprintf("%s holds pages (%s), and all files of a theme are published as they are", folder, page), themeAlone)
}

const themeAlone = "Name a folder that holds the files of the theme and nothing else, such as theme: look."

// ThemeHidden is said of a theme folder that nothing looks at.
func ThemeHidden(folder string) Problem {
	return fault("theme-hidden", folder+" begins with a full stop, and nothing looks at such folders", "Give the folder another name.")
}

// ThemeLinked is said of a theme folder that is a symbolic link, or lies behind one.
func ThemeLinked(folder string) Problem {
	return fault("theme-linked", folder+" is a symbolic link", "Put the folder itself here: a link can lead to files that nobody means to publish.")
}

// ThemeNoFolder is said of a theme that is a file.
func ThemeNoFolder(name string) Problem {
	return fault("theme-no-folder", name+" is no folder", themeAlone)
}

// ThemeNowhere is said of a theme folder that is not there under this very name.
func ThemeNowhere(name, nearest string) Problem {
	return fault("theme-nowhere", "there is no folder "+name, offer(nearest, "The path is relative to the content folder, in capital and small letters as the folder is named."))
}

// ThemeSubfolder is said of a folder in a theme's folder.
func ThemeSubfolder(name string) Problem {
	return fault("theme-subfolder", name+" is a folder, and a theme has none", "Put its files beside the others of the theme, or take it out.")
}

// ThemeFileLinked is said of a file of a theme that is a symbolic link.
func ThemeFileLinked(name string) Problem {
	return fault("theme-file-linked", name+" is a symbolic link", "Put the file itself here: a link can lead to a file that nobody means to publish.")
}

// ThemeHolds is said of a file that a theme may not hold.
func ThemeHolds(name, endings string) Problem {
	return fault("theme-holds", name+" is none of the files that a theme holds", "A theme holds templates, styles, scripts, pictures and fonts, with these endings in small letters: "+endings+". Take everything else out of its folder.")
}

// ThemeMany is said of a theme folder with more files than a theme has.
func ThemeMany(folder string, most int) Problem {
	return fault("theme-many", fmt.Sprintf("%s holds more than %d files", folder, most), themeAlone)
}

// ThemeNoUse is said of a file in a theme folder that nothing uses.
func ThemeNoUse(name, nearest string) Problem {
	return remark("theme-no-use", "nothing uses the template "+name, offer(nearest, "It is used when another template asks for it by its name."))
}

func offer(nearest, otherwise string) string {
	if nearest == "" {
		return otherwise
	}
	return "Did you mean " + nearest + "?"
}
