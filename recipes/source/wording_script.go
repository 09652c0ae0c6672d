package source

import "fmt"

// Messages about a page's script.

// ScriptFails reports a page's script that does not run.
func ScriptFails(why string) Problem {
	return fault("script-fails", "the script of this page does not run: "+why, "The fault is in the program, not in the page. Please report it with the page.")
}

// ScriptDiffers reports a page's script whose result differs from the build's.
func ScriptDiffers(what, at, want, found string) Problem {
	return fault("script-differs", fmt.Sprintf("at %s the build and the page's script differ in %s: %s there, %s here", at, what, want, found), "The fault is in the program, not in the page. Please report it with the page.")
}
