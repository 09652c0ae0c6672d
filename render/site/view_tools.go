package site

// Search is the data of search.html, the search box at the head of every page,
// for Shell.Search. It stands there only where a script runs: a script that
// answers it sets the class "scripted" on the html element before the page is
// drawn, and everything of class "with-script" appears.
//
// The script finds the box by its class "find" and reads data-index. For each
// result it copies the template element in it, and fills find-title, find-where
// and find-words; the results are the options of the list, which it shows and
// hides with the attribute hidden, and it keeps aria-expanded and
// aria-activedescendant of the field true to them.
type Search struct {
	Index string // address of the search entries, relative to the page
	Top   string // the way from the page to the site's top, "", "../"; the entries' addresses start there
}

// Units is the data of units.html, the switch between systems of units at the
// head of every page, for Shell.Units. Like Search it stands there only where a
// script runs.
type Units struct {
	First string // the system that pages are written in, "metric" or "us"
}
