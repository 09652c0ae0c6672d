package theme

import (
	"html/template"
	"slices"
)

// Value is a value in the two forms a page needs.
type Value struct {
	HTML  template.HTML // as readers see it, <span class="q">500&nbsp;ml</span>
	Plain string        // as plain text, "500 ml"
}

// Given is the data of given.html, "Set these": what a reader may set, and what the page takes as
// fixed.
type Given struct {
	Rows []GivenRow
}

// Settable are the rows that a reader may change.
func (g Given) Settable() []GivenRow { return g.where(false) }

// Fixed are the rows that a reader cannot change. The built-in theme shows them below the others, one
// tap away on a screen and in full on paper.
func (g Given) Fixed() []GivenRow { return g.where(true) }

// FixedOverdue is the mark for all fixed rows: that of the row which is due first.
func (g Given) FixedOverdue() (first Overdue) {
	for _, r := range g.Fixed() {
		if due := r.Overdue.Due; due != "" && (first.Due == "" || due < first.Due) {
			first = r.Overdue
		}
	}
	return first
}

func (g Given) where(fixed bool) []GivenRow {
	n := 0
	for i := range g.Rows {
		if g.Rows[i].Fixed == fixed {
			n++
		}
	}
	switch n {
	case 0:
		return nil
	case len(g.Rows):
		return slices.Clip(g.Rows)
	}
	rows := make([]GivenRow, 0, n)
	for _, r := range g.Rows {
		if r.Fixed == fixed {
			rows = append(rows, r)
		}
	}
	return rows
}

// GivenRow is one given, the data of setting.html. Its element has its name, so that a script can turn
// it into a control; without a script it reads as text.
type GivenRow struct {
	Name    string // its name in formulas
	Label   string // its label, or the name where it has none
	Kind    string // "quantity", "number", "date", "choice" or "yes/no"
	Value   Value
	Fixed   bool  // a reader cannot set it
	Reading bool  // somebody reads it off and writes it in
	Lengthy bool  // its value is longer than half the width of a narrow phone
	Broad   bool  // its unit or its value is long, such as a rate in two units: its control takes the whole width
	From    Value // least value; Plain is empty if there is none
	To      Value // greatest value
	Step    Value // what a control moves by
	Whole   bool  // only whole numbers
	Choices []Choice
	Source  string  // where the value comes from; empty: not said
	Owner   string  // role that answers for it
	Review  string  // how often it is reviewed
	Overdue Overdue // of its review; only on the staff's site
}

// Choice is one value of a given that has a fixed set of them.
type Choice struct {
	Value  Value
	Chosen bool
}

// Figures is the data of figures.html, "You need": the labelled results.
type Figures struct {
	Limits []Limit  // those that hold; with one refused there is no number
	Rows   []Figure // empty when refused
}

// Refused says whether the numbers are withdrawn.
func (f Figures) Refused() bool { return refusedAmong(f.Limits) }

func refusedAmong(limits []Limit) bool {
	return slices.ContainsFunc(limits, func(l Limit) bool { return l.Kind == "refused" })
}

// Figure is one result.
type Figure struct {
	Name  string // its name in formulas
	Label string
	Value Value
}

// Sureness is the data of sureness.html, "How sure".
type Sureness struct {
	Rows []SureFigure // none if nothing depends on a value that may be off, or when refused
	// Bends and Unknown are what may stand in place of a number.
	Bends, Unknown string
}

// SureFigure is how sure one result is.
type SureFigure struct {
	Name       string // its name in formulas
	Label      string
	Value      Value
	GiveOrTake template.HTML // what follows the ±; empty if no number may be shown
	Cause      string        // "most from developer temperature"
	NotTold    string        // why there is no number
}

// Arithmetic is the data of arithmetic.html, "How it was worked out".
type Arithmetic struct {
	Limits []Limit   // the refusal, when the numbers are withdrawn
	Rows   []Working // in the order of working out; formulas stand even when refused
}

// Working is how one figure came about.
type Working struct {
	Name      string
	Label     string        // empty for an intermediate figure
	Formula   template.HTML // as written, coloured
	Numbers   template.HTML // the formula with numbers in place of names; empty when refused
	Result    Value         // as shown; empty when refused
	Unrounded template.HTML // the value before it was rounded to be shown; empty if it is the same
	Bench     []Link        // bench formulas that it calls, each with an explanation of its own
}

// Checks is the data of checks.html, "Tested against".
type Checks struct {
	Cases  []CheckCase
	Always []CheckAlways
}

// Report is the data of report.html, which marks where the sheet for a customer begins.
type Report struct {
	SiteName string // the lab's name
}

// CheckCase is one set of given values with what was expected of it.
type CheckCase struct {
	Case    template.HTML // the values set, "Rolls in the tank 4"; empty: the page's own values
	Results []CheckResult // at least one
	Source  string        // where the expected values come from
}

// CheckResult is one expectation and what was found.
type CheckResult struct {
	Label    string // the figure's label or name; empty for an outcome such as "refused"
	Expected template.HTML
	Found    template.HTML
}

// CheckAlways is a rule that holds at every setting, or held in every case tried.
type CheckAlways struct {
	Formula template.HTML
	Tried   int  // cases in which it was tried
	Sample  bool // they are only a sample, drawn from the ranges
	Refused int  // cases that the page refuses, in which it was not tried
	Proved  bool // for all settings, not only in cases
}
