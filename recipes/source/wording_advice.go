package source

// Advice for the writer of a page, and messages that only the preview shows.

// GivenWithoutSource reports a fixed value that does not say where it comes from.
func GivenWithoutSource(name string) Problem {
	return advice("given-without-source", name+" is taken as fixed and does not say where its value comes from", "Add source: and, where the shop must own the value, owner:.")
}

// FigureUnguarded reports a result that no check guards.
func FigureUnguarded(name string) Problem {
	return advice("figure-unguarded", "no check guards "+name, "Add a check that expects it at some given values, or a rule that always holds.")
}

// PageFails reports, in the preview, a page that the program could not write.
func PageFails(why string) Problem {
	return fault("page-fails", "this page could not be written: "+why, "The fault is in the program, not in the page. Please report it with the page.")
}
