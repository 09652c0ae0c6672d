package page

import (
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Sheet is a page's front matter, read and, after Resolve, with its kinds known.
type Sheet struct {
	File *source.File
	// Body is the offset of the page's text after the front matter.
	Body int

	Title, Summary  string
	Audience        Audience
	Topics          []string
	Season          []int // the months in which visitors come for it, 1 to 12, in their order
	Order           float64
	HasOrder        bool
	Control         *Control
	Cautions        []Caution
	Supplies, Tools []Prose

	Uses []*Use
	Data []*DataFile
	// Keeps is where records of this page are kept; nil if it keeps none.
	Keeps   *Keeps
	Given   []*Given
	Figures []*Figure
	Limits  []*Limit
	Checks  []*Check

	Steps      []*Step
	Grids      []*Grid
	Charts     []*Chart
	Substances []Substance
	Makes      []*Product

	// Sorted are the figures in the order in which they are worked out; Program is that
	// order with the pages drawn on in their places.
	Sorted  []*Figure
	Program []Task
	// Layout says how the values of the pages drawn on lie beside the page's own; nil for a page
	// that draws on none.
	Layout *Layout

	names  map[string]source.Span // every name of the page and where it was given
	slots  int
	slotMu sync.Mutex
	// own is how many slots hold the page's given values and figures, which come first; block is
	// how many the page has in all, with its windows and what its formulas bind. The slots of
	// pages drawn on follow, and last what formulas of the body bind.
	own, block int
	given      map[string]*Given
	figs       map[string]*Figure
	misnamed   map[string]bool // names that were refused, but that something on the page was given
	// misnamedData are the refused names of data files.
	misnamedData map[string]bool
	// limits are those that the page writes; if one is tried on rows and depends on values that
	// can be set, Limits has one for each row.
	limits []*Limit
	lists  source.List
	world  World
	// onToday are the slots that depend on the day; daySlot is the slot of the day that follows
	// the calendar, and day is the day of the build; drawsDay says that a page drawn on has one
	// that this page does not set.
	onToday          map[int]bool
	hasDay, drawsDay bool
	daySlot          int
	day              float64
	// onKept are the slots that depend on the page's own records.
	onKept map[int]bool
}

// Task is one thing that is worked out: a figure, a page drawn on, or a column added to a
// data file.
type Task struct {
	Figure *Figure
	Use    *Use
	Added  *Added
}

// Audience is who a page is for.
type Audience string

// The two audiences of a page.
const (
	Customers Audience = "customers"
	Staff     Audience = "staff"
)

// Prose is a text of the front matter that may have placements in braces.
type Prose struct {
	Text string
	// Place finds the place in the file of some bytes of the text.
	Place func(start, end int) source.Span
}

// Caution is a safety message: a signal word of ANSI Z535.6 and a text.
type Caution struct {
	Name, Word string
	Text       Prose
	Span       source.Span
}

// Given is a value that a reader or a member of staff may set.
type Given struct {
	Name, Label, Source, Owner string
	// LabelText is the label with its place.
	LabelText Prose
	// Value is the page's own, as written.
	Value quantity.Value
	Kind  quantity.Kind
	// Own is the page's own value in base units; of a text, the number of the choice.
	Own float64
	// From, To and Step bound a range; nil if the page gives none.
	From, To, Step *quantity.Value
	// Choices are the values to choose from; if they are texts, Words are these.
	Choices []quantity.Value
	Words   []string
	// Whole says that only whole numbers may be set.
	Whole bool
	// Today says that its own value is the day of the build, and in an open page the reader's
	// own day. Without a range a reader cannot set it; checks and pages that draw on this one
	// can, to any day.
	Today bool
	// Reading says that the page gives no value, because somebody reads it off and enters it.
	// Value and Own are then an example.
	Reading bool
	// Within is how far the true value may lie from the one that is set or read, 0 if the page
	// does not say; WithinText is how it is written.
	Within     float64
	WithinText string
	Review     *Period
	Show       quantity.Show
	Slot       int
	Span       source.Span
	// unsure says that the given was read with an error, so that what it takes is not known.
	unsure bool
}

// Settable reports whether the reader may change the value on the page.
func (g *Given) Settable() bool {
	return g.From != nil || len(g.Choices) > 0 || g.Kind == quantity.Yes || g.Reading
}

// Shown writes a value of the given; its own value is written as on the page.
func (g *Given) Shown(base float64) quantity.Shown {
	if g.Kind == quantity.Date {
		return g.Show.Format(base)
	}
	if base == g.Own && g.Kind.Sort != quantity.Word && g.Kind.Sort != quantity.YesNo {
		s := g.Show.Format(base)
		s.Text = g.Value.Text
		return s
	}
	for _, c := range g.Choices {
		if c.Kind == g.Kind && quantity.Equal(c.Base, base) {
			s := g.Show.Format(base)
			if c.Form == quantity.Dilution || c.Form == quantity.Fraction || c.Form == quantity.Aperture || c.Unit.Text == g.Value.Unit.Text {
				s.Text = c.Text
			}
			return s
		}
	}
	return g.exactly(base)
}

// exactly writes a value that was set, and never so that it reads as another: in the form of the
// page's own value or, if that would round it (1/6 stop in thirds), in that of the step or with
// all its digits.
func (g *Given) exactly(base float64) quantity.Shown {
	s := g.Show.Format(base)
	switch g.Show.Style {
	case quantity.Part, quantity.OneOver, quantity.Clock:
	default:
		return s
	}
	if readsAs(s.Text, base) {
		return s
	}
	if show, ok := g.Stepped(); ok {
		if s := show.Format(base); readsAs(s.Text, base) {
			return s
		}
	}
	return quantity.Show{Style: quantity.Written, Unit: g.Show.Unit}.Format(base)
}

// Stepped is the form of the values that a given's steps lead to, if it is not that of the page's
// own value: 1 1/3 stop, and not 1.333333333 stop.
func (g *Given) Stepped() (quantity.Show, bool) {
	if g.Step == nil {
		return quantity.Show{}, false
	}
	return stepped(g.Value, g.Step)
}

func readsAs(text string, base float64) bool {
	back, t := quantity.Parse(text)
	return t == nil && quantity.Equal(back.Base, base)
}

// Figure is a name and its formula.
type Figure struct {
	Name, Label string
	LabelText   Prose // the label with its place
	Formula     *formula.Formula
	Text        Prose // the formula as written
	Node        *formula.Node
	Kind        quantity.Kind
	Show        quantity.Show
	// ShowText is what the page writes after show:, "" if it writes nothing.
	ShowText string
	showAt   Prose
	// Else stands in the figure's place where its own formula is refused; if it is "", the page
	// is refused with it.
	Else  string
	Slot  int
	Span  source.Span
	state uint8
}

// LimitKind is what a limit does when it holds.
type LimitKind string

// The kinds of a limit.
const (
	Notice  LimitKind = "notice"
	Watch   LimitKind = "caution"
	Warning LimitKind = "warning"
	Refuse  LimitKind = "refuse"
)

// Limit is a yes/no formula and what to say when it holds.
type Limit struct {
	When *formula.Formula
	Node *formula.Node
	Kind LimitKind
	Text Prose
	Span source.Span
	// Each is the data file on whose rows the limit is tried; nil for a limit on the page's own
	// values. Rows are the rows meant when the limit holds.
	Each *DataFile
	Rows []int
}

// Check is a test of a page's numbers.
type Check struct {
	At     []Setting
	Expect []Expectation
	// Holds is the kind of limit that is expected to hold, "refuse" for refused.
	Holds LimitKind
	// Silent reverses Holds: no limit of that kind may hold.
	Silent bool
	Always *formula.Formula
	Node   *formula.Node
	Source string
	Text   string // of the always formula
	Span   source.Span
}

// Wanted says what is expected of the limits, such as "refuse" or "no warn"; "" for nothing.
func (c *Check) Wanted() string {
	if c.Silent {
		return "no " + string(c.Holds)
	}
	return string(c.Holds)
}

// Setting is a given value set for a check.
type Setting struct {
	Given *Given
	Base  float64
	Text  string
}

// Expectation is what a figure must show.
type Expectation struct {
	Figure *Figure
	Given  *Given
	Want   quantity.Expected
	Span   source.Span
	// Instead says that the figure is expected to be refused, with Want.Text in its place.
	Instead bool

	// text is the expected value as written, and trouble why it is not a quantity: only the
	// figure's kind reports whether it must be one.
	text    Prose
	trouble *quantity.Trouble
}

// Figure finds a figure by name, or nil.
func (s *Sheet) Figure(name string) *Figure { return s.figs[name] }

// GivenNamed finds a given by name, or nil.
func (s *Sheet) GivenNamed(name string) *Given { return s.given[name] }
