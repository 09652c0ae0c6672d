package site

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
	Overdue    bool     // its review is overdue; only ever true on the staff's site
	Changes    []Change // newest first
}
