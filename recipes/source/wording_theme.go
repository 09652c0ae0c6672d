package source

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
	return fault("theme-field", view+" has no "+name, offer(nearest, "render/site/view.go and the files beside it list what templates are given."))
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

// ThemeFolder is said of a theme folder that cannot be read.
func ThemeFolder(detail string) Problem {
	return fault("theme-folder", "the theme folder cannot be read: "+detail, "theme in labsite.yaml names a folder.")
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
