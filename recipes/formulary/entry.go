package formulary

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Entry is one bench formula. Entries are shared: callers must not change them.
type Entry struct {
	Name, Group, Sentence string
	Params                []Param
	Result                formula.Fit
	// Formula is the text, as written or as made from a swap.
	Formula string
	Outside []Condition
	// NotWhen says when the formula must not be used.
	NotWhen []string
	// Show is how the result is customarily rounded, "" if there is no custom.
	Show   string
	Source Source
	Checks []Check
	// Masses are molar masses that the formula knows by name.
	Masses []MolarMass
	// Own tells the shop's entries from the built-in ones.
	Own bool

	trade *formula.Trade
	span  source.Span
	size  int // parts of its tree, the entries that it uses included
}

// Param is a parameter of an entry.
type Param struct {
	Name, Label string
	Fit         formula.Fit
	Range       Range
	Whole       bool
	// Lowest and Highest name the parameters of its tested window, "" for none.
	Lowest, Highest string
	Owned           bool
}

// Range is a valid range. An end is a quantity as written, "" if the range is open;
// Above and Below are ends that do not belong to it.
type Range struct{ From, To, Above, Below string }

// Condition is one in which an entry refuses.
type Condition struct {
	Param        string
	When, Reason string
}

// MolarMass is a chemical formula and its molar mass.
type MolarMass struct {
	Name, Chemical string
	// Mass is in grams per mole.
	Mass float64
}

// Check is a worked example of an entry.
type Check struct {
	// At holds a value for each parameter, in their order, as written.
	At     []quantity.Value
	Expect quantity.Expected
	// Refused says that the entry is expected to refuse.
	Refused bool
	Source  Source
	span    source.Span
}

// Class is where a value comes from.
type Class string

// The classes. A published source is named; the others are written in exactly these words.
const (
	Published      Class = "published"
	CommonPractice Class = "common practice, no source"
	FromMemory     Class = "from memory"
	MeasuredHere   Class = "measured here"
)

// Source is a class and the text that names it.
type Source struct {
	Class Class
	Text  string
}

// String is the source as it is shown.
func (s Source) String() string {
	switch {
	case s.Class == Published:
		return s.Text
	case s.Text == "":
		return string(s.Class)
	case s.Class == MeasuredHere:
		return string(s.Class) + " " + s.Text
	}
	return string(s.Class) + ": " + s.Text
}

// Call is how the entry is called: name(first, second).
func (e *Entry) Call() string { return e.trade.Form() }

// Span is where the entry's name is in its file.
func (e *Entry) Span() source.Span { return e.span }

// Trade is the entry as the formula language takes it.
func (e *Entry) Trade() *formula.Trade { return e.trade }

func (e *Entry) param(name string) int {
	for i, p := range e.Params {
		if p.Name == name {
			return i
		}
	}
	return -1
}

func (e *Entry) names() []string {
	var out []string
	for _, p := range e.Params {
		out = append(out, p.Name)
	}
	return out
}
