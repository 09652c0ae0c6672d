package theme

import "html/template"

// This file and view_*.go document what templates are given. A lab that replaces a template of the
// built-in theme relies on these fields: inside instruction.html `{{.Title}}` is Instruction.Title,
// `{{.SiteName}}` is Shell.SiteName, and so on.
//
// Text fields are plain text, which the template escapes. HTML fields are finished, safe HTML and
// are written as they are. An address is relative to the page that it is on, so that a site works
// from any folder of a server and from a disk. What a page does not have is empty: templates test it
// by if or with.
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

// Overdue is what a mark needs to say that a review is overdue. A published page is the same on every
// day; its script shows the mark once the day has passed.
type Overdue struct {
	Due  string // last day on which the review is in time, as in ISO 8601; empty: no mark
	Past bool   // the mark shows at once; only in the preview, which knows its day
}

// Shell is what stands around the content of every page. Instruction, Drawer, Front, Withdrawn,
// Missing, Register, Card, Labels and Products all have its fields.
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
	DrawerNames template.HTML // the sections, made by Templates.DrawerNames, once for all pages of a folder
	Find        template.HTML // the search box, made by Templates.Find; empty: none
	Units       template.HTML // the switch between metric and US units, made by Templates.Units; empty: none
	Trail       []Link        // the folders above the page, from the front page down, without the page itself
	StaffSite   bool          // the page is rendered for the staff's site
	Preview     string        // why it is no published page, "This page is a draft."; empty on a published one
	Number      string        // document number for the foot of printed pages; empty: none
	Revision    string        // revision for the foot of printed pages; empty: none
	SetTo       []Setting     // what a page that can be set is at, for the foot of each printed sheet
}

// Setting is a value that a reader may set, with what it is set to.
type Setting struct {
	Name  string // its name in formulas
	Label string
	Value Value
}

// PublishedPolicy is the content security policy of published pages: nothing
// comes from elsewhere and nothing is written inline. 'self' was tried in
// Chromium 156 with style sheets, deferred scripts and pictures: it holds over
// HTTP and for pages opened from a disk, at any depth of folders.
const PublishedPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"

// PreviewPolicy also lets a page ask the preview that served it what has changed.
const PreviewPolicy = PublishedPolicy + "; connect-src 'self'"

// Block is a part of a page, made by the template of its name (given.html, figures.html, steps.html,
// arithmetic.html, checks.html). It looks the same if the page's text places it; it is then in Body
// and not in the lists of Instruction.
type Block struct {
	Name string
	HTML template.HTML
}

// Record is what a record that a reader makes on a page says about the page: data attributes in
// instruction.html, which record.js reads.
type Record struct {
	Lab, Page string // the lab's name, and the page's path in the content folder without its ending
	Number    string // its document number; empty: none
	Revision  int    // 0: none
	Keeps     bool   // the page keeps its records
}

// Instruction is a page of the knowledge base, such as a guide or a procedure: the data
// of instruction.html. Its parts are HTML that other templates of the theme have made.
type Instruction struct {
	Shell

	Summary  string   // one or two sentences below the title
	Staff    bool     // the page is for staff only
	Topics   []string // its topics, as written
	Control  *Control // document control; nil if the page has none
	Recall   string   // what recall.js needs to judge paper that is opened by its code, as JSON; empty: nothing
	Record   *Record  // what records made on this page say about it; nil if the page makes none
	Contents []Heading
	Straight []Link // links to the parts to work with, for those who have read the rest, "Set these" at "#Given"; empty if these are in sight

	Hazards   template.HTML   // GHS block of the page's substances, never in one panel with cautions
	Cautions  template.HTML   // safety messages of the page that are at the top
	Panel     []Block         // values and results, "Set these" and "You need", with the limits that hold, or the refusal
	Process   []Block         // what is done with them: the steps
	Supplies  []template.HTML // what to have ready, an item each
	Tools     []template.HTML // what to work with, an item each
	Body      template.HTML   // the page's text, with what it places
	Basis     []Block         // "How it was worked out", "Tested against"
	Aftercare template.HTML   // the rest of the GHS block, for after the work: first aid, waste, sources
	Onward    []Link          // where to go with the values: the steps, then Papers
	Papers    []Link          // what can be printed beside the page: the bench card, labels
	Notice    template.HTML   // standing notice, on every page with figures or substances

	Before *Link  // the page before it in its section
	After  *Link  // the page after it in its section
	Place  string // its place in the section, "3 of 15"
}

// Given, Figures, Arithmetic and Checks are the blocks of these names, for a theme that gives each a
// place of its own; empty if the page's text places the block.
func (v *Instruction) Given() template.HTML      { return blockNamed(v.Panel, "given") }
func (v *Instruction) Figures() template.HTML    { return blockNamed(v.Panel, "figures") }
func (v *Instruction) Arithmetic() template.HTML { return blockNamed(v.Basis, "arithmetic") }
func (v *Instruction) Checks() template.HTML     { return blockNamed(v.Basis, "checks") }

func blockNamed(list []Block, name string) template.HTML {
	for _, b := range list {
		if b.Name == name {
			return b.HTML
		}
	}
	return ""
}

// Heading is an entry in the list of a long page's contents.
type Heading struct {
	Anchor string        // id of the heading, without #
	Title  template.HTML // text of the heading
	Level  int           // 2 for a heading directly below the title, 3 for one below that
}

// Drawer is the page of a section, the data of drawer.html: the theme shows a lab's sections as the
// drawers of a cabinet. It is an Instruction, filled from the folder's index page if there is one,
// with lists of what the folder holds.
type Drawer struct {
	Instruction
	Desk
	Cabinet []Entry // sections in it
	Filed   []Entry // pages in it
}

// Desk is what a page that lists others shows first.
type Desk struct {
	Asked  template.HTML // the search box, large; it is here and not in the head
	Season []InSeason    // pages that visitors come for in some months, in the site's order
}

// InSeason is a page that visitors come for in some months. A script puts those of the present month
// first, then those whose months come next.
type InSeason struct {
	Link
	Months string // their numbers, "6 7 8"
	When   string // the same as readers see it, "June to August"
}

// Front is the lab's front page, the data of front.html. It is an Instruction, filled from the content
// folder's own index page if there is one.
type Front struct {
	Instruction
	Desk
	Cabinet []Entry // the site's sections
	Filed   []Entry // pages that are in no section
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
	Overdue  Overdue  // of its review; only on the staff's site
	Count    int      // of a section: how many pages it holds; 0: not said
	OnTop    []Link   // of a section: the first few of its pages
	Topics   []string // its topics, as written
}

// Withdrawn is a page that is no longer in force, the data of withdrawn.html.
// It has no text and no number: only what it was and whom to ask.
type Withdrawn struct {
	Shell
	Control *Control // never nil
	Ask     string   // whom to ask, a role
}

// Missing is the page for an address that does not exist, the data of missing.html. A server shows it
// at whatever address was asked for, where relative addresses would be wrong: so Home, Icon, Styles,
// DrawerNames and Cabinet start at the root of the site on its server, "/" or "/lab/". Opened from a
// disk the page has no style, but can be read.
type Missing struct {
	Shell
	Desk
	Cabinet []Entry
}

// DrawerNames is the list of sections that is on every page, the data of drawer-names.html. It is the
// same for all pages of a folder, so it is made once for each folder.
type DrawerNames struct {
	Links []DrawerName
}

// DrawerName is one section in DrawerNames.
type DrawerName struct {
	Link
	// Current is "page" on the section's own page, "true" on the pages in it,
	// and empty elsewhere: the values of the HTML attribute aria-current.
	Current string
}
