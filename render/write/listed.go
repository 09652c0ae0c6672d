package write

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/work"
)

// Listed is what the lists of a site (document register, bench formulas, feed) show of a page
// besides its head.
type Listed struct {
	Calls     []string // the functions that its figures call, bench formulas or not
	Constants []Constant
	// Measured are the rows of data files for which limits hold, and the points beyond the limits of
	// their charts.
	Measured []Measured
	// Guarded says that no amount on the page may be shown anywhere without its cautions.
	Guarded bool
	HasCard bool
	// Mutations is what came of changing the page on purpose.
	Mutations Mutations
}

// Mutations counts the changes of a page that matter, and how many of them its checks notice; both
// are 0 if none was tried.
type Mutations struct{ Noticed, Counted int }

// String is both numbers in words; "" if none was tried.
func (m Mutations) String() string {
	if m.Counted == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d", m.Noticed, m.Counted)
}

// Measured is a message about a row of a data file.
type Measured struct {
	File string // relative to the content folder
	Line int
	Said string
}

// Constant is a value that the lab owns and no reader can set.
type Constant struct {
	Label, Source, Owner string
	Kind                 string // its kind's name
	Bits                 uint64 // of its value in base units
	Line                 int    // where the page gives it
	Shown                quantity.Shown
	Due                  time.Time // zero if it is never reviewed
}

// lineOf is the line at which a page gives a value.
func lineOf(g *page.Given) int {
	line, _ := g.Span.File.Place(g.Span.Start)
	return line
}

// ListedOf finds what lists show of a page, which is little for a page with errors.
func ListedOf(p *work.Page) Listed {
	if p.Sheet == nil || p.Texts == nil {
		return Listed{}
	}
	t := Listed{Guarded: p.Guarded(), HasCard: hasCard(p)}
	for _, d := range p.List {
		if source.Measured(d.Code) {
			t.Measured = append(t.Measured, Measured{d.File, d.Line, d.Message})
		}
	}
	for _, f := range p.Sheet.Figures {
		if f.Formula == nil {
			continue
		}
		for _, x := range f.Formula.Tokens() {
			if name := f.Formula.Normal()[x.Start:x.End]; x.Kind == formula.Function && !slices.Contains(t.Calls, name) {
				t.Calls = append(t.Calls, strings.Clone(name))
			}
		}
	}
	for _, g := range p.Sheet.Given {
		if g.Owner == "" || g.Settable() || !g.Known() {
			continue
		}
		due, _ := p.ConstantDue(g)
		t.Constants = append(t.Constants, Constant{Label: work.LabelOf(g.Label, g.Name), Source: g.Source, Owner: g.Owner, Kind: g.Kind.Name(),
			Bits: math.Float64bits(g.Own), Line: lineOf(g), Shown: g.Shown(g.Own), Due: due})
	}
	return t
}
