package site

import "html/template"

// This file and its neighbours view_*.go document what templates are given. A
// lab that replaces a template of the built-in theme writes against these
// fields: inside page.html `{{.Title}}` is Page.Title, `{{.SiteName}}` is
// Shell.SiteName, and so on. Fields are only ever added.
//
// Text fields are plain text, which the template escapes. HTML fields are
// finished, safe HTML and are written as they are. An address is relative to
// the page it stands on, so that a site works from any folder of a server and
// from a disk. Whatever is empty is not there: templates ask with if or with.
//
// Numbers reach a template finished, as <span class="q">4.95&nbsp;ml</span>,
// so that no template can round, convert or break one.

// Link is an address with the words that stand for it.
type Link struct {
	Title string
	Href  string
}

// Date is a day of the calendar.
type Date struct {
	ISO   string // as in ISO 8601, 2026-10-01; empty: no date
	Shown string // as readers see it, "1 October 2026"
}

// Shell is what stands around the content of every page. Page, Section, Front,
// Withdrawn, Missing, Register, Card and Labels all have its fields.
type Shell struct {
	Language    string        // BCP 47 tag of the site's language: "en"
	SiteName    string        // the lab's name
	Title       string        // the page's title, without the lab's name; on the front page the lab's name
	Description string        // one plain sentence for search engines and previews of links
	Home        string        // address of the front page
	Icon        string        // address of an SVG picture for the browser's tab
	Styles      []string      // addresses of style sheets, in order
	Scripts     []string      // addresses of scripts, loaded after the page; none is needed to read it
	Policy      string        // content security policy, PublishedPolicy or PreviewPolicy
	Canonical   string        // full address of the page on the published site; empty when the site has none
	Head        template.HTML // further elements for the head
	Nav         template.HTML // the sections, made by Templates.Nav, once for all pages of a folder
	Search      template.HTML // the search box, made by Templates.Search; empty: none
	Units       template.HTML // the switch between metric and US units, made by Templates.Units; empty: none
	Trail       []Link        // the folders above the page, from the front page down, without the page itself
	StaffSite   bool          // the page is rendered for the staff's site
	Preview     string        // why it is no published page ("This page is a draft."); empty on a published one
	Number      string        // document number for the foot of printed pages; empty: none
	Revision    string        // revision for the foot of printed pages; empty: none
}

// PublishedPolicy is the content security policy of published pages: nothing
// comes from elsewhere and nothing is written inline. 'self' was tried in
// Chromium 156 with style sheets, deferred scripts and pictures: it holds over
// HTTP and for pages opened from a disk, at any depth of folders.
const PublishedPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"

// PreviewPolicy is PublishedPolicy with one thing more: a page may ask the
// preview that served it what has changed.
const PreviewPolicy = PublishedPolicy + "; connect-src 'self'"

// Page is a page of the knowledge base, the data of page.html. Its parts are
// HTML that other templates of the theme have made (hazards.html, cautions.html,
// given.html, figures.html, arithmetic.html, checks.html), so that the same part looks the
// same where a page places it itself; such a part is then empty here and stands
// in Body.
type Page struct {
	Shell

	Summary  string   // one or two sentences below the title
	Staff    bool     // the page is for staff only
	Topics   []string // its topics, as written
	Control  *Control // document control; nil where the page has none
	Contents []Heading
	Straight []Link // the parts to work with, for those who have read the rest, "Set these" at "#Given"; empty where they are in sight

	Hazards    template.HTML   // GHS block of the page's substances, never in one panel with cautions
	Cautions   template.HTML   // safety messages of the page that stand at the top
	Given      template.HTML   // "Set these"
	Figures    template.HTML   // "You need", with the limits that hold, or the refusal
	Supplies   []template.HTML // what to have ready, an item each
	Tools      []template.HTML // what to work with, an item each
	Body       template.HTML   // the page's text, with what it places
	Arithmetic template.HTML   // "How it was worked out"
	Checks     template.HTML   // "Tested against"
	Papers     []Link          // what can be printed beside the page: the bench card, labels
	Notice     template.HTML   // standing notice, on every page with figures or substances

	Previous *Link  // the page before it in its section
	Next     *Link  // the page after it in its section
	Place    string // its place in the section, "3 of 15"
}

// Heading is an entry in the list of a long page's contents.
type Heading struct {
	Anchor string        // id of the heading, without #
	Title  template.HTML // text of the heading
	Level  int           // 2 for a heading directly below the title, 3 for one below that
}

// Section is the page of a folder, the data of section.html. It is a Page,
// filled from the folder's index page where there is one, with the lists of
// what the folder holds.
type Section struct {
	Page
	Sections []Entry // folders in it
	Pages    []Entry // pages in it
}

// Front is the lab's front page, the data of front.html. It is a Page, filled
// from the content folder's own index page where there is one.
type Front struct {
	Page
	Sections []Entry // the site's sections
	Pages    []Entry // pages that stand in no section
}

// Entry is one thing in a list of pages or sections.
type Entry struct {
	Title    string
	Href     string
	Summary  string
	Staff    bool     // for staff only
	Number   string   // document number; empty: none
	Revision string   // revision; empty: none
	Status   string   // "draft", "withdrawn"; empty for an approved page and one without control
	Overdue  bool     // its review is overdue; only ever true on the staff's site
	Count    int      // of a section: how many pages it holds; 0: not said
	Pages    []Link   // of a section: the first few of its pages
	Topics   []string // its topics, as written
}

// Withdrawn is a page that is no longer in force, the data of withdrawn.html.
// It has no text and no number: only what it was and whom to ask.
type Withdrawn struct {
	Shell
	Control *Control // never nil
	Ask     string   // whom to ask, a role
	Instead *Link    // the page that takes its place; nil: none is known
}

// Missing is the page for an address that is not there, the data of
// missing.html. A server shows it at whatever address was asked for, so that
// relative addresses would lead astray: Home, Icon, Styles, Nav and Sections
// here start at the root of the site on its server, "/" or "/lab/". Opened
// from a disk the page has no style, and can still be read.
type Missing struct {
	Shell
	Sections []Entry
}

// Nav is the list of sections that stands on every page, the data of nav.html.
// It is the same for all pages of a folder, so it is made once for each.
type Nav struct {
	Links []NavLink
}

// NavLink is one section in Nav.
type NavLink struct {
	Link
	// Current is "page" on the section's own page, "true" on the pages in it,
	// and empty elsewhere: the values of the HTML attribute aria-current.
	Current string
}
