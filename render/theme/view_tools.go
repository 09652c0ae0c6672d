package theme

// Find is the data of find.html, the search box at the head of every page, for Shell.Find. It shows
// only if scripts run: the script sets the class "scripted" on the html element before the page is
// drawn, so that everything of class "with-script" appears.
//
// The script finds the box by its class find, and the address of the search in data-index. Parts of a
// large site's search are in the folder of that name without its ".js". For each result the script
// copies the template element in the box into the list found-list, sets the link's address and the
// texts of find-title, find-where and find-words, and shows the panel found by removing its attribute
// hidden. In found-count, which screen readers speak, it says how many results there are. The arrow
// keys move between the field and the links, Enter in the field opens the first, Escape closes the
// panel and goes back to the field. The link that Enter would open has the class first.
type Find struct {
	Index string // address of the first file of the search, relative to the page
	Top   string // the way from the page to the site's top, "" or "../"; the entries' addresses start there
	Large bool   // it is the main thing on its page, and not one of several in the head
}

// Units is the data of units.html, the switch between systems of units at the head of every page, for
// Shell.Units. Like Find it shows only if scripts run.
type Units struct {
	First string // the system that pages are written in, "metric" or "us"
}
