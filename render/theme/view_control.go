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
	Overdue    Overdue  // of its review; only on the staff's site
	Changes    []Change // newest first
	// Since is the revision with which Changed compares, "2"; empty if no earlier one is recorded.
	Since   string
	Changed []NumberChange // the numbers that this revision changed
	More    int            // how many more there are, in tables
	// Recorded says that there is a record of what was approved, so that a page that differs from
	// it is not published. It is not a signature.
	Recorded bool
}

// NumberChange is a number that a revision changed. Before is empty for a new number, After for one
// that is gone.
type NumberChange struct {
	Label  string
	Before Value
	After  Value
	// At is at which settings it changed, "bath 24 °C"; empty: at the page's own values.
	At string
	// Because is what changed it, "factor is 1.07 and was 1.09"; empty: not traced.
	Because string
}
