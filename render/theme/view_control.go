package theme

// Control is a page's document control (ISO 9001:2015, clause 7.5): the data
// of control-line.html, below the title, and of control.html, at the end.
type Control struct {
	Number     string
	Revision   string
	Status     string // "draft", "approved" or "withdrawn"
	Owner      string // role that answers for the page
	ApprovedBy string // role that approved it
	Approved   Date
	Effective  Date
	Review     string // how often it is reviewed, "12 months"
	ReviewDue  Date
	Overdue    Overdue  // of its review; only ever on the staff's site
	Changes    []Change // newest first
	// Since is the revision that Changed is told from, "2"; empty if none before is recorded.
	Since   string
	Changed []NumberChange // the numbers that this revision changed
	More    int            // how many more there are, in tables
	// Recorded says that what was approved is recorded, so that a page that says otherwise is
	// not published. It is not a signature.
	Recorded bool
}

// NumberChange is a number that a revision changed. Before or After is empty for one that came
// or went.
type NumberChange struct {
	Label  string
	Before Value
	After  Value
	// At is where it changed, "bath 24 °C"; empty: at the page's own values.
	At string
	// Because is what changed it, "factor is 1.07 and was 1.09"; empty: not traced.
	Because string
}
