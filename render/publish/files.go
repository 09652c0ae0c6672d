package publish

import (
	"fmt"
	"io/fs"
	"strings"
)

// ignoreName is the one file that a published folder may hold though no publish wrote it: it keeps
// git from taking the folder's contents. It is not part of a site, so a publish carries it over.
const ignoreName = ".gitignore"

// fileAndFolder refuses a file whose name is needed for a folder.
func fileAndFolder(file, inside string) error {
	return refuse(fmt.Sprintf("the site has both a file %q and a file %q inside a folder of that name", file, inside),
		"Rename one of the two pages or files.")
}

// checkName allows only names that every system can store and the list can record.
func checkName(n string) error {
	odd := ""
	switch {
	case !fs.ValidPath(n) || n == ".":
		odd = "it must be a plain relative path"
	case strings.ContainsAny(n, "\\:") || strings.ContainsFunc(n, func(r rune) bool { return r < ' ' || r == 0x7f }):
		odd = "backslashes, colons and control characters cannot be in a file's name everywhere"
	case n == listName || n == journalName || n == ignoreName:
		odd = "that name is kept for the folder's own use"
	}
	if odd == "" {
		return nil
	}
	return refuse(fmt.Sprintf("a file cannot be published as %q: %s", n, odd), "Rename the page or file it comes from.")
}
