package site

import "html/template"

// Register is the document register, the data of register.html. It is for the
// staff's site alone.
type Register struct {
	Shell
	Day       Date               // the day that it stands for
	Documents []RegisterDocument // overdue ones first, then by number
	Constants []RegisterConstant // values that somebody answers for, overdue ones first
}

// RegisterDocument is one controlled page.
type RegisterDocument struct {
	Number    string
	Title     string
	Href      string
	Revision  string
	Status    string // "draft", "approved" or "withdrawn"
	Owner     string // role; empty: not said
	Effective Date
	ReviewDue Date
	Overdue   bool
	Staff     bool     // for staff only
	Changes   []Change // what changed in each revision, newest first
}

// RegisterConstant is a fixed value of a page that a role answers for.
type RegisterConstant struct {
	Label     string
	Value     Value
	Page      Link // the page, at the value
	Source    string
	Owner     string
	ReviewDue Date
	Overdue   bool
}

// Overdue is how many documents and constants are overdue for review.
func (r Register) Overdue() int {
	n := 0
	for _, d := range r.Documents {
		if d.Overdue {
			n++
		}
	}
	for _, c := range r.Constants {
		if c.Overdue {
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
