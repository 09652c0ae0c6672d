package theme

// Find is the data of find.html, the search box at the head of every page,
// for Shell.Find. It is there only where a script runs: a script that
// answers it sets the class "scripted" on the html element before the page is
// drawn, and everything of class "with-script" appears.
//
// The script finds the box by its class find, and the address of what can be found
// in data-index. Parts of a large site's search lie in the folder of that name less its
// ".js". For each result it copies the template element in the box into the
// list found-list, sets the link's address and the texts of find-title, find-where
// and find-words, and shows the panel found by taking its attribute hidden away. In
// found-count, which screen readers speak, it says how many there are, or that there
// is none. The arrow keys move between the field and the links, Enter in the field
// opens the first, Escape closes the panel and goes back to the field. The link
// that Enter would open has the class first.
type Find struct {
	Index string // address of the first file of the search, relative to the page
	Top   string // the way from the page to the site's top, "", "../"; the entries' addresses start there
	Large bool   // it is the largest thing of its page, and not one beside others in the head
}

// Units is the data of units.html, the switch between systems of units at the
// head of every page, for Shell.Units. Like Find it is there only where a
// script runs.
type Units struct {
	First string // the system that pages are written in, "metric" or "us"
}
