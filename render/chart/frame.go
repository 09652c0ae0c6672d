package chart

import "slices"

// Layout is one of the two forms of a drawing. Text shrinks with a drawing, so one form cannot suit both
// a phone and a desk: Figure writes both, and the style sheet shows the one that fits.
type Layout int

const (
	// Wide is for widths of 560 px and more.
	Wide Layout = iota
	// Narrow is for smaller widths, down to 300 px.
	Narrow
)

// frame holds the measures of a layout, in units of the drawing.
type frame struct {
	name   string
	width  float64
	text   float64 // size of all text
	plot   float64 // least height of the area between the axes
	beside float64 // greatest width of labels at line ends
	every  float64 // distance between the marks on a line
}

var frames = [...]frame{
	Wide:   {name: "wide", width: 640, text: 14, plot: 300, beside: 160, every: 110},
	Narrow: {name: "narrow", width: 340, text: 13, plot: 230, beside: 76, every: 70},
}

// line is the height of a line of text.
func (f frame) line() float64 { return f.text * 1.3 }

// label is one line of text at its place.
type label struct {
	class, anchor string
	at            spot // on the base line
	words         string
	box           box
	grouped       bool // it is written within a group, and not with the other labels
}

// drawing is a chart in one layout while it is being made.
type drawing struct {
	Chart
	frame
	x, y   extent
	plot   box
	height float64
	across []tick
	up     []tick
	side   []*sideLabel
	below  float64 // where the next thing under the plot may begin

	back, front markup // what lies under the lines, and the lines with what lies over them
	own         markup
	labels      []label
	obstacles
	unplaced bool // there is no place for the label of the page's own value
}

// bold lists the classes of text that the style sheet sets in bold, which need more room.
var bold = []string{"chart-own-value", "chart-number"}

// write writes a line of text with its base line at a spot.
func (d *drawing) write(class, anchor, words string, at spot) *label {
	w := d.wide(class, words)
	left := at.x
	switch anchor {
	case "middle":
		left -= w / 2
	case "end":
		left -= w
	}
	l := label{class: class, anchor: anchor, at: at, words: words}
	l.box = box{left, at.y - 0.8*d.text, left + w, at.y + 0.25*d.text}
	d.labels = append(d.labels, l)
	d.texts = append(d.texts, l.box)
	return &d.labels[len(d.labels)-1]
}

func (d *drawing) wide(class, words string) float64 {
	w := textWidth(words, d.frame.text)
	if slices.Contains(bold, class) {
		w *= 1.1
	}
	return w
}

// px and py place values.
func (d *drawing) px(v float64) float64 {
	return d.plot.left + (v-d.x.low)/(d.x.high-d.x.low)*(d.plot.right-d.plot.left)
}

func (d *drawing) py(v float64) float64 {
	return d.plot.bottom - (v-d.y.low)/(d.y.high-d.y.low)*(d.plot.bottom-d.plot.top)
}

func (d *drawing) place(p Point) spot { return spot{d.px(p.X), d.py(p.Y)} }
