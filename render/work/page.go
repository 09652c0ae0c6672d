package work

import (
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/markdown"
	"slices"
)

// Page is a page held in full on a desk.
type Page struct {
	*content.Page
	File  *source.File
	Sheet *page.Sheet // nil if the front matter cannot be read
	Body  *markdown.Document
	Proof *prove.Proof // nil if the page has errors
	Texts *Texts       // its texts with their placements bound; nil until it is made
	// Script is what its script is written from; nil if a reader can set nothing and nothing
	// follows the calendar.
	Script *Script
	// Standard is what was approved of it; nil for a page without document control.
	Standard *Standard
	// List is what is wrong with the page.
	List source.List
	// Resolved says that all kinds are known and nothing is wrong with the page.
	Resolved bool
	// scoped says that the kinds of all names are known, but for those whose own lines are wrong, so
	// that a text's formulas can be checked although the page is.
	scoped bool
	// inferred is Resolved as it was before the page was made: errors of pages that draw on this one
	// must not depend on whether it is made already.
	inferred bool

	unapproved        int  // errors that say how it differs from what was approved
	wrong             bool // it has an error, or something that it draws on has
	unlistedSubstance bool // it or a page drawn on names a substance that the hazard list does not have
	// callsBroken says that it calls one of the lab's own bench formulas while those have errors.
	callsBroken bool
	// failing says that the page fails for a reason reported at another page.
	failing  bool
	asked    asked
	placings []Placing
	dead     int // links that lead nowhere
	dues     []due
	words    WordSet
	phase    phase
	current  int // the generation for which its answers were found to hold
}

// phase is how far the work on a page has come.
type phase uint8

const (
	fresh phase = iota
	read
	resolved
	making
	made
)

func (p *Page) report(d source.Diagnostic) { p.List = append(p.List, d) }

// Trusted reports whether the numbers of a page can be relied on: they were worked out, nothing
// is wrong with what they come from, and all its hazards are known. A page without numbers is
// always trusted. One that is not trusted is shown nowhere, not even below its errors.
func (p *Page) Trusted() bool {
	if p.Sheet == nil || len(p.Sheet.Given)+len(p.Sheet.Figures)+len(p.Sheet.Uses)+len(p.Sheet.Data)+len(p.Sheet.Makes) == 0 {
		return true
	}
	return p.Resolved && p.Proof != nil && len(p.Proof.Own.Failed) == 0 && !p.unlistedSubstance
}

// Wrong reports whether the page has an error, or something that it draws on has.
func (p *Page) Wrong() bool { return p.wrong }

// Settable reports whether a reader may change anything of the page.
func (p *Page) Settable() bool {
	for _, g := range p.Sheet.Given {
		if g.Settable() {
			return true
		}
	}
	return false
}

// Follows reports whether values of the page depend on the day.
func (p *Page) Follows() bool {
	_, _, follows := p.Sheet.Day()
	return follows
}

// Guarded reports whether the page handles something that can hurt, so that its amounts must not be
// shown anywhere without its cautions.
func (p *Page) Guarded() bool {
	sh := p.Sheet
	if len(sh.Cautions) > 0 || len(sh.AllCautions()) > 0 || len(sh.AllSubstances()) > 0 {
		return true
	}
	return slices.ContainsFunc(sh.Steps, func(st *page.Step) bool { return st.Own != nil || st.Caution >= 0 })
}
