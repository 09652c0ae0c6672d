package source

import "fmt"

// Messages about the files of a theme.

// ThemeSyntax reports a template that cannot be parsed.
func ThemeSyntax(detail string) Problem {
	return fault("theme-syntax", "this template cannot be read: "+detail, "Templates are Go html/template files: look for a missing {{end}}, quote or brace in this line or the one before it.")
}

// ThemeFunction reports a function that templates do not have.
func ThemeFunction(name, nearest string) Problem {
	return fault("theme-function", "templates have no function called "+name, offer(nearest, "Only the built-in functions of Go templates can be called, such as len, index and printf."))
}

// ThemeField reports a field that the data here does not have.
func ThemeField(name, view, nearest string) Problem {
	return fault("theme-field", view+" has no "+name, offer(nearest, "render/theme/view.go and the files beside it list what templates are given."))
}

// ThemeTemplate reports a call of a template that does not exist.
func ThemeTemplate(name, nearest string) Problem {
	return fault("theme-template", "there is no template called "+name, offer(nearest, "A template is a file of that name, ending in .html, in the theme folder."))
}

// ThemeEmpty reports a field of something that may be empty.
func ThemeEmpty(field string) Problem {
	return fault("theme-empty", field+" is used on something that is empty here", "Test first whether it is there, with {{with}} or {{if}}.")
}

// ThemeRun reports any other failure while a template is executed.
func ThemeRun(detail string) Problem {
	return fault("theme-run", "this template cannot be filled: "+detail, "")
}

// ThemeTooMuch reports a template that was stopped while it was executed.
func ThemeTooMuch(what string) Problem {
	return fault("theme-too-much", "this template was stopped, since "+what, "Look for a {{range}} over a large number, or for one within another, here and in the templates that it calls.")
}

// ThemeCircle reports templates that call one another; way leads from one of them back
// to it.
func ThemeCircle(way string) Problem {
	return fault("theme-circle", "this template calls itself: "+way, "A template cannot call itself, directly or through others.")
}

// ThemeDeep reports blocks, ranges or templates nested too deeply, where what names
// which.
func ThemeDeep(what string, most int) Problem {
	return fault("theme-deep", fmt.Sprintf("more than %d %s are nested here", most, what), "Move the inner ones into a template of their own, or use fewer.")
}

// ThemeUnsafe reports a template that puts a value where it cannot be made safe.
func ThemeUnsafe(detail string) Problem {
	return fault("theme-unsafe", "a value in this template cannot be made safe: "+detail, "Close every tag and quote in the file that opens it, and put values only in text, in quoted attributes and in addresses.")
}

// ThemeDrops reports a template that leaves out a safety message.
func ThemeDrops(what string) Problem {
	return fault("theme-drops", "this template leaves out "+what, "A theme may change how a safety message looks, but every one of them must be on the page.")
}

// ThemeOrder reports a template that puts numbers above safety messages.
func ThemeOrder(what string) Problem {
	return fault("theme-order", "this template puts "+what+" below the first number", "Hazards and cautions stand above every number of the page.")
}

// ThemeFixed reports a theme's file that would replace one that cannot be replaced.
func ThemeFixed(name string) Problem {
	return fault("theme-fixed", name+" cannot be replaced", "It keeps safety messages visible. Put your own rules in lab.css.")
}

// ThemeRenamed reports a theme's file that has the name of an earlier theme.
func ThemeRenamed(old, now string) Problem {
	return fault("theme-renamed", old+" is now called "+now, "Rename the file. Its data has new names too: themes/"+now+" shows them.")
}

// ThemeFolder reports a theme folder that cannot be read.
func ThemeFolder(detail string) Problem {
	return fault("theme-folder", "the theme folder cannot be read: "+detail, "theme in labsite.yaml names a folder.")
}

// ThemeTop reports a theme that is the content folder itself.
func ThemeTop(name string) Problem {
	return fault("theme-top", fmt.Sprintf("%s is the content folder itself, and all files of a theme are published", name), themeAlone)
}

// ThemePages reports a theme folder with pages in it.
func ThemePages(folder, page string) Problem {
	return fault("theme-pages", fmt.Sprintf("%s holds pages (%s), and all files of a theme are published as they are", folder, page), themeAlone)
}

const themeAlone = "Name a folder that holds the files of the theme and nothing else, such as theme: look."

// ThemeHidden reports a theme folder that is ignored because its name begins with a full stop.
func ThemeHidden(folder string) Problem {
	return fault("theme-hidden", folder+" begins with a full stop, and such folders are ignored", "Give the folder another name.")
}

// ThemeLinked reports a theme folder that is a symbolic link, or lies behind one.
func ThemeLinked(folder string) Problem {
	return fault("theme-linked", folder+" is a symbolic link", "Put the folder itself here: a link can lead to files that nobody means to publish.")
}

// ThemeNoFolder reports a theme that is a file.
func ThemeNoFolder(name string) Problem {
	return fault("theme-no-folder", name+" is not a folder", themeAlone)
}

// ThemeNowhere reports a theme folder that does not exist under exactly this name.
func ThemeNowhere(name, nearest string) Problem {
	return fault("theme-nowhere", "there is no folder "+name, offer(nearest, "The path is relative to the content folder; capital and small letters matter."))
}

// ThemeSubfolder reports a folder in a theme's folder.
func ThemeSubfolder(name string) Problem {
	return fault("theme-subfolder", name+" is a folder, and a theme may not have folders", "Put its files beside the theme's other files, or remove it.")
}

// ThemeFileLinked reports a file of a theme that is a symbolic link.
func ThemeFileLinked(name string) Problem {
	return fault("theme-file-linked", name+" is a symbolic link", "Put the file itself here: a link can lead to a file that nobody means to publish.")
}

// ThemeHolds reports a file that a theme may not hold.
func ThemeHolds(name, endings string) Problem {
	return fault("theme-holds", name+" is not a file that a theme may have", "A theme has templates, styles, scripts, pictures and fonts, with these endings in lower case: "+endings+". Take everything else out of its folder.")
}

// ThemeMany reports a theme folder with more files than a theme has.
func ThemeMany(folder string, most int) Problem {
	return fault("theme-many", fmt.Sprintf("%s holds more than %d files", folder, most), themeAlone)
}

// ThemeNoUse reports a template in a theme folder that nothing uses.
func ThemeNoUse(name, nearest string) Problem {
	return remark("theme-no-use", "nothing uses the template "+name, offer(nearest, "A template is used when another one calls it by name."))
}

func offer(nearest, otherwise string) string {
	if nearest == "" {
		return otherwise
	}
	return "Did you mean " + nearest + "?"
}
