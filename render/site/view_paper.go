package site

import (
	"html/template"
	"strings"
)

// Card is a bench card, the data of card.html: one sheet to work from, black on
// white, in a sleeve. Its look is card.css. It has the same guard as a page: no
// safety message may be left out or stand below the first number.
//
// One file holds all sizes: without an anchor it is A5; CARD.html#A6 and
// CARD.html#Half-letter are the others. A printer gets the size by itself.
type Card struct {
	Shell                // Styles is card.css; Canonical is the page's own address, not the card's
	Page   Link          // the page that it is made from, relative to the card
	Made   Date          // the day that it was made
	Short  string        // the page's address as it is typed by hand, "brindleweir.example/mixing/one-shot.html"; empty: none
	Code   template.HTML // SVG of a QR code with the same address; empty: none
	Status string        // "draft": the card says so; else empty
	Staff  bool          // for staff only

	Hazards  *Hazards  // nil: the page names no substance
	Cautions []Caution // all of the page's, the gravest first
	Given    Given     // only what a reader may set stands on the card
	Figures  Figures   // with the limits that hold, or the refusal
	Steps    *Steps    // nil: the page has none
	Notice   template.HTML
}

// Full says how full the card is, "roomy", "even", "close" or "tight": the fuller, the
// smaller the theme sets its type, so that it fits its sheet. It is an estimate
// in lines of type and cuts nothing off: what does not fit runs to a second sheet.
func (c Card) Full() string {
	const across = 46 // characters a line, roughly
	lines := 0
	add := func(text template.HTML) { lines += 1 + len(tagless(text))/across }
	for _, k := range c.Cautions {
		lines++
		add(k.Text)
	}
	if c.Hazards != nil {
		lines += 3
		n := 0
		for _, s := range c.Hazards.Statements {
			n += len(s.Text)
		}
		for _, u := range c.Hazards.Unknown {
			n += len(u)
		}
		lines += n / across
	}
	for _, l := range c.Figures.Limits {
		add(l.Text)
	}
	lines += len(c.Given.Settable()) + 2*(len(c.Figures.Rows)+1)/2
	if c.Steps != nil {
		for _, s := range c.Steps.Rows {
			add(s.Do)
			if s.Agitate != nil {
				lines += 1 + len(s.Agitate.Moments)/9
			}
			if s.PourAt != nil || s.Aim != "" || s.Hold != "" {
				lines++
			}
		}
	}
	switch {
	case lines <= 16:
		return "roomy"
	case lines <= 26:
		return "even"
	case lines <= 38:
		return "close"
	}
	return "tight"
}

// tagless is the text of a piece of HTML, well enough to count its length.
func tagless(h template.HTML) string {
	var b strings.Builder
	in := false
	for _, r := range string(h) {
		switch {
		case r == '<':
			in = true
		case r == '>':
			in = false
		case !in:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Labels is a sheet of labels for secondary containers, the data of labels.html.
// Its look is labels.css. It prints on A4 and on letter paper, eight to a sheet.
type Labels struct {
	Shell         // Styles is labels.css
	Page  Link    // the page that it is made from, relative to the sheet
	Made  Date    // the day that it was made
	Items []Label // one for each label, in order; the same one may stand several times
}

// Label is one label. Where something is not known, the theme leaves a line to
// fill in by hand.
type Label struct {
	Lab       string        // the lab's name, and how to reach it where known
	Name      string        // what is in the container
	Strength  template.HTML // its strength or dilution; empty: a line
	Number    string        // number of the page that it is mixed by; empty: none
	Revision  string
	MadeOn    string        // empty: a line
	DiscardBy string        // empty: a line
	Life      template.HTML // how long it keeps, said beside the empty line, "18 months"; empty: not known
	Hazards   *Hazards      // nil: the label says that they are to be copied from the safety data sheet, with room for it
}

// Sheets are the labels by the sheets they stand on.
func (l Labels) Sheets() [][]Label {
	const each = 8
	var out [][]Label
	for rest := l.Items; len(rest) > 0; {
		n := min(each, len(rest))
		out = append(out, rest[:n])
		rest = rest[n:]
	}
	return out
}
