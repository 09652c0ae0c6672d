package theme

import "html/template"

// Register is the document register, the data of register.html. Only the staff's site has it.
type Register struct {
	Shell
	Documents []RegisterDocument // overdue ones first, then by number
	Approvals []RegisterApproval // the record of each document, those without one first
	Constants []RegisterConstant // values that somebody answers for, overdue ones first
	Measured  []RegisterMeasured // rows for which limits hold and points beyond limits, by page
	Guards    bool               // checks were tried by changing documents on purpose
}

// RegisterDocument is a page with document control.
type RegisterDocument struct {
	Number    string
	Title     string
	Href      string
	Revision  string
	Status    string // "draft", "approved" or "withdrawn"
	Owner     string // role; empty: not said
	Effective Date
	ReviewDue Date
	Overdue   Overdue
	Record    *RegisterApproval // about its record; nil for a page that needs no approval
	Guarded   string            // how many changes its checks notice, "34 of 36"; empty: not tried
	Staff     bool              // for staff only
	Changes   []Change          // what changed in each revision, newest first
}

// Unrecorded reports whether there is no record of what should have been approved.
func (d RegisterDocument) Unrecorded() bool { return d.Record != nil && d.Record.By == "" }

// Waits reports whether a new revision waits for the day on which it takes effect.
func (d RegisterDocument) Waits() bool { return d.Record != nil && d.Record.Waiting != "" }

// RegisterApproval is what the lab's records say about a page in force.
type RegisterApproval struct {
	Number   string
	Title    string
	Href     string
	Revision string
	By       string // the role that approved it; empty: there is no record
	On       Date
	Recorded Date   // when the record was written
	Waiting  string // the revision that waits to take effect; empty: none
	From     Date   // the day on which it does
}

// RegisterMeasured is a row of a data file for which a page's limit holds, or a measured point
// beyond the limits of its chart.
type RegisterMeasured struct {
	Page Link
	File string
	Line int
	Said string // what is wrong with it
}

// RegisterConstant is a fixed value of a page that a role answers for.
type RegisterConstant struct {
	Label     string
	Value     Value
	Page      Link // the page, at the value
	Source    string
	Owner     string
	ReviewDue Date
	Overdue   Overdue
}

// Overdue counts the documents and constants that are marked as overdue for review at once, which is
// only in the preview.
func (r Register) Overdue() int {
	n := 0
	for _, d := range r.Documents {
		if d.Overdue.Past {
			n++
		}
	}
	for _, c := range r.Constants {
		if c.Overdue.Past {
			n++
		}
	}
	return n
}

// Change is what changed in one revision.
type Change struct {
	Revision string
	Text     template.HTML
}
