package theme

import (
	"html/template"
	"math"
	"slices"
	"strings"
)

// Card is a bench card, the data of card.html: one sheet to work from, black on white, in a sleeve.
// Its look is card.css. It has the same guard as a page: no safety message may be left out or stand
// below the first number.
//
// One file serves all sizes: without an anchor it is A5; CARD.html#A6 and CARD.html#Half-letter are
// the others. The printer is told the size.
type Card struct {
	Shell             // Styles is card.css; Canonical is the page's own address, not the card's
	Page   Link       // the page that it is made from, relative to the card
	Short  string     // the page's address as it is typed by hand, "brindleweir.example/mixing/one-shot.html"; empty: none
	Code   *PaperCode // nil: none
	Status string     // "draft": the card says so; else empty
	Staff  bool       // for staff only

	Hazards  *Hazards  // nil: the page names no substance
	Cautions []Caution // all of the page's, the gravest first
	Given    Given     // the card shows only what a reader may set
	Figures  Figures   // with the limits that hold, or the refusal
	Steps    *Steps    // nil: the page has none
	Notice   template.HTML
}

// PaperCode is the code that leads from paper back to its page, the data of paper-code.html.
type PaperCode struct {
	Tested template.HTML // SVG of a QR code with the page's address, number and revision
	// Follows says that a reader can set values: once they differ from the page's own, code.js
	// draws a code with them in its address. Address is the address of the page, and Paper the
	// number and revision as a code has them.
	Follows bool
	Address string
	Paper   string
}

// Full says how full the card is, "roomy", "even", "close", "tight" or "tight least": the fuller it is,
// the smaller card.css sets its type, so that it fits the front of its sheet. It is an estimate in
// lines of type and cuts nothing off: what does not fit goes on to a second sheet.
func (c Card) Full() string {
	// The sizes are those of card.css, in points.
	for _, way := range []struct {
		name    string
		size    float64
		columns bool // cautions and steps stand in two columns
	}{{"roomy", 14, false}, {"even", 11.5, false}, {"close", 10, false}, {"tight", 8.5, true}} {
		const point, wide, high = .3528, 132, 194 // in mm; wide and high are those of A5 within its margins
		line := 1.35 * way.size * point
		across := wide / (.52 * way.size * point) // characters
		if c.lines(across, way.columns)*line <= .9*high {
			return way.name
		}
	}
	return "tight least"
}

// lines estimates the height of the card's front without its foot, in lines of type that hold so many
// characters. Two columns of short texts take two thirds of the height of one.
func (c Card) lines(across float64, columns bool) float64 {
	m := cardMeasure{across, 1}
	em := across * .52                      // width of the sheet
	sum := 2.6 + 1.6*m.text(len(c.Title)*2) // beside the code
	if c.Hazards == nil {
		sum += .6 + .8*m.text(len(tagless(c.Notice))*4/5)
	} else {
		sum += m.hazards(c.Hazards)
	}
	if columns {
		m.share = .66
	}
	for _, k := range c.Cautions {
		sum += m.share * m.caution(k.Text)
	}
	if n := len(c.Given.Settable()); n > 0 {
		sum += 1.5 + 1.35*math.Ceil(float64(n)/max(1, math.Floor((em+1.2)/14.2)))
	}
	for _, l := range c.Figures.Limits {
		sum += .9 + m.text(len(tagless(l.Text))+8)
	}
	if n := len(c.Figures.Rows); n > 0 {
		sum += 1.5 + 3.6*math.Ceil(float64(n)/max(1, math.Floor((em+.4)/8.9)))
	}
	if c.Steps != nil {
		sum = sum + 1.5 + m.share*m.steps(c)
	}
	return sum
}

// cardMeasure estimates the height of a card's parts, in lines.
type cardMeasure struct {
	across float64 // letters on a line
	share  float64 // of the height of one column that a part takes, less than 1 if it is in two
}

func (m cardMeasure) text(letters int) float64 { return math.Ceil(float64(letters) / m.across) }

func (m cardMeasure) caution(h template.HTML) float64 { return 2.1 + .9*m.text(len(tagless(h))) }

func (m cardMeasure) hazards(h *Hazards) float64 {
	n := len(h.AcidIntoWater) + 30
	for _, s := range h.Statements {
		n += len(s.Text) + 1
	}
	for _, x := range h.Meet {
		n += len(x.One) + len(x.Other) + 20
	}
	return 4 + .85*m.text(n*9/10)
}

func (m cardMeasure) steps(c Card) (sum float64) {
	for i, s := range c.Steps.Rows {
		sum += 1.6
		n := len(tagless(s.Aim)) + len(s.Hold) + len(tagless(s.Note))
		if s.Agitate != nil {
			n += len(tagless(s.Agitate.Text)) + 45 + 6*len(s.Agitate.Moments)
		}
		if s.PourAt != nil {
			n += 20
		}
		sum += .9 * m.text(n)
		switch {
		case s.Caution == "":
		case c.Above(s) != nil:
			sum += 1.2
		default:
			sum += m.caution(s.Caution)
		}
		if c.Steps.DarkUntil(i) > 0 {
			sum += 1.4
		}
		if c.Steps.LightAfter(i) {
			sum += 1.4
		}
	}
	return sum
}

// Above is the safety message at the top of the card that a step's own message repeats; nil if the step
// has none, or one that stands nowhere else. The built-in theme then only refers to it in the step, so
// that the card has room for its numbers.
func (c Card) Above(s Step) *Caution {
	for i, k := range c.Cautions {
		if k.Text != "" && strings.Contains(string(s.Caution), string(k.Text)) {
			return &c.Cautions[i]
		}
	}
	return nil
}

// LongBack reports whether the back of the card has so much text that its type must be smaller.
func (c Card) LongBack() bool {
	h := c.Hazards
	if h == nil {
		return false
	}
	const across, lines = 100, 52 // characters and lines of A5 in the larger type
	n := 0
	add := func(texts ...string) {
		for _, t := range texts {
			n += 1 + len(t)/across
		}
	}
	for _, w := range h.Wear {
		add(w.Short() + w.What)
	}
	for _, g := range h.Precautions {
		n += 2
		long := 0
		for _, s := range g.Statements {
			long += len(s.Text) + len(s.Code) + 2
		}
		n += 1 + long/across
	}
	for _, list := range [][]Clash{h.Order, h.Meet, h.KeepApart} {
		for _, a := range list {
			add(a.One + a.Other + a.Happens + a.Do + strings.Join(a.Gases, ", "))
		}
	}
	for _, w := range h.Waste {
		add(w.Name + w.Rule)
	}
	add(h.WasteApart, strings.Join(slices.Concat(h.Unknown, h.Bounds), " "), tagless(h.Notice))
	return n+8 > lines
}

// tagless is the text of a piece of HTML, good enough to measure its length.
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
	Items []Label // one for each label, in order; the same one may stand several times
	// Refused says that the page refuses its own values.
	Refused bool
}

// Label is one label. The theme leaves a line to fill in by hand for anything that is not known.
// labels.js writes the values that a reader has set.
type Label struct {
	Lab      string        // the lab's name
	Name     string        // what is in the container
	Strength template.HTML // its strength or dilution; empty: a line
	Number   string        // number of the page that it is mixed by; empty: none
	Revision string
	Code     *PaperCode // nil: none
	Hazards  *Hazards   // nil: the label says to copy them from the safety data sheet, with room for that
}

// Sheets are the labels by the sheets they are on.
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
