package sheet

import (
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Sheet is a page's front matter, read and, after Resolve, with its kinds known.
type Sheet struct {
	File *source.File
	// Body is the offset of the page's text behind the front matter.
	Body int

	Title, Summary  string
	Audience        Audience
	Topics          []string
	Order           float64
	HasOrder        bool
	Control         *Control
	Cautions        []Caution
	Supplies, Tools []Prose

	Uses    []*Use
	Data    []*DataFile
	Given   []*Given
	Figures []*Figure
	Limits  []*Limit
	Checks  []*Check

	Steps      []*Step
	StepsAt    source.Span // of the key
	Grids      []*Grid
	Charts     []*Chart
	Substances []Substance

	// Sorted are the figures in the order in which they are worked out; Program is that
	// order with the pages drawn on in their places.
	Sorted  []*Figure
	Program []Task

	names  map[string]source.Span // every name of the page and where it was given
	slots  int
	slotMu sync.Mutex
	// fixedSlots is how many of them Resolve made; formulas of the body add more.
	fixedSlots int
	given      map[string]*Given
	figs       map[string]*Figure
	misnamed   map[string]bool // names that were refused: what is given them is somewhere
	// misnamedData are those of data files among them.
	misnamedData map[string]bool
	lists        source.List
	world        World
}

// Task is one thing that is worked out: a figure, or a page drawn on.
type Task struct {
	Figure *Figure
	Use    *Use
}

// Audience is who a page is for.
type Audience string

// The two audiences of a page.
const (
	Customers Audience = "customers"
	Staff     Audience = "staff"
)

// Prose is a text of the front matter that takes placements in braces.
type Prose struct {
	Text string
	// Place turns bytes of the text into a place in the file.
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
	// Value is the page's own, as written.
	Value quantity.Value
	Kind  quantity.Kind
	// Own is the page's own value in base units; a text's is the number of its choice.
	Own float64
	// From, To and Step bound a range; nil where the page gives none.
	From, To, Step *quantity.Value
	// Choices are the values to choose from; Words their texts where they are texts.
	Choices []quantity.Value
	Words   []string
	// Whole says that only whole numbers may be set.
	Whole  bool
	Review *Period
	Show   quantity.Show
	Slot   int
	Span   source.Span
	// unsure says that an error stands at the given itself, so that what it takes is not known.
	unsure bool
}

// Settable tells whether the reader may change the value on the page.
func (g *Given) Settable() bool {
	return g.From != nil || len(g.Choices) > 0 || g.Kind == quantity.Yes
}

// Shown writes a value of the given; its own value stands as the page writes it.
func (g *Given) Shown(base float64) quantity.Shown {
	if base == g.Own && g.Kind.Sort != quantity.Word && g.Kind.Sort != quantity.YesNo {
		s := g.Show.Format(base)
		s.Text = g.Value.Text
		return s
	}
	for _, c := range g.Choices {
		if c.Kind == g.Kind && quantity.Equal(c.Base, base) {
			s := g.Show.Format(base)
			if c.Form == quantity.Dilution || c.Form == quantity.Fraction || c.Unit.Text == g.Value.Unit.Text {
				s.Text = c.Text
			}
			return s
		}
	}
	return g.exactly(base)
}

// exactly writes a value that was set: as the page's own is written, unless that is in a
// form that rounds it (1/6 stop in thirds); then in the form of the step, or with all its
// digits. What was set is never shown as another value.
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

// Stepped is how the values that the steps of a given lead to are written, where that is
// not as the page's own is: 1 1/3 stop, and not 1.333333333 stop.
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
	Formula     *formula.Formula
	Text        Prose // the formula as written
	Node        *formula.Node
	Kind        quantity.Kind
	Show        quantity.Show
	// ShowText is what the page writes after show:, "" where it writes nothing.
	ShowText string
	showAt   Prose
	Slot     int
	Span     source.Span
	state    uint8
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
}

// Check is a test of a page's numbers.
type Check struct {
	At     []Setting
	Expect []Expectation
	// Holds is the kind of limit that is expected to hold, "refuse" for refused.
	Holds  LimitKind
	Always *formula.Formula
	Node   *formula.Node
	Source string
	Text   string // of the always formula
	Span   source.Span
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
}
